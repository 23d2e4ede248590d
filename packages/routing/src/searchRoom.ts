import type { PatternName, Room, System } from "@oxturn/floor";
import { type Path, type Region, regionArea } from "@oxturn/geometry";
import {
	type Attempt,
	EVEN,
	isClean,
	isExcellent,
	isFair,
	isGood,
	isHopeless,
	isUneven,
	judgeAttempt,
} from "./attempt.ts";
import { mapFloor, shortfall } from "./field/coverage.ts";
import type { Onward, RoomSetting } from "./roomSetting.ts";
import { type RoutedLoop, type RoutedZones, routeZones } from "./routeZones.ts";
import { runsAlong } from "./runsAlong.ts";
import { MOST_PLANS, type SearchStep, searchOrder } from "./searchOrder.ts";
import { serveOnce } from "./serveOnce.ts";
import { sum } from "./sum.ts";
import { wallWays } from "./tails/alongWall.ts";
import type { Entrance } from "./tails/apron.ts";
import type { Bundle } from "./tails/bundles.ts";
import type { ClearanceRules } from "./tails/clearance.ts";
import { tailPitch } from "./tails/pitch.ts";
import { tailGap } from "./zoneFloor.ts";
import { wallPlaces } from "./zones/entries.ts";
import { easySpacing, evenShares } from "./zones/evenShares.ts";
import { zonePlans } from "./zones/plans.ts";
import { shiftCuts } from "./zones/shiftCuts.ts";
import type { ZonePlan } from "./zones/zonePlan.ts";
import { tracksOf, wallSetting } from "./zoneTails.ts";

export interface RouteRoomOptions {
	readonly room: Room;
	/** Room less keep-outs: the piece that its entrance leads into. */
	readonly floor: Region;
	/** The same between its walls, passing tails or not. */
	readonly walls: Region;
	readonly entrance: Entrance;
	readonly rules: ClearanceRules;
	/** Pipes that are there already. */
	readonly others: readonly Path[];
	/** Loops to lay; as many as are needed when it is left out. */
	readonly count?: number;
	/** Factors by which the spacing may open to stay within the loop length, before another loop is taken. */
	readonly stretches: readonly number[];
	readonly system: System;
	readonly pattern: PatternName;
	/** Where its one loop goes on to. */
	readonly onward?: Onward | undefined;
	/** How many rules a set of loops breaks. */
	readonly faults: (loops: readonly RoutedLoop[]) => number;
	/** Called between attempts; throws to stop. */
	readonly pulse: () => void;
	/** Whether time is up and the best so far will do. */
	readonly expired: () => boolean;
}

export interface RoutedRoom {
	readonly loops: readonly RoutedLoop[];
	readonly bundles: readonly Bundle[];
	/** Centre to centre as laid, mm. */
	readonly spacing: number;
	/** Whether that is wider than wanted so that the pipe can return beside its runs. */
	readonly isForReturns: boolean;
	/** Zones that no loop could be laid to. */
	readonly missing: number;
	/** Loops over the limit. */
	readonly tooLong: number;
	/** Share of the floor that stays farther than one spacing from a pipe. */
	readonly cold: number;
	/** Rules that the loops break. */
	readonly broken: number;
}

/** The spacing may open this far to stay within the loop length, before another loop is taken. */
export const STRETCHES: readonly number[] = [1.04, 1.08];
/** Corners and cusps aside, no more of a room's floor should lie farther than one spacing from a pipe. */
export const COLD_ROOM = 0.03;
/** A wider spacing has to bring cold floor down to this share of what it was. */
const WORTH_WIDENING = 0.7;
/** Rounded turns save pipe: a room takes at least this share of area / spacing. */
const LEAST_DENSITY = 0.93;
const BALANCING_ROUNDS = 3;
/** The same where nothing else is wrong with the loops. */
const MOST_ROUNDS = 5;
const EXTRA_LOOPS = 2;
/**
 * On floors where nothing fits, the search ends with the best attempt when so many zones have been served, or so many a
 * loop where that is more.
 */
const MAX_ZONES = 150;
const MAX_ZONES_A_LOOP = 15;
/** The same where there is another way. */
const BRIEF_ZONES = 30;
/** Zones that count as served at one attempt, a loop. */
const MOST_COUNTED = 2;
/** For more loops than area and spacing ask for, where as many are just too long, so many more may be. */
const MORE_ZONES = 75;
/** Where the likeliest plans give a layout that is not excellent, others are tried until so many zones have been served. */
const FEW_ZONES = 50;
/** A layout that keeps every rule has won when so many attempts after it have not been better. */
const PATIENCE = 8;
/** Cells of the map that attempts are compared on, per spacing. */
const MAP_DETAIL = 3.5;

/** A plan with the best that came of it. */
interface Tried {
	readonly plan: ZonePlan;
	readonly attempt: Attempt;
}

/** From the shares of an attempt part of the way to those that should make its loops even. */
interface Step {
	readonly from: readonly number[];
	readonly to: readonly number[];
	/** Share of the way. */
	readonly length: number;
}

const sharesAfter = ({ from, to, length }: Step): number[] => from.map((share, i) => share + length * (to[i]! - share));

/** Shares for loops more even than those that have been laid; every zone has one. */
function evenOut(shares: readonly number[], routed: RoutedZones, longest: number): number[] {
	const lengths = routed.loops.map((loop) => loop!.length);
	const field = sum(lengths) - routed.tails / 1000;
	return shiftCuts(shares, lengths, field, longest);
}

/** Loops that area and spacing ask for. */
export const loopsAt = ({ floor, system, entrance }: RouteRoomOptions, spacing: number): number =>
	regionArea(floor) / spacing / (1000 * system.maxLoopLength - entrance.spent);

/** A room at one spacing, mm, or at what `stretches` make of it; briefly, where there is another way if that fails. */
export function searchRoom(options: RouteRoomOptions, spacing: number, isBrief = false): RoutedRoom {
	const { room, floor, system } = options;
	const longest = system.maxLoopLength - options.entrance.spent / 1000;
	const wanted = loopsAt(options, spacing);
	const least = options.count ?? Math.max(1, Math.ceil(LEAST_DENSITY * wanted - 1e-9));
	const enough = options.count ?? Math.max(1, Math.ceil(wanted - 1e-9));
	const most = options.count ?? enough + (isBrief ? 0 : EXTRA_LOOPS);
	const map = mapFloor([floor], room.spacing / MAP_DETAIL);
	const tracks = tracksOf(options);
	const ways = wallWays(wallSetting(options));
	const wall = wallPlaces(floor, options.entrance.at);
	let limit = isBrief ? BRIEF_ZONES : Math.max(MAX_ZONES, MAX_ZONES_A_LOOP * enough);
	let zonesServed = 0;
	const serve = serveOnce(() => zonesServed++);
	let best: Attempt | undefined;
	let attempts = 0;
	let bestSince = 0;
	const clean = (): boolean => best !== undefined && isClean(best);
	/**
	 * Whether the best will do, if nothing better comes: fewer loops than area and spacing ask for do only where they are
	 * good.
	 */
	const isSettled = (): boolean => clean() && (best!.loops.length >= enough || isGood(best!));
	/** Whether nothing better is to be hoped for with this number of loops. */
	const isTired = (): boolean => isSettled() && attempts - bestSince >= PATIENCE;
	const isLate = (): boolean => best !== undefined && best.tooLong === 0 && options.expired();
	const isOver = (): boolean => best !== undefined && (zonesServed >= limit || isLate());
	/** Whether floor stays cold, pipes of others that pass considered. */
	const isCold = ({ cold, loops }: Attempt): boolean => {
		if (cold <= COLD_ROOM) return false;
		const own = loops.flatMap((loop) => (loop ? [loop.path] : []));
		return shortfall(map, [...own, ...options.others], room.spacing).beyond100 > COLD_ROOM;
	};
	const finished = (): boolean => {
		options.pulse();
		return isOver() || isTired();
	};
	const planning = { floor, wall, spacing, longest: longest * 1000 };
	const pitches = { tailPitch: tailPitch(system), tailGap: tailGap({ system, spacing }) };
	const tryShares = (plan: ZonePlan, start: readonly number[], laidAt: number): Attempt | "too long" | undefined => {
		const setting: RoomSetting = { ...options, tracks, wallWays: ways, wall, spacing: laidAt };
		const { length: count } = start;
		const runs = runsAlong(setting, easySpacing(plan, { ...planning, ...pitches, count }));
		let step: Step = { from: start, to: start, length: 1 };
		let found: Attempt | undefined;
		const rounds = (): number => (count === 1 ? 1 : found && isUneven(found) ? MOST_ROUNDS : BALANCING_ROUNDS);
		for (let round = 0; round < rounds() && !finished(); round++) {
			attempts++;
			const shares = sharesAfter(step);
			const cells = plan(shares, runs);
			const servedBefore = zonesServed;
			const routed =
				cells &&
				routeZones(setting, cells, serve, {
					mostMissing: best?.missing ?? Infinity,
					// The spacing may open for as many loops as area and spacing ask for, so those are worth a closer look.
					mostPipe: count < enough ? count * longest * 1000 : Infinity,
				});
			// Where tails find no way, zones are served again by tails that are laid otherwise.
			zonesServed = Math.min(zonesServed, servedBefore + MOST_COUNTED * count);
			if (routed === "too long" && !found) return routed;
			if (!routed || routed === "too long") break;
			const attempt = judgeAttempt(setting, routed, map, options.faults);
			const isBetter = !found || attempt.cost < found.cost;
			if (isBetter) found = attempt;
			if (attempt.missing > 0 || isHopeless(attempt) || isExcellent(attempt)) break;
			if (attempt.tooLong === 0 && attempt.spread < EVEN) break;
			// What is clean already is not given up for what is worse: shorter steps are tried from there.
			if (!isBetter && isUneven(found!)) step = { ...step, length: step.length / 2 };
			else step = { from: shares, to: evenOut(shares, routed, longest), length: 1 };
		}
		if (found && (!best || found.cost < best.cost)) {
			best = found;
			bestSince = attempts;
		}
		return found;
	};
	/** With shares that should make even loops; where they do not, with equal ones. */
	const tryPlan = (plan: ZonePlan, count: number, laidAt: number): Attempt | "too long" | undefined => {
		const equal = Array.from({ length: count }, () => 1 / count);
		if (count === 1) return tryShares(plan, equal, laidAt);
		const even = tryShares(plan, evenShares(plan, { ...planning, ...pitches, count }), laidAt);
		if (even === "too long" || (even && (isHopeless(even) || isExcellent(even) || isFair(even)))) return even;
		const other = tryShares(plan, equal, laidAt);
		if (other === "too long") return even ?? other;
		return !even || (other && other.cost < even.cost) ? other : even;
	};
	/**
	 * Opens the spacing where loops are a little too long, or keep within the limit by leaving floor cold. That saves a
	 * loop that area and spacing do not ask for; it is never done to go below that number.
	 */
	const widen = (tried: readonly Tried[], count: number): void => {
		const tryWider = ({ plan }: Tried, isWanted: () => boolean): void => {
			for (const stretch of options.stretches) if (isWanted()) tryPlan(plan, count, spacing * stretch);
		};
		const [closest] = tried
			.filter(({ attempt }) => attempt.missing === 0 && attempt.tooLong > 0)
			.sort((a, b) => a.attempt.cost - b.attempt.cost);
		if (closest) tryWider(closest, () => !clean() && !finished());
		const asWanted = best;
		const likeliest = tried.find(({ attempt }) => attempt === asWanted);
		if (!asWanted || !likeliest || !clean()) return;
		// Attempts before these told nothing of what a wider spacing brings.
		bestSince = attempts;
		tryWider(likeliest, () => isCold(best!) && !isOver());
		if (best!.cold > WORTH_WIDENING * asWanted.cold) best = asWanted;
	};
	/** Whether a room that has been laid may well be laid better by other plans, and little has been tried. */
	const isWorthMore = (count: number): boolean =>
		clean() && count >= enough && !isExcellent(best!) && zonesServed < FEW_ZONES;
	/** True when it ends the search. */
	const tryCount = ({ count, first, last, onlyGood }: SearchStep): boolean => {
		const plans = zonePlans({ ...planning, count, onlyGood });
		const tried: Tried[] = [];
		for (const [i, plan] of plans.slice(first, MOST_PLANS).entries()) {
			if (finished() || (first + i >= last && !isWorthMore(count))) break;
			const attempt = tryPlan(plan, count, spacing);
			if (attempt === "too long") break;
			if (!attempt) continue;
			tried.push({ plan, attempt });
			if (isExcellent(attempt)) break;
			// Likelier plans come first, and those that are too long on average last.
			if (isHopeless(attempt) && !clean()) break;
		}
		if (count >= enough) widen(tried, count);
		return isLate() || isSettled();
	};
	for (const step of searchOrder({ least, enough, most })) {
		const { count, first } = step;
		if (clean() && count > enough) continue;
		// What is hard for few loops may be easy for one more, so each number gets its chance.
		if (first === 0) bestSince = attempts;
		if (count > enough && first === 0 && best?.missing === 0) limit = Math.max(limit, zonesServed + MORE_ZONES);
		if (tryCount(step)) break;
	}
	return routedRoom(room, best);
}

function routedRoom(room: Room, best: Attempt | undefined): RoutedRoom {
	return {
		loops: (best?.loops ?? []).filter((loop) => loop !== undefined),
		bundles: best?.bundles ?? [],
		spacing: best?.spacing ?? room.spacing,
		isForReturns: false,
		missing: best?.missing ?? 1,
		tooLong: best?.tooLong ?? 0,
		cold: best?.cold ?? 1,
		broken: best?.broken ?? 0,
	};
}
