import { arcPoints } from "./fillet.ts";
import type { Path, Point } from "./types.ts";
import { add, direction, distance, dot, leftOf, scale, subtract, turnBetween } from "./vector.ts";

/** Turns this small are left as they are, radians. */
const NO_TURN = 0.002;
/** Lines whose directions differ by less than this are parallel, radians. */
const PARALLEL = 0.002;

/** What takes the place of one corner, or of two that make an S. */
interface Bend {
	/** Corners from the first to the last that it replaces. */
	readonly first: number;
	readonly last: number;
	/** How much it takes of the sides before and after, mm. */
	readonly before: number;
	readonly after: number;
	readonly points: readonly Point[];
}

/** An arc that begins at a place in a direction and turns by an angle, both ends included. */
function arcFrom(at: Point, heading: Point, turn: number, radius: number, tolerance: number): Point[] {
	const side = turn > 0 ? 1 : -1;
	const centre = add(at, scale(leftOf(heading), side * radius));
	const start = Math.atan2(at[1] - centre[1], at[0] - centre[0]);
	return arcPoints(centre, radius, start, turn, tolerance);
}

function cornerBend(path: Path, i: number, radius: number, tolerance: number): Bend {
	const incoming = direction(path[i - 1]!, path[i]!);
	const turn = turnBetween(incoming, direction(path[i]!, path[i + 1]!));
	if (Math.abs(turn) < NO_TURN) return { first: i, last: i, before: 0, after: 0, points: [path[i]!] };
	const reach = radius * Math.tan(Math.abs(turn) / 2);
	const start = add(path[i]!, scale(incoming, -reach));
	return { first: i, last: i, before: reach, after: reach, points: arcFrom(start, incoming, turn, radius, tolerance) };
}

/** Two opposite turns of one size, nearer to each other than the pipe can make them, become two arcs that meet. */
function doubleBend(path: Path, i: number, radius: number, tolerance: number): Bend | undefined {
	const [a, b, c, d] = [path[i - 1], path[i], path[i + 1], path[i + 2]];
	if (!a || !b || !c || !d) return undefined;
	const incoming = direction(a, b);
	const outgoing = direction(c, d);
	if (Math.abs(turnBetween(incoming, outgoing)) > PARALLEL) return undefined;
	const aside = dot(subtract(c, b), leftOf(incoming));
	const along = dot(subtract(c, b), incoming);
	if (Math.abs(aside) >= 2 * radius) return undefined;
	const turn = Math.acos(1 - Math.abs(aside) / (2 * radius)) * Math.sign(aside);
	const half = radius * Math.sin(Math.abs(turn));
	const reach = half - along / 2;
	const start = add(b, scale(incoming, -reach));
	const first = arcFrom(start, incoming, turn, radius, tolerance);
	const middle = first.at(-1)!;
	const slanted: Point = [
		incoming[0] * Math.cos(turn) - incoming[1] * Math.sin(turn),
		incoming[0] * Math.sin(turn) + incoming[1] * Math.cos(turn),
	];
	const second = arcFrom(middle, slanted, -turn, radius, tolerance);
	return { first: i, last: i + 1, before: reach, after: reach, points: [...first, ...second.slice(1)] };
}

/**
 * An open path with every corner an arc of the given radius, mm; two opposite corners that lie too near become an S of
 * two such arcs. Its ends stay. Undefined where a side is too short for its bends. `tolerance` is the largest gap
 * between an arc and its chords, mm.
 */
export function roundPath(path: Path, radius: number, tolerance = 0.4): Path | undefined {
	const bends: Bend[] = [];
	for (let i = 1; i < path.length - 1; ) {
		const bend = cornerBend(path, i, radius, tolerance);
		const next = i + 2 < path.length ? cornerBend(path, i + 1, radius, tolerance) : undefined;
		const isShort = next !== undefined && bend.after + next.before > distance(path[i]!, path[i + 1]!);
		const chosen = isShort ? doubleBend(path, i, radius, tolerance) : bend;
		if (!chosen) return undefined;
		bends.push(chosen);
		i = chosen.last + 1;
	}
	let left = 0;
	for (const [k, bend] of bends.entries()) {
		const from = k === 0 ? path[0]! : path[bend.first - 1]!;
		const side = distance(from, path[bend.first]!);
		if (left + bend.before > side + 1e-6) return undefined;
		left = bend.after;
	}
	const last = bends.at(-1);
	if (last && last.after > distance(path[last.last]!, path.at(-1)!) + 1e-6) return undefined;
	return [path[0]!, ...bends.flatMap(({ points }) => points), path.at(-1)!];
}
