import { type Path, regionArea } from "@oxturn/geometry";
import { sum } from "../sum.ts";
import { type GivenAway, givenAway, type Piece, piecesIn } from "./givenAway.ts";
import { heatPiece } from "./heatPiece.ts";
import type { LaidSpace, OwnLoops } from "./laidWays.ts";
import { coldArea } from "./ownFloor.ts";
import type { RoutedPlan, RoutedWays, RouteWaysOptions } from "./routedWays.ts";
import { coldPieces, type RoutedSpace } from "./routeSpace.ts";
import { governedByOthers, isHall, MOST_GOVERNED, needsNoValve } from "./valves.ts";

/*
 * Tails that go across a hall cut it in pieces, and each would take a loop. A small piece is rather heated by the loop
 * of a room that comes by: it makes a few runs there on its way.
 */

/** How often pieces are given away anew, without one that no loop could be led to. */
const MOST_ROUNDS = 3;
/** A loop less is worth no more than this, m of pipe: halls need not be looked at in a plan that lags behind by more. */
const WORTH_A_LOOP = 40;
/** A room may be left colder by this share of its floor, or as cold as this in all: so may those that share a loop. */
const COLDER = 0.01;
const COLD = 0.05;
/** Or laid wider than asked for by this share: a loop less is worth that. */
const WIDER = 0.05;

/** The loops of some spaces without those of the pieces that are given away. */
function loopsWithout(given: readonly Piece[], of: ReadonlySet<number>, plan: RoutedPlan): Map<number, OwnLoops> {
	const own = new Map<number, OwnLoops>();
	for (const { space, slots } of plan.laid.spaces) {
		if (!of.has(space)) continue;
		const pieces = given.filter((piece) => piece.space === space);
		own.set(
			space,
			slots.map(({ pipes }, slot) => (pieces.some((piece) => piece.slot === slot) ? 0 : pipes.length / 2)),
		);
	}
	return own;
}

/** Where a piece stays cold, as far as that is known. */
interface Refused {
	readonly space: number;
	readonly slot: number | undefined;
}

/** Heats all that stays cold without the loops of given pieces by loops that come by; or the piece for which there is none. */
function heatPieces(plan: RoutedPlan, given: readonly Piece[], options: RouteWaysOptions): RoutedSpace[] | Refused {
	let { spaces } = plan;
	for (const laid of plan.laid.spaces) {
		const { space } = laid;
		if (!given.some((piece) => piece.space === space)) continue;
		for (const [slot, piece] of coldPieces(plan.context, laid)) {
			const heated = heatPiece(space, piece, { ...plan, spaces, options });
			if (!heated) return { space, slot };
			spaces = heated;
		}
	}
	return [...spaces];
}

/** A space that is colder than before, lacks loops that it had or has its spacing opened farther; undefined where none is. */
function worseOff(
	routed: readonly RoutedSpace[],
	before: RoutedWays,
	{ spaces }: RouteWaysOptions,
): number | undefined {
	const pipesIn = (those: readonly RoutedSpace[]): Path[] =>
		those.flatMap(({ loops }) => loops.map(({ path }) => path));
	const [now, then] = [pipesIn(routed), pipesIn(before.spaces)];
	const widest = ({ routed: pieces }: RoutedSpace): number => Math.max(0, ...pieces.map(({ room }) => room.spacing));
	const shortIn = ({ routed: pieces }: RoutedSpace): number =>
		sum(pieces.map(({ room }) => room.missing + room.broken + room.tooLong + room.leftOut));
	return routed.find((each) => {
		const { room, region } = spaces[each.space]!;
		if (!room.heated) return false;
		const old = before.spaces.find(({ space }) => space === each.space);
		// It was without pipe behind a doorway.
		if (!old) return false;
		const area = regionArea(region);
		const cold = coldArea([region], now, room.spacing) / area;
		const isCold = cold > COLD && cold > coldArea([region], then, room.spacing) / area + COLDER;
		return isCold || widest(each) > Math.max((1 + WIDER) * room.spacing, widest(old)) || shortIn(each) > shortIn(old);
	})?.space;
}

/** A space that the valves of others govern more than they may; undefined where none is. */
function withoutValve(
	routed: readonly RoutedSpace[],
	{ laid }: RoutedPlan,
	options: RouteWaysOptions,
): number | undefined {
	const isLeft = ({ space }: LaidSpace): boolean => {
		const all = routed.flatMap(({ onTheWay }) => onTheWay.filter((piece) => piece.space === space));
		return governedByOthers(space, routed, options.spaces) > MOST_GOVERNED * sum(all.map(({ area }) => area));
	};
	return laid.spaces.find((each) => isHall(each, options) && !needsNoValve(each, options) && isLeft(each))?.space;
}

/** A floor where some pieces have no loop of their own; or the piece that could not be given away; undefined where tails find no way. */
function withoutLoops(
	{ pieces: given, elsewhere }: GivenAway,
	own: ReadonlyMap<number, OwnLoops>,
	plan: RoutedPlan,
	options: RouteWaysOptions,
): RoutedWays | Piece | undefined {
	const next = plan.withLoops(own, elsewhere);
	if (!next) return undefined;
	const spaces = heatPieces(next, given, options);
	if (!Array.isArray(spaces)) return refusedOf(given, spaces);
	const worse = worseOff(spaces, plan, options) ?? withoutValve(spaces, plan, options);
	return worse === undefined ? { ...next, spaces } : refusedOf(given, { space: worse, slot: undefined });
}

/** What has been tried with a plan: which pieces were given away together, and the spaces that gave any. */
interface Trials {
	readonly tried: Set<string>;
	readonly changed: Set<number>;
}

/** The same floor without the loops of as many pieces as it can do without; `behind` as below. */
function withFewerLoops(
	pieces: readonly Piece[],
	hallsKeep: boolean,
	{ tried, changed }: Trials,
	behind: number,
	plan: RoutedPlan,
	options: RouteWaysOptions,
): RoutedWays | undefined {
	let possible = pieces;
	for (let round = 0; round < MOST_ROUNDS; round++) {
		const giving = givenAway(possible, hallsKeep, plan, options);
		const given = giving.pieces;
		const key = given.map(({ port }) => port).join();
		if (given.length === 0 || tried.has(key) || options.expired()) return undefined;
		if (!hallsKeep && given.length * WORTH_A_LOOP < behind) return undefined;
		tried.add(key);
		for (const { space } of given) changed.add(space);
		const heated = withoutLoops(giving, loopsWithout(given, changed, plan), plan, options);
		if (!heated || "spaces" in heated) return heated;
		possible = possible.filter((piece) => piece !== heated);
	}
	return undefined;
}

/**
 * The same floor with fewer loops, where pieces of rooms can be heated by loops that come by: so that every room keeps a
 * loop of its own, and so that halls may do without. `behind` is how much more the plan costs than the best so far, m of pipe.
 */
export function heatOnTheWay(plan: RoutedPlan, behind: number, options: RouteWaysOptions): RoutedWays[] {
	const pieces = piecesIn(plan, options);
	const trials: Trials = { tried: new Set(), changed: new Set() };
	return [true, false].flatMap((hallsKeep) => withFewerLoops(pieces, hallsKeep, trials, behind, plan, options) ?? []);
}

/** The piece that could not be given away: the largest of its space where it is not known which. */
const refusedOf = (given: readonly Piece[], { space, slot }: Refused): Piece | undefined => {
	const pieces = given.filter((piece) => piece.space === space);
	return pieces.find((piece) => piece.slot === slot) ?? pieces.at(-1);
};
