import { pointBetween } from "@oxturn/geometry";
import { sum } from "../sum.ts";
import { beside, type Lane } from "../tails/lanes.ts";
import { type BestTurns, bestTurns } from "./bestTurns.ts";
import { type LayWaysOptions, type PipeSoFar, type WayVariant, wayVariants } from "./laidWays.ts";
import type { Manner } from "./laying.ts";
import { type LaidTurns, layTurns } from "./layTurns.ts";
import { type Branch, loopsBeyond } from "./tree.ts";
import { turnsOf } from "./turnOrders.ts";
import type { Door, Turns } from "./turns.ts";

/*
 * In which order the tails of one branch turn off to the doors of its space.
 */

/** The price of cutting what had best stay whole, m of pipe. */
const SPLIT_WHOLE_PRICE = 1000;

const keyOfDoor = ({ passage, pipes }: Door): string => `${passage.doorway.id} ${passage.from} ${pipes}`;

/** A branch whose tails are to be led through its space. */
export interface Crossing {
	readonly branch: Branch;
	/** All of its pipes, from left to right, and their lanes as they come in. */
	readonly pipes: readonly PipeSoFar[];
	readonly lanes: readonly Lane[];
	readonly doors: readonly Door[];
	/** Doors whose tails come in by the far jamb. */
	readonly farDoors: readonly number[];
	readonly variant: WayVariant;
	readonly splitPrice: number;
	readonly options: LayWaysOptions;
}

const variantOf = ({ variants }: LayWaysOptions, space: number): WayVariant => wayVariants[variants.get(space) ?? 0]!;

export function crossingOf(branch: Branch, pipes: readonly PipeSoFar[], options: LayWaysOptions): Crossing {
	const loops = options.loops.map(sum);
	const { room } = options.spaces[branch.space]!;
	const cut = room.heated ? options.over.splitPrice : 0;
	return {
		branch,
		pipes,
		lanes: pipes.map(({ lane }) => lane),
		doors: branch.children.map((child) => ({ passage: child.passage!, pipes: 2 * loopsBeyond(child, loops) })),
		farDoors: branch.children.flatMap(({ space }, door) => (variantOf(options, space).isFarJamb ? [door] : [])),
		variant: variantOf(options, branch.space),
		splitPrice: options.whole.has(branch.space) ? SPLIT_WHOLE_PRICE : cut,
		options,
	};
}

/** Lays the tails of a branch for one order of turns. */
export function layOrder(
	{ branch, lanes, doors, options }: Crossing,
	turns: Turns,
	manner: Manner,
	{ farDoors, mostFailed, isTight }: { farDoors: readonly number[]; mostFailed: number; isTight: boolean },
): LaidTurns {
	return layTurns({
		space: options.spaces[branch.space]!,
		passage: branch.passage,
		manifoldDepth: options.manifoldDepth,
		doors,
		turns,
		lanes,
		own: options.loops[branch.space]!,
		manner,
		farJambs: new Set(farDoors),
		isTight,
		mayFanDeep: options.over.hasShortCuts,
		mostFailed,
		doorLanes: options.doorLanes,
		system: options.system,
		rules: options.rules,
	});
}

/** Orders of turns that a branch's tails may take, the likeliest first. */
function ordersFor({ branch, lanes, doors, splitPrice, options }: Crossing): Turns[] {
	const first = lanes[0]!;
	const middle = pointBetween(first.at, lanes.at(-1)!.at, 0.5);
	return turnsOf({
		space: options.spaces[branch.space]!.region,
		at: branch.passage ? beside(middle, first.axis, branch.passage.halfDepth, 0) : middle,
		axis: first.axis,
		doors,
		mayGoOver: options.over.isAllowed,
		mayCut: options.over.hasShortCuts,
		splitPrice,
	});
}

/** The best order of turns, or the one that was found before for the same tails. */
export function bestOrder(crossing: Crossing): BestTurns {
	const { branch, lanes, doors, farDoors, variant, splitPrice, options } = crossing;
	const isTight = variant.closeUp === "anew";
	const key = JSON.stringify([
		branch.space,
		lanes,
		doors.map(keyOfDoor),
		options.loops[branch.space],
		farDoors,
		variant.skips,
		isTight,
		options.over.isAllowed,
		options.over.hasShortCuts,
		splitPrice,
	]);
	const keyHere = options.allOrNone ? `${key} all or none` : key;
	const known = options.laidBefore.get(key) ?? options.laidBefore.get(keyHere);
	if (known) return known;
	const most = options.allOrNone ? 0 : Infinity;
	const best = bestTurns(ordersFor(crossing), variant.skips, !branch.passage, (turns, manner, mostFailed) =>
		layOrder(crossing, turns, manner, { farDoors, mostFailed: Math.min(most, mostFailed), isTight }),
	);
	options.laidBefore.set(keyHere, best);
	return best;
}
