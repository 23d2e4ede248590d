import { type FloorMap, shortfall } from "../field/coverage.ts";
import { quarterTurns } from "../field/quarterTurns.ts";
import { sum } from "../sum.ts";
import type { RoomSetting } from "./roomSetting.ts";
import type { RoutedLoop, RoutedZones } from "./routeZones.ts";

/** Corners and cusps aside, no more of a room's floor should lie farther than one spacing from a pipe. */
export const COLD_ROOM = 0.03;
/** Loops whose lengths differ by less than this share of their mean are even enough. */
export const EVEN = 0.08;
/** The same for a layout that is excellent otherwise. */
const EVEN_ENOUGH = 0.1;
/** What it costs to be a little more uneven than that, per cent of floor. */
const UNEVEN = 2;
/** The same from a plain difference on. */
const PLAINLY_UNEVEN = 5;
const PLAIN = 0.125;
/** A plan whose loops are no more uneven than this, and good otherwise, is not begun again with other shares. */
const RATHER_EVEN = 0.15;
/** Where they differ by more than this, other ways of cutting the room are likelier to make them even. */
const VERY_UNEVEN = 0.25;
/** What a metre of tail costs, per cent of floor. */
const PER_TAIL_METRE = 0.05;
/** The same of a quarter turn, of a loop on average: as much as in the choice of a field. */
const PER_TURN = 0.08;
/** A layout this good, tails and turns aside, needs no rival; between zones a little floor is always left over. */
const EXCELLENT = 3.5;
const PER_ZONE = 0.2;
/** With fewer loops than area and spacing ask for, only a layout this good ends the search, turns aside. */
const GOOD = 6;

/** One way of cutting a room and laying its loops, as it was judged. */
export interface Attempt extends RoutedZones {
	/** The lower the better, per cent of floor. */
	readonly cost: number;
	/** Centre to centre as laid, mm. */
	readonly spacing: number;
	/** Zones without a loop, and loops over the limit. */
	readonly missing: number;
	readonly tooLong: number;
	/** Pipe that the loop of each zone needs for floor of other rooms on its way, m. */
	readonly elsewhere: readonly number[];
	/** Mean length of the loops as a share of the limit. */
	readonly mean: number;
	/** From the shortest loop to the longest, with what they heat on their way, as a share of their mean. */
	readonly spread: number;
	/** Quarter turns of a loop, on average. */
	readonly turns: number;
	/** Rules that the loops break. */
	readonly broken: number;
	/** Share of the floor that stays farther than one spacing from a pipe. */
	readonly cold: number;
}

/** A loop that breaks a rule is left out in the end: it is hardly worse than none. */
const MISSING = 1e4;
const BROKEN = 1.1 * MISSING;

/** What it costs that loops are not even enough, per cent of floor. */
function unevenness(spread: number): number {
	if (spread <= EVEN_ENOUGH) return 0;
	const part = Math.min(1, (spread - EVEN_ENOUGH) / (PLAIN - EVEN_ENOUGH));
	return UNEVEN + part * (PLAINLY_UNEVEN - UNEVEN);
}

/** From the shortest to the longest of some lengths, as a share of their mean. */
const spreadOf = (lengths: readonly number[]): number =>
	lengths.length > 1 ? ((Math.max(...lengths) - Math.min(...lengths)) * lengths.length) / sum(lengths) : 0;

/**
 * What makes one attempt better than another, in per cent of floor: a broken rule, a zone without pipe or a loop over the
 * limit outweighs everything, then cold floor, then uneven lengths, tails, turns and wider spacing. `faults` tells how
 * many rules a set of loops breaks.
 */
export function judgeAttempt(
	setting: RoomSetting,
	routed: RoutedZones,
	map: FloorMap,
	faults: (loops: readonly RoutedLoop[]) => number,
): Attempt {
	const loops = routed.loops.filter((loop) => loop !== undefined);
	const longest = setting.system.maxLoopLength - setting.entrance.spent / 1000;
	const lengths = loops.map((loop) => loop.length);
	const mean = sum(lengths) / Math.max(1, lengths.length);
	const pairs = setting.entrance.pairs(routed.loops.length);
	const elsewhere = routed.loops.map(
		(loop) => (pairs.find(({ number }) => number === loop?.port)?.elsewhere ?? 0) / 1000,
	);
	const spread = spreadOf(routed.loops.flatMap((loop, i) => (loop ? [loop.length + elsewhere[i]!] : [])));
	const missing = routed.loops.length - loops.length;
	const over = sum(lengths.map((length) => Math.max(0, length / longest - 1)));
	const tooLong = lengths.filter((length) => length > longest).length;
	const { beyond055, beyond100 } = shortfall(
		map,
		loops.map((loop) => loop.path),
		setting.room.spacing,
	);
	const broken = faults(loops);
	const turns = sum(loops.map(({ path }) => quarterTurns(path))) / Math.max(1, loops.length);
	const cost =
		broken * BROKEN +
		missing * MISSING +
		tooLong * 1e3 +
		over * 1e3 +
		100 * (beyond055 + 5 * beyond100) +
		20 * Math.max(0, spread - EVEN) +
		unevenness(spread) +
		(routed.tails / 1000) * PER_TAIL_METRE +
		PER_TURN * turns +
		20 * (setting.spacing / setting.room.spacing - 1);
	const { lacking, tails, bundles } = routed;
	return {
		loops: routed.loops,
		lacking,
		tails,
		bundles,
		cost,
		spacing: setting.spacing,
		missing,
		tooLong,
		elsewhere,
		mean: mean / setting.system.maxLoopLength,
		spread,
		turns,
		broken,
		cold: beyond100,
	};
}

/**
 * Lengths by which the zones of an attempt are to be made even, m; a zone without a loop counts as the others on average.
 * Loops that keep within the limit at the cost of floor that stays cold count as long as they would be otherwise: they look
 * more even than their zones are. What a loop heats on its way counts as well.
 */
export function lengthsToEven({ loops, lacking, elsewhere, cold, missing }: Attempt): number[] {
	const mean = sum(loops.map((loop) => loop?.length ?? 0)) / Math.max(1, loops.length - missing);
	return loops.map(
		(loop, i) => (loop?.length ?? mean) + elsewhere[i]! + (cold > COLD_ROOM && missing === 0 ? lacking[i]! : 0),
	);
}

/** Whether no zone is to give floor to another. */
export const isEven = (attempt: Attempt): boolean => attempt.missing === 0 && spreadOf(lengthsToEven(attempt)) < EVEN;

export const isClean = ({ broken, missing, tooLong }: Attempt): boolean => broken + missing + tooLong === 0;

/** What an attempt costs, its tails and turns aside. */
const lackOf = ({ cost, tails, turns }: Attempt): number => cost - PER_TAIL_METRE * (tails / 1000) - PER_TURN * turns;

/** The lack below which an attempt is excellent. */
const excellence = ({ loops }: Attempt): number => EXCELLENT + PER_ZONE * (loops.length - 1);

/** Zones that turn more often than this, quarter turns a metre, have short runs: another cut may well give them longer ones. */
const SHORT_RUNS = 0.7;

export function hasShortRuns({ loops, turns }: Attempt): boolean {
	const pipe = sum(loops.map((loop) => loop?.length ?? 0));
	return loops.length > 1 && turns * loops.length > SHORT_RUNS * pipe;
}

/** Whether nothing much can be better: all loops there, nearly even, with long runs, and hardly any floor out of their reach. */
export const isExcellent = (attempt: Attempt): boolean =>
	isClean(attempt) && attempt.spread < EVEN_ENOUGH && lackOf(attempt) < excellence(attempt) && !hasShortRuns(attempt);

/** Whether it will do with fewer loops than area and spacing ask for. */
export const isGood = ({ cost, turns }: Attempt): boolean => cost - PER_TURN * turns < GOOD;

/**
 * Whether other shares to begin with are not worth a try: nothing is wrong with its loops but that they are not quite
 * even.
 */
export const isFair = (attempt: Attempt): boolean =>
	isClean(attempt) &&
	(attempt.spread < EVEN || (attempt.spread < RATHER_EVEN && lackOf(attempt) < 2 * excellence(attempt)));

/** Whether nothing is wrong with its loops but that they are rather uneven. */
export const isUneven = (attempt: Attempt): boolean =>
	isClean(attempt) && attempt.spread > EVEN_ENOUGH && attempt.spread < VERY_UNEVEN;

/** Whether no other division makes its loops fit: they are too long on average, or as even as can be. */
export const isHopeless = ({ missing, tooLong, mean, spread }: Attempt): boolean =>
	missing === 0 && tooLong > 0 && (mean > 1 || spread < EVEN / 2);
