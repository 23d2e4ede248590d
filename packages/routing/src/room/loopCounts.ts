import type { System } from "@oxturn/floor";
import { type Region, regionArea } from "@oxturn/geometry";
import type { Entrance } from "../tails/apron.ts";
import { MANY_LOOPS } from "../zones/zonePlan.ts";

/** Rounded turns save pipe: a room takes at least this share of area / spacing. */
const LEAST_DENSITY = 0.93;
const EXTRA_LOOPS = 2;
/**
 * Loops that would be longer than this share of the limit on average, at a guess, do not fit: rounded turns save some
 * pipe, and so does a spacing that opens.
 */
const LONGEST_GUESS = 1.065;
/** Loops that would be no longer than this fit with ease. */
const EASY_GUESS = 1;

/** Numbers of loops that a room may take. */
export interface LoopCounts {
	/** As few as rounded turns may make do. */
	readonly least: number;
	/** As many as area and spacing ask for, and the tails of many loops. */
	readonly enough: number;
	readonly most: number;
}

interface FloorAtEntrance {
	readonly floor: Region;
	readonly system: System;
	readonly entrance: Entrance;
}

/** Loops that area and spacing ask for. */
export const loopsAt = ({ floor, system, entrance }: FloorAtEntrance, spacing: number): number =>
	regionArea(floor) / spacing / (1000 * system.maxLoopLength - entrance.spent);

/** Fewer loops than this, since rounded turns save pipe, are never enough. */
export const leastLoops = (room: FloorAtEntrance, spacing: number): number =>
	Math.max(1, Math.ceil(LEAST_DENSITY * loopsAt(room, spacing) - 1e-9));

interface CountOptions extends FloorAtEntrance {
	/** Loops to lay, where that is settled. */
	readonly count?: number;
	/** Loops that the manifold takes. */
	readonly places?: number;
}

/**
 * How many loops a room may take at a spacing, mm. `guess` tells how long so many would be on average, tails and all, as a
 * share of the limit.
 */
export function loopCounts(
	room: CountOptions,
	spacing: number,
	isBrief: boolean,
	guess: (count: number) => number,
): LoopCounts {
	const { count, places = Infinity } = room;
	if (count !== undefined) return { least: count, enough: count, most: count };
	const within = (loops: number): number => Math.min(places, loops);
	const byArea = Math.max(1, Math.ceil(loopsAt(room, spacing) - 1e-9));
	const extra = isBrief ? 0 : EXTRA_LOOPS;
	const least = leastLoops(room, spacing);
	if (byArea < MANY_LOOPS) return { least: within(least), enough: within(byArea), most: within(byArea + extra) };
	/** The first number from one on whose loops are short enough at a guess, or as many as there may be. */
	const firstFrom = (from: number, longest: number): number => {
		const last = Math.min(places, 2 * byArea);
		let loops = from;
		while (loops < last && guess(loops) > longest) loops++;
		return within(loops);
	};
	const fitting = firstFrom(least, LONGEST_GUESS);
	const enough = Math.max(within(byArea), fitting);
	const most = Math.max(within(enough + extra), firstFrom(enough, EASY_GUESS));
	return { least: fitting, enough, most };
}
