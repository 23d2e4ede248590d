import { sum } from "../sum.ts";
import { comingBy, type LoopOf, loopsOf } from "./heatPiece.ts";
import type { Slot } from "./laidWays.ts";
import type { Elsewhere, RoutedPlan, RouteWaysOptions } from "./routedWays.ts";
import { piecesOf, spentOn } from "./routeSpace.ts";
import { lentBy, type Partners, partnersIn, type Taker, takenBy } from "./takers.ts";
import { isHall, MOST_GOVERNED, needsNoValve } from "./valves.ts";

/*
 * Which loops of pieces of rooms could be done without, since those that come by have pipe left for these pieces.
 */

/** A piece of floor with a loop of its own that another loop may do without trouble. */
export interface Piece {
	readonly space: number;
	readonly slot: number;
	/** Pipe on it, and on all pieces of its room, m. */
	readonly pipe: number;
	readonly inRoom: number;
	/** Ports of the loops that come by and could heat it, and of those whose valve is its room's as well. */
	readonly near: readonly number[];
	readonly sharing: readonly number[];
	/** Port of its own loop. */
	readonly port: number;
	/** Whether its room is a hall, and whether that is so small that it needs no valve. */
	readonly isInHall: boolean;
	readonly needsNoValve: boolean;
}

/** A room that is no hall gives nothing away that takes more pipe than this share of the limit. */
const SMALL = 1 / 2;
/** A room keeps a loop of its own, and so a valve, unless that would hold no more than this share of the limit. */
const LITTLE = 1 / 8;

/** Pieces that are given away together, and the pipe for them that loops only have where they get less of their own room. */
export interface GivenAway {
	readonly pieces: readonly Piece[];
	readonly elsewhere: Elsewhere;
}

/** Pipe of a slot's loops beyond its tails, m. */
function pipeIn(slot: Slot, all: readonly LoopOf[]): number {
	const ports = new Set(slot.pipes.map(({ port }) => port));
	const own = all.filter(({ loop }) => ports.has(loop.port));
	return sum(own.map(({ loop }) => loop.length - spentOn(slot) / 1000));
}

/** Pieces of spaces that tails pass, each with one loop; the smallest first. */
export function piecesIn(plan: RoutedPlan, options: RouteWaysOptions): Piece[] {
	const all = loopsOf(plan.spaces);
	const loopsIn = (space: number): number => all.filter((each) => each.space === space).length;
	const found = plan.laid.spaces.flatMap((laid): Piece[] => {
		const { room } = options.spaces[laid.space]!;
		if (laid.crossing.length === 0 || !room.heated || room.keptApart || options.apart.has(room.id)) return [];
		const isInHall = isHall(laid, options);
		const share = isInHall ? 1 : loopsIn(laid.space) > 1 ? SMALL : LITTLE;
		const most = share * options.floor.system.maxLoopLength;
		const pieces = piecesOf(plan.context, laid);
		const inRoom = sum(laid.slots.map((slot) => pipeIn(slot, all)));
		return laid.slots.flatMap((slot, i): Piece[] => {
			const piece = pieces[i];
			const own = all.find(({ loop }) => loop.port === slot.pipes[0]?.port);
			if (!piece || !own || slot.pipes.length !== 2) return [];
			const pipe = pipeIn(slot, all);
			if (pipe > most) return [];
			const near = comingBy(piece, room, { ...plan, options }).filter(({ loop }) => loop.port !== own.loop.port);
			const sharing = near.filter(({ space }) => options.spaces[space]!.room.share);
			const portsOf = (loops: readonly LoopOf[]): number[] => loops.map(({ loop }) => loop.port);
			return [
				{
					space: laid.space,
					slot: i,
					pipe,
					inRoom,
					near: portsOf(near),
					sharing: portsOf(sharing),
					port: own.loop.port,
					isInHall,
					needsNoValve: needsNoValve(laid, options),
				},
			];
		});
	});
	return found.sort((a, b) => a.pipe - b.pipe || a.port - b.port);
}

/** Pieces that are given away, so far. */
interface Giving {
	/** Pipe that loops have left, and loops that spaces have left. */
	readonly spare: Map<number, number>;
	readonly left: Map<number, number>;
	/** Ports of the loops that have taken one, and of those that the others of their room have to relieve for that. */
	readonly hosts: Set<number>;
	readonly relieved: Set<number>;
	readonly given: { readonly piece: Piece; readonly takers: readonly Taker[] }[];
}

/** Whether a room may be without a piece: much of it stays warm by a valve of its own. */
function keepsValve(piece: Piece, { left, given }: Giving, maxLoopLength: number): boolean {
	if (left.get(piece.space) === 1) return piece.pipe <= LITTLE * maxLoopLength;
	const before = given.filter((each) => each.piece.space === piece.space).map((each) => each.piece.pipe);
	return sum(before) + piece.pipe <= MOST_GOVERNED * piece.inRoom;
}

/** Whether a hall may be without a piece: it needs no valve, or loops whose valves are its own heat enough of it. */
function keepsShared(piece: Piece, takers: readonly Taker[], { given }: Giving): boolean {
	if (piece.needsNoValve) return true;
	const all = [...given, { piece, takers }].filter((each) => each.piece.space === piece.space);
	const byOthers = all.flatMap((each) => each.takers.filter(({ port }) => !each.piece.sharing.includes(port)));
	return sum(byOthers.map(({ pipe }) => pipe)) <= MOST_GOVERNED * piece.inRoom;
}

/** What loops need for pieces that they only have pipe for where the others of their room relieve them. */
function elsewhereOf({ relieved, given }: Giving, partners: Partners, { spaces }: RoutedPlan): Elsewhere {
	const takers = given.flatMap((each) => each.takers);
	const takenAt = (port: number): number => sum(takers.map((taker) => (taker.port === port ? taker.pipe : 0)));
	const hosts = loopsOf(spaces).filter(({ loop }) => relieved.has(loop.port));
	return new Map(hosts.map(({ space, loop }) => [space, partners.get(loop.port)!.map((port) => 1000 * takenAt(port))]));
}

/**
 * Pieces that are given away together: every loop has pipe left for those that it takes, and none is given away itself.
 * Halls keep a loop of their own like any room, or may do without.
 */
export function givenAway(
	pieces: readonly Piece[],
	hallsKeep: boolean,
	plan: RoutedPlan,
	{ floor }: RouteWaysOptions,
): GivenAway {
	const { maxLoopLength } = floor.system;
	const giving: Giving = {
		spare: new Map(loopsOf(plan.spaces).map(({ loop }) => [loop.port, maxLoopLength - loop.length])),
		left: new Map(plan.spaces.map(({ space, loops }) => [space, loops.length])),
		hosts: new Set(),
		relieved: new Set(),
		given: [],
	};
	const { spare, left, hosts, relieved, given } = giving;
	const partners = partnersIn(plan.laid);
	const takenIn = (pipe: number, near: readonly number[]): readonly Taker[] => {
		const takers = takenBy(pipe, near, spare);
		return takers.length > 0 ? takers : takenBy(pipe, near, lentBy(near, partners, spare));
	};
	/** Who takes a piece so that its room keeps what it needs. */
	const takersOf = (piece: Piece): readonly Taker[] => {
		if (hosts.has(piece.port)) return [];
		const takers = takenIn(piece.pipe, piece.near);
		if (hallsKeep || !piece.isInHall) return keepsValve(piece, giving, maxLoopLength) ? takers : [];
		const choices = [takenIn(piece.pipe, piece.sharing), takers];
		return choices.find((some) => some.length > 0 && keepsShared(piece, some, giving)) ?? [];
	};
	// A piece that one loop can heat is rather given away than one that has to be parted.
	const isWhole = ({ pipe, near }: Piece): boolean => takenBy(pipe, near, spare).length === 1;
	for (const piece of [...pieces.filter(isWhole), ...pieces.filter((each) => !isWhole(each))]) {
		const takers = takersOf(piece);
		if (takers.length === 0) continue;
		for (const { port, pipe } of takers) {
			hosts.add(port);
			const room = partners.get(port);
			if (room && pipe > spare.get(port)!) {
				relieved.add(port);
				const even = (sum(room.map((other) => spare.get(other)!)) - pipe) / room.length;
				for (const other of room) spare.set(other, even);
			} else spare.set(port, spare.get(port)! - pipe);
		}
		spare.delete(piece.port);
		left.set(piece.space, left.get(piece.space)! - 1);
		given.push({ piece, takers });
	}
	return { pieces: given.map(({ piece }) => piece), elsewhere: elsewhereOf(giving, partners, plan) };
}
