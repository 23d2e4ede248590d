import { type Path, regionArea } from "@oxturn/geometry";
import { sum } from "../sum.ts";
import { comingBy, heatPiece, type LoopOf, loopsOf, partedBetween } from "./heatPiece.ts";
import type { OwnLoops, Slot } from "./laidWays.ts";
import { coldArea } from "./ownFloor.ts";
import type { RoutedPlan, RoutedWays, RouteWaysOptions } from "./routedWays.ts";
import { coldPieces, piecesOf, type RoutedSpace, spentOn } from "./routeSpace.ts";

/*
 * Tails that go across a hall cut it in pieces, and each would take a loop. A small piece is rather heated by the loop
 * of a room that comes by: it makes a few runs there on its way.
 */

/** A piece of floor with a loop of its own that another loop may do without trouble. */
interface Piece {
	readonly space: number;
	readonly slot: number;
	/** Pipe on it, and on all pieces of its room, m. */
	readonly pipe: number;
	readonly inRoom: number;
	/** Ports of the loops that come by and could heat it. */
	readonly near: readonly number[];
	/** Port of its own loop. */
	readonly port: number;
}

/** How often pieces are given away anew, without one that no loop could be led to. */
const MOST_ROUNDS = 3;
/** What is given away takes no more pipe than this share of the limit: more is no piece beside another room's way. */
const SMALL = 1 / 2;
/** Nor are all pieces that a room gives away more than this share of it: much of it stays warm by a valve of its own. */
const MOST_GIVEN = 2 / 3;
/** A room keeps a loop of its own, and so a valve, unless that would hold no more than this share of the limit. */
const LITTLE = 1 / 8;
/** A room may be left colder by this share of its floor, or as cold as this in all: so may those that share a loop. */
const COLDER = 0.01;
const COLD = 0.05;
/** Or laid wider by so much, mm. */
const WIDER = 0.5;

/** Pipe of a slot's loops beyond its tails, m. */
function pipeIn(slot: Slot, all: readonly LoopOf[]): number {
	const ports = new Set(slot.pipes.map(({ port }) => port));
	const own = all.filter(({ loop }) => ports.has(loop.port));
	return sum(own.map(({ loop }) => loop.length - spentOn(slot) / 1000));
}

/** Pieces of spaces that tails pass, each with one loop; the smallest first. */
function piecesIn(plan: RoutedPlan, options: RouteWaysOptions): Piece[] {
	const all = loopsOf(plan.spaces);
	const loopsIn = (space: number): number => all.filter((each) => each.space === space).length;
	const found = plan.laid.spaces.flatMap((laid): Piece[] => {
		const { room } = options.spaces[laid.space]!;
		if (laid.crossing.length === 0 || !room.heated || room.keptApart || options.apart.has(room.id)) return [];
		const most = (loopsIn(laid.space) > 1 ? SMALL : LITTLE) * options.floor.system.maxLoopLength;
		const pieces = piecesOf(plan.context, laid);
		const inRoom = sum(laid.slots.map((slot) => pipeIn(slot, all)));
		return laid.slots.flatMap((slot, i): Piece[] => {
			const piece = pieces[i];
			const own = all.find(({ loop }) => loop.port === slot.pipes[0]?.port);
			if (!piece || !own || slot.pipes.length !== 2) return [];
			const { port } = own.loop;
			const pipe = pipeIn(slot, all);
			if (pipe > most) return [];
			const near = comingBy(piece, room, { ...plan, options }).map(({ loop }) => loop.port);
			return [{ space: laid.space, slot: i, pipe, inRoom, near: near.filter((other) => other !== port), port }];
		});
	});
	return found.sort((a, b) => a.pipe - b.pipe || a.port - b.port);
}

/** How much of a piece's pipe, m, which loop takes: the one with most to spare, or the two; none where that is too little. */
function takenBy(
	{ near, pipe }: Piece,
	spare: ReadonlyMap<number, number>,
): { readonly port: number; readonly pipe: number }[] {
	const left = near.flatMap((port) => spare.get(port) ?? []);
	const ports = near.filter((port) => spare.has(port)).sort((a, b) => spare.get(b)! - spare.get(a)! || a - b);
	if (Math.max(0, ...left) >= pipe) return [{ port: ports[0]!, pipe }];
	return (partedBetween(left, pipe) ?? []).map((share, i) => ({ port: ports[i]!, pipe: share * pipe }));
}

/** Pieces that are given away together: every loop has pipe left for those that it takes, and none is given away itself. */
function givenAway(pieces: readonly Piece[], plan: RoutedPlan, options: RouteWaysOptions): Piece[] {
	const { maxLoopLength } = options.floor.system;
	const spare = new Map(loopsOf(plan.spaces).map(({ loop }) => [loop.port, maxLoopLength - loop.length]));
	const left = new Map(plan.spaces.map(({ space, loops }) => [space, loops.length]));
	const givenIn = (space: number): number =>
		sum(given.filter((piece) => piece.space === space).map(({ pipe }) => pipe));
	const hosts = new Set<number>();
	const given: Piece[] = [];
	// A piece that one loop can heat is rather given away than one that has to be parted.
	const isWhole = (piece: Piece): boolean => takenBy(piece, spare).length === 1;
	for (const piece of [...pieces.filter(isWhole), ...pieces.filter((each) => !isWhole(each))]) {
		const isLast = left.get(piece.space) === 1;
		const isMost = givenIn(piece.space) + piece.pipe > MOST_GIVEN * piece.inRoom;
		if (hosts.has(piece.port) || (isLast ? piece.pipe > LITTLE * maxLoopLength : isMost)) continue;
		const taken = takenBy(piece, spare);
		if (taken.length === 0) continue;
		for (const { port, pipe } of taken) {
			hosts.add(port);
			spare.set(port, spare.get(port)! - pipe);
		}
		spare.delete(piece.port);
		left.set(piece.space, left.get(piece.space)! - 1);
		given.push(piece);
	}
	return given;
}

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
		const old = before.spaces.find(({ space }) => space === each.space)!;
		const area = regionArea(region);
		const cold = coldArea([region], now, room.spacing) / area;
		const isCold = cold > COLD && cold > coldArea([region], then, room.spacing) / area + COLDER;
		return isCold || widest(each) > Math.max(room.spacing, widest(old)) + WIDER || shortIn(each) > shortIn(old);
	})?.space;
}

/** The same floor with fewer loops, where pieces of rooms can be heated by loops that come by; undefined where none can. */
export function heatOnTheWay(plan: RoutedPlan, options: RouteWaysOptions): RoutedWays | undefined {
	let possible = piecesIn(plan, options);
	const changed = new Set<number>();
	for (let round = 0; round < MOST_ROUNDS; round++) {
		const given = givenAway(possible, plan, options);
		if (given.length === 0 || options.expired()) return undefined;
		for (const { space } of given) changed.add(space);
		const next = plan.withLoops(loopsWithout(given, changed, plan));
		if (!next) return undefined;
		const spaces = heatPieces(next, given, options);
		const worse = Array.isArray(spaces) ? worseOff(spaces, plan, options) : undefined;
		if (Array.isArray(spaces) && worse === undefined) return { ...next, spaces };
		const refused = refusedOf(given, Array.isArray(spaces) ? { space: worse!, slot: undefined } : spaces);
		if (!refused) return undefined;
		possible = possible.filter((piece) => piece !== refused);
	}
	return undefined;
}

/** The piece that could not be given away: the largest of its space where it is not known which. */
const refusedOf = (given: readonly Piece[], { space, slot }: Refused): Piece | undefined => {
	const pieces = given.filter((piece) => piece.space === space);
	return pieces.find((piece) => piece.slot === slot) ?? pieces.at(-1);
};
