import { dot, type Point, scale, subtract } from "@oxturn/geometry";
import { beside, type Lane, rightOf } from "../tails/lanes.ts";
import { depthAhead } from "./depthAhead.ts";
import { lanesFrom, sideLanes } from "./exitLanes.ts";
import type { Families, Family } from "./families.ts";
import { fanOut } from "./fan.ts";
import { closestOnSlants, type Frame, IN_FRONT, type LayTurnsOptions, NO_SHIFT, outOfTheWay } from "./laying.ts";
import { isAhead, sideOf } from "./turns.ts";

/** Pipes that go straight on through a door may come this near to its jambs, mm. */
const NEAR_JAMB = 20;

/** The pipes that leave the wall they come in by: those of the ways straight ahead, from the first to before the second. */
export function spreadOf({ all }: Families): readonly [from: number, to: number] {
	const ahead = all.filter(({ way }) => isAhead(way));
	const last = ahead.at(-1);
	return last ? [ahead[0]!.from, last.from + last.count] : [0, 0];
}

/** A fan takes about this much more depth than it spreads, in bend radii. */
const EASES = 3;

/**
 * How far to the right of the first pipe that comes in a fan may reach, clear of the walls and of the tails that follow
 * them, mm.
 */
function betweenWalls(
	{ space, doorLanes }: LayTurnsOptions,
	{ all }: Families,
	{ entry, axis, nearest }: Frame,
): readonly [low: number, high: number] {
	const from = beside(entry, axis, IN_FRONT, 0);
	const free = (along: readonly Family[], across: Point): number => {
		const pipes = along.reduce((sum, { count }) => sum + count, 0);
		return depthAhead(space.region, from, across) - nearest - pipes * doorLanes.pitch;
	};
	const isSpread = ({ way }: Family): boolean => isAhead(way);
	const left = all.slice(0, all.findIndex(isSpread));
	const right = all.slice(all.findLastIndex(isSpread) + 1);
	return [-free(left, scale(rightOf(axis), -1)), free(right, rightOf(axis))];
}

/** The pipes that leave the wall they come in by. */
interface Group {
	/** Of all that come in, from the first to before the second. */
	readonly from: number;
	readonly to: number;
	/** To the right of the first pipe that comes in, mm. */
	readonly places: readonly number[];
}

/** How much wider a group lies at the tails' pitch, mm. */
const widening = ({ places }: Group, pitch: number): number =>
	(places.length - 1) * pitch - (places.at(-1)! - places[0]!);

/**
 * From the ports pipes have to be at their pitch before the apron ends: 1 where a group is too late for that if it spreads
 * to its right, -1 if to its left, 0 where neither matters more.
 */
function lateSide({ lanes, doorLanes, system, rules, passage }: LayTurnsOptions, group: Group, frame: Frame): number {
	const { pitch } = doorLanes;
	const spreading = widening(group, pitch) / 2 + EASES * system.pipe.minBendRadius;
	const isLate = (turning: number): boolean =>
		!passage && outOfTheWay(turning, frame, pitch) + spreading > rules.apronReach;
	return Number(isLate(lanes.length - group.to)) - Number(isLate(group.from));
}

/** Where a group lies at the tails' pitch: about its middle, or to one side of it. */
function evenPlaces(options: LayTurnsOptions, families: Families, frame: Frame, group: Group, late: number): number[] {
	const { from, to, places } = group;
	const { pitch } = options.doorLanes;
	const width = (places.length - 1) * pitch;
	// Own loops to one side keep their way straight on, and the group spreads to the other.
	const ownLeft = Number(families.own.some((own) => own.to === from && own.from < from));
	const ownRight = Number(families.own.some((own) => own.from === to && own.to > to));
	const aside = late === 0 ? ownLeft - ownRight : -late;
	const [low, high] = betweenWalls(options, families, frame);
	const evenly = (places[0]! + places.at(-1)! + aside * widening(group, pitch) - width) / 2;
	const first = Math.max(low, Math.min(evenly, high - width));
	return places.map((_, i) => first + i * pitch);
}

/** Lanes in the doorways that no wall leads to, and where the pipes lie for those that lie straight on; `even` is where they would otherwise. */
function throughDoors(
	{ doors, doorLanes, lanes }: LayTurnsOptions,
	middle: Family | undefined,
	{ entry, axis, nearest }: Frame,
	{ from, places }: Group,
	even: readonly number[],
	late: number,
): { targets: readonly number[]; exits: ReadonlyMap<number, Lane[]> } {
	const exits = new Map<number, Lane[]>();
	const lateral = (p: Point): number => dot(subtract(p, lanes[0]!.at), rightOf(axis));
	let targets = even;
	let before = (middle?.from ?? 0) - from;
	for (const door of middle?.doors ?? []) {
		const { passage: through, pipes } = doors[door]!;
		const side = sideOf(through, entry, axis);
		if (side) exits.set(door, sideLanes(through, side, pipes, { entry, axis, nearest }, doorLanes));
		else {
			const centred = (places[before]! + places[before + pipes - 1]! - (pipes - 1) * doorLanes.pitch) / 2;
			const start = (late === 0 ? centred : targets[before]!) - lateral(through.middle);
			const found = lanesFrom(through, pipes, start, { ...doorLanes, margin: NEAR_JAMB });
			const place = lateral(found[0]!.at);
			const first = before;
			targets = even.map((_, i) => place + (i - first) * doorLanes.pitch);
			exits.set(door, found);
		}
		before += pipes;
	}
	return { targets, exits };
}

/**
 * The families that leave the wall they come in by spread out to the tails' pitch, or shift to a door that lies
 * straight on. Gives their lanes and the lanes in the doorways that no wall leads to.
 */
export function spread(
	options: LayTurnsOptions,
	families: Families,
	frame: Frame,
): { lanes: readonly Lane[]; exits: ReadonlyMap<number, Lane[]> } {
	const { doorLanes, system, passage, manner } = options;
	const { pitch } = doorLanes;
	const [from, to] = spreadOf(families);
	const lanes = options.lanes.slice(from, to);
	if (lanes.length === 0) return { lanes, exits: new Map() };
	const places = lanes.map(({ at }) => dot(subtract(at, options.lanes[0]!.at), rightOf(frame.axis)));
	const group: Group = { from, to, places };
	const late = lateSide(options, group, frame);
	const even = evenPlaces(options, families, frame, group, late);
	const middle = families.all.find(({ way }) => way === "direct");
	const { targets, exits } = throughDoors(options, middle, frame, group, even, late);
	const shifts = targets.map((target, i) => target - places[i]!);
	const turning = Math.max(
		shifts.some((shift) => shift < -NO_SHIFT) ? from : 0,
		shifts.some((shift) => shift > NO_SHIFT) ? options.lanes.length - to : 0,
	);
	const closest = closestOnSlants(system);
	const fan = fanOut({
		lanes,
		shifts,
		from: outOfTheWay(turning, frame, pitch),
		apart: passage ? pitch : closest + manner.spreading * (pitch - closest),
		minBendRadius: system.pipe.minBendRadius,
		slant: manner.slant,
	});
	return { lanes: fan.lanes, exits };
}
