import { sum } from "../sum.ts";
import { partedBetween } from "./heatPiece.ts";
import type { LaidWays } from "./laidWays.ts";

/*
 * Which of the loops that come by a piece of floor take it: those that have pipe left for it, or would have if the other
 * loops of their room took over floor of theirs. These are laid so that each is as long as the one with the piece.
 */

/** A loop that takes a piece, or a part of it, and how much pipe that needs, m. */
export interface Taker {
	readonly port: number;
	readonly pipe: number;
}

/** The ports of all loops that begin in the same place of a room, from the leftmost, by each of them; none where it is alone. */
export type Partners = ReadonlyMap<number, readonly number[]>;

/** Of what the loops of a room have left together, one gets no more than this share: they do not come out quite even. */
const LENT = 0.9;

/** Which of some loops take a piece's pipe, m: the one with most to spare, or two; none where that is too little. */
export function takenBy(pipe: number, near: readonly number[], spare: ReadonlyMap<number, number>): Taker[] {
	const left = near.flatMap((port) => spare.get(port) ?? []);
	const ports = near.filter((port) => spare.has(port)).sort((a, b) => spare.get(b)! - spare.get(a)! || a - b);
	if (Math.max(0, ...left) >= pipe) return [{ port: ports[0]!, pipe }];
	return (partedBetween(left, pipe) ?? []).map((share, i) => ({ port: ports[i]!, pipe: share * pipe }));
}

/** Which loops can relieve each other: a room that tails cut has more than one place, and no border to shift between them. */
export const partnersIn = ({ spaces }: LaidWays): Partners =>
	new Map(
		spaces.flatMap(({ slots: [slot, another] }) => {
			if (!slot || another) return [];
			const ports = slot.pipes.flatMap(({ port }, i) => (i % 2 === 0 ? [port] : []));
			return ports.length > 1 ? ports.map((port) => [port, ports] as const) : [];
		}),
	);

/** Pipe that loops which come by would have left for a piece, one of each room, if the others of their room relieved them, m. */
export function lentBy(
	near: readonly number[],
	partners: Partners,
	spare: ReadonlyMap<number, number>,
): Map<number, number> {
	const lent = new Map<number, number>();
	for (const port of near) {
		const room = partners.get(port) ?? [port];
		if (room.some((other) => lent.has(other) || !spare.has(other))) continue;
		lent.set(port, Math.max(spare.get(port)!, LENT * sum(room.map((other) => spare.get(other)!))));
	}
	return lent;
}
