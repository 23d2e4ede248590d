import {
	boundingBox,
	distance,
	type Path,
	type Point,
	pointBetween,
	positionsAlong,
	type Ring,
} from "@oxturn/geometry";
import { boxesMeet, boxesOf, CHUNK, closedPath } from "../boxes.ts";
import { type ClearanceRules, clearOfPiece } from "./clearance.ts";
import type { Opening } from "./leads.ts";

/** The outline, its first point again at its end, with the distance along it at each of its points, mm. */
export interface Measured {
	readonly closed: Path;
	readonly positions: Float64Array;
	readonly total: number;
}

export function measured(ring: Ring): Measured {
	const closed = closedPath(ring);
	const positions = positionsAlong(closed);
	return { closed, positions, total: positions[ring.length]! };
}

/** Sides of the outline are looked at in pieces of this length, mm. */
const PIECE = 10;

/** The first and the last share of the segment a-b that lies in a box; the last is no more than the first where none does. */
function shareIn(a: Point, b: Point, box: Float64Array): readonly [from: number, to: number] {
	let from = 0;
	let to = 1;
	for (let axis = 0; axis < 2; axis++) {
		const start = a[axis]!;
		const step = b[axis]! - start;
		const low = box[axis]!;
		const high = box[axis + 2]!;
		if (Math.abs(step) < 1e-9) {
			if (start < low || start > high) return [1, 0];
			continue;
		}
		const t = (low - start) / step;
		const u = (high - start) / step;
		from = Math.max(from, Math.min(t, u));
		to = Math.min(to, Math.max(t, u));
	}
	return [from, to];
}

/** A lead that is held against the outline. */
interface HeldLead {
	readonly points: Path;
	readonly opening: Opening;
	readonly reverse: boolean;
	/** Whatever comes near to the lead comes into this, mm. */
	readonly box: Float64Array;
	/** Length of the outline, mm. */
	readonly total: number;
	/** Next to the opening, for so long, the lead may come near, mm. */
	readonly skip: number;
	readonly rules: ClearanceRules;
}

/** How far it is back from the opening to a place on the outline, the way that the outline does not go, mm. */
const behind = ({ opening, reverse, total }: HeldLead, position: number): number =>
	((reverse ? position - opening.position : opening.position - position) + total) % total;

/** The first of the pieces from `first` up to `end - 1` that is barred; -1 where all are clear. */
function firstBarred(first: number, end: number, areClear: (first: number, end: number) => boolean): number {
	if (first >= end || areClear(first, end)) return -1;
	let low = first;
	let high = end;
	// All before `low` are clear, and one of those from there up to `high` is not.
	while (high - low > 1) {
		const middle = (low + high) >> 1;
		if (areClear(low, middle)) low = middle;
		else high = middle;
	}
	return low;
}

/**
 * How far behind the opening the stretch a-b of the outline is barred by a lead, mm, if farther than `known`, or else
 * `known`. It lies at `start` mm along the outline.
 */
function barredOn(a: Point, b: Point, start: number, lead: HeldLead, known: number): number {
	const { points, reverse, box, total, skip, rules } = lead;
	if ((a[0] < box[0]! && b[0] < box[0]!) || (a[0] > box[2]! && b[0] > box[2]!)) return known;
	if ((a[1] < box[1]! && b[1] < box[1]!) || (a[1] > box[3]! && b[1] > box[3]!)) return known;
	const [from, to] = shareIn(a, b, box);
	if (from >= to) return known;
	const length = distance(a, b);
	const count = Math.max(1, Math.ceil(((to - from) * length) / PIECE));
	const piece = ((to - from) * length) / count;
	// Pieces are counted from the farthest behind the opening on: where that is barred, nearer ones need no look.
	const farthest = behind(lead, start + (length * (from + to)) / 2) + (piece * count) / 2;
	const first = Math.max(0, Math.floor((farthest - (total - skip)) / piece + 0.5));
	const end = Math.min(count, Math.ceil((farthest - known) / piece));
	const edgeOf = (n: number): Point => pointBetween(a, b, from + ((to - from) * (reverse ? count - n : n)) / count);
	const barred = firstBarred(first, end, (n, m) => clearOfPiece(points, edgeOf(n), edgeOf(m), rules));
	return barred < 0 ? known : farthest - barred * piece;
}

/**
 * How much of the outline behind its opening a lead bars, mm: so much at least the opening takes out. More than
 * `longest` when it bars the outline elsewhere. Next to the opening, for `skip` mm, the lead may come near.
 */
export function barred(
	points: Path,
	opening: Opening,
	reverse: boolean,
	{ closed, positions, total }: Measured,
	skip: number,
	longest: number,
	rules: ClearanceRules,
): number {
	const reach = rules.apart + 1;
	const [minX, minY, maxX, maxY] = boundingBox(points);
	const box = Float64Array.of(minX - reach, minY - reach, maxX + reach, maxY + reach);
	const lead: HeldLead = { points, opening, reverse, box, total, skip, rules };
	const boxes = boxesOf(closed);
	let most = 0;
	for (let i = 0; i + 1 < closed.length && most <= longest; i++) {
		if (i % CHUNK === 0 && !boxesMeet(box, 0, boxes, i / CHUNK + 1, 0)) {
			i += CHUNK - 1;
			continue;
		}
		const a = closed[i]!;
		const b = closed[i + 1]!;
		if (i !== opening.edge) most = barredOn(a, b, positions[i]!, lead, most);
		// Only behind the opening: ahead of it the lead goes on as this side.
		else if (reverse) most = barredOn(opening.pose.at, b, opening.position, lead, most);
		else most = barredOn(a, opening.pose.at, positions[i]!, lead, most);
	}
	return most;
}
