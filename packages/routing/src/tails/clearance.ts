import {
	boundingBox,
	distance,
	type Path,
	type Point,
	pointBetween,
	positionsAlong,
	type Region,
	type Ring,
	regionContains,
	ringsOf,
	segmentDistance2,
	segmentsCross,
} from "@oxturn/geometry";
import { type Box, boxesMeet, boxesOf, boxesOnce, CHUNK, closedPath } from "../boxes.ts";

/** How near pipes may come to each other and to walls while they are being placed. */
export interface ClearanceRules {
	readonly manifold: Point;
	/** Centre to centre, mm. */
	readonly apart: number;
	/** The same within `apronReach` of the manifold, mm; no more than elsewhere. */
	readonly apartAtManifold: number;
	readonly apronReach: number;
	readonly minBendRadius: number;
	/** Where a centreline may lie: the floor less half a pipe all round. */
	readonly allowed: readonly Region[];
	/** Where it may lie next to the ports: the floor itself. */
	readonly allowedAtPorts: readonly Region[];
	/** How far from the manifold the latter holds, mm. */
	readonly portReach: number;
}

function limit2(rules: ClearanceRules, a: Point, b: Point): number {
	const x = (a[0] + b[0]) / 2 - rules.manifold[0];
	const y = (a[1] + b[1]) / 2 - rules.manifold[1];
	const near = Math.sqrt(x * x + y * y) + distance(a, b) / 2 < rules.apronReach;
	return (near ? rules.apartAtManifold : rules.apart) ** 2;
}

/** Segments longer than this are tested in parts, so that the apron's closer limit is not granted to a long run. */
const PART = 20;

/** A segment of more parts than this is first tested as a whole. */
const FEW_PARTS = 2;

const partsIn = (length: number): number => Math.max(1, Math.ceil(length / PART));

/** Whether a path keeps clear of other pipes. */
export function clearOfPipes(path: Path, others: readonly Path[], rules: ClearanceRules): boolean {
	if (others.length === 0) return true;
	const reach = rules.apart + 1;
	const own = boxesOnce(path);
	for (const other of others) {
		const boxes = boxesOf(other);
		if (!boxesMeet(own, 0, boxes, 0, reach)) continue;
		for (let m = 1; 4 * m < boxes.length; m++) {
			if (!boxesMeet(own, 0, boxes, m, reach)) continue;
			for (let k = 1; 4 * k < own.length; k++)
				if (boxesMeet(own, k, boxes, m, reach) && !chunksClear(path, own, k - 1, other, m - 1, rules)) return false;
		}
	}
	return true;
}

/** Whether a chunk of one path, with its boxes, keeps clear of a chunk of another. */
function chunksClear(
	path: Path,
	boxes: Float64Array,
	chunk: number,
	other: Path,
	otherChunk: number,
	rules: ClearanceRules,
): boolean {
	const reach = rules.apart + 1;
	const box = 4 * (chunk + 1);
	const left = boxes[box]! - reach;
	const low = boxes[box + 1]! - reach;
	const right = boxes[box + 2]! + reach;
	const high = boxes[box + 3]! + reach;
	const end = Math.min(path.length - 1, (chunk + 1) * CHUNK);
	const otherEnd = Math.min(other.length - 1, (otherChunk + 1) * CHUNK);
	for (let i = otherChunk * CHUNK + 1; i <= otherEnd; i++) {
		const c = other[i - 1]!;
		const d = other[i]!;
		if ((c[0] < left && d[0] < left) || (c[0] > right && d[0] > right)) continue;
		if ((c[1] < low && d[1] < low) || (c[1] > high && d[1] > high)) continue;
		if (!clearOfPiece(path, c, d, rules, chunk * CHUNK + 1, end)) return false;
	}
	return true;
}

/** Whether a path, or its segments from the `first` to the `last`, keeps clear of one straight piece of pipe. */
export function clearOfPiece(
	path: Path,
	c: Point,
	d: Point,
	rules: ClearanceRules,
	first = 1,
	last = path.length - 1,
): boolean {
	const reach = rules.apart + 1;
	const x0 = Math.min(c[0], d[0]) - reach;
	const x1 = Math.max(c[0], d[0]) + reach;
	const y0 = Math.min(c[1], d[1]) - reach;
	const y1 = Math.max(c[1], d[1]) + reach;
	for (let k = first; k <= last; k++) {
		const a = path[k - 1]!;
		const b = path[k]!;
		if ((a[0] < x0 && b[0] < x0) || (a[0] > x1 && b[0] > x1)) continue;
		if ((a[1] < y0 && b[1] < y0) || (a[1] > y1 && b[1] > y1)) continue;
		if (!pairClear(a, b, c, d, rules)) return false;
	}
	return true;
}

/** Two segments against the limit that holds where they are nearest. */
function pairClear(a: Point, b: Point, c: Point, d: Point, rules: ClearanceRules): boolean {
	const d2 = segmentDistance2(a, b, c, d);
	if (d2 >= rules.apart * rules.apart) return true;
	if (d2 < rules.apartAtManifold * rules.apartAtManifold) return false;
	const count = partsIn(distance(a, b));
	if (count === 1) return d2 >= limit2(rules, a, b);
	let p = a;
	for (let k = 1; k <= count; k++) {
		const q = k === count ? b : pointBetween(a, b, k / count);
		if (segmentDistance2(p, q, c, d) < limit2(rules, p, q)) return false;
		p = q;
	}
	return true;
}

/** A pipe with the distance along it at each of its points, mm. */
interface Measured {
	readonly pipe: Path;
	readonly positions: Float64Array;
}

/** Where the middle of segment k, from point k to the next, lies along its pipe, mm. */
const middleOf = ({ positions }: Measured, k: number): number =>
	positions[k]! + (positions[k + 1]! - positions[k]!) / 2;

/** Whether the stretches of a pipe up to `head` and from `tail` (mm along it) keep clear of the whole of it. */
export function clearOfItself(pipe: Path, head: number, tail: number, rules: ClearanceRules): boolean {
	const whole: Measured = { pipe, positions: positionsAlong(pipe) };
	const count = pipe.length - 1;
	let endOfHead = count;
	while (endOfHead > 0 && middleOf(whole, endOfHead - 1) > head) endOfHead--;
	let startOfTail = 0;
	while (startOfTail < count && middleOf(whole, startOfTail) < tail) startOfTail++;
	return stretchClear(whole, 0, endOfHead, rules) && stretchClear(whole, startOfTail, count, rules);
}

/** Whether segments `from` up to `to - 1` of a pipe keep clear of the whole of it. */
function stretchClear(whole: Measured, from: number, to: number, rules: ClearanceRules): boolean {
	if (from >= to) return true;
	const { pipe, positions } = whole;
	// On a curve no tighter than the limit, pipe comes back beside itself only after almost a full turn.
	const exempt = Math.PI * Math.max(rules.minBendRadius, rules.apart / 2) + 30;
	const reach = rules.apart + 1;
	const near = segmentsIn(pipe, boundingBox(pipe.slice(from, to + 1)), reach);
	for (let k = from; k < to; k++) {
		const start = pipe[k]!;
		const end = pipe[k + 1]!;
		const length = positions[k + 1]! - positions[k]!;
		const parts = partsIn(length);
		// What the whole of a long segment keeps clear of, its parts do.
		const close = parts > FEW_PARTS ? closeTo(start, end, near, pipe, rules) : near;
		let b = start;
		for (let part = 0; part < parts && close.length > 0; part++) {
			const a = b;
			b = part + 1 === parts ? end : pointBetween(start, end, (part + 1) / parts);
			const position = positions[k]! + length * ((part + 0.5) / parts);
			const limit = limit2(rules, a, b);
			const left = Math.min(a[0], b[0]) - reach;
			const right = Math.max(a[0], b[0]) + reach;
			for (const j of close) {
				// Neighbours share an end; rounding must not make that a crossing.
				if (Math.abs(j - k) <= 1) continue;
				const c = pipe[j]!;
				const d = pipe[j + 1]!;
				if ((c[0] > right && d[0] > right) || (c[0] < left && d[0] < left)) continue;
				const apart = Math.abs(position - middleOf(whole, j));
				const other = positions[j + 1]! - positions[j]!;
				if (apart - other / 2 < exempt) {
					if (apart > 60 && segmentsCross(a, b, c, d)) return false;
					if (apart < exempt || other < PART) continue;
					if (!farPartsClear(a, b, position, whole, j, exempt, limit)) return false;
					continue;
				}
				if (segmentDistance2(a, b, c, d) < limit) return false;
			}
		}
	}
	return true;
}

/** Those of some segments of a pipe that come nearer to a stretch than pipes may. */
function closeTo(a: Point, b: Point, segments: readonly number[], pipe: Path, { apart }: ClearanceRules): number[] {
	const left = Math.min(a[0], b[0]) - apart;
	const right = Math.max(a[0], b[0]) + apart;
	const low = Math.min(a[1], b[1]) - apart;
	const high = Math.max(a[1], b[1]) + apart;
	return segments.filter((j) => {
		const c = pipe[j]!;
		const d = pipe[j + 1]!;
		if ((c[0] < left && d[0] < left) || (c[0] > right && d[0] > right)) return false;
		if ((c[1] < low && d[1] < low) || (c[1] > high && d[1] > high)) return false;
		return segmentDistance2(a, b, c, d) < apart * apart;
	});
}

/** The segments of a pipe that come within `reach` of a box, ascending. */
function segmentsIn(pipe: Path, box: Box, reach: number): number[] {
	const minX = box[0] - reach;
	const minY = box[1] - reach;
	const maxX = box[2] + reach;
	const maxY = box[3] + reach;
	const found: number[] = [];
	for (let i = 0; i + 1 < pipe.length; i++) {
		const a = pipe[i]!;
		const b = pipe[i + 1]!;
		if ((a[0] < minX && b[0] < minX) || (a[0] > maxX && b[0] > maxX)) continue;
		if ((a[1] < minY && b[1] < minY) || (a[1] > maxY && b[1] > maxY)) continue;
		found.push(i);
	}
	return found;
}

/** Whether those parts of a long segment j that lie far enough along the pipe keep clear of the stretch a-b. */
function farPartsClear(
	a: Point,
	b: Point,
	position: number,
	{ pipe, positions }: Measured,
	j: number,
	exempt: number,
	limit: number,
): boolean {
	const start = positions[j]!;
	const length = positions[j + 1]! - start;
	const parts = partsIn(length);
	const each = length / parts;
	// Parts count by their middles: the first so many lie before the stretch, and those from `after` on behind it.
	const far = exempt + PART / 2;
	const before = Math.floor((position - far - start) / each + 0.5);
	const after = Math.ceil((position + far - start) / each - 0.5);
	const isClear = (from: number, to: number): boolean =>
		from >= to ||
		segmentDistance2(
			a,
			b,
			pointBetween(pipe[j]!, pipe[j + 1]!, from / parts),
			pointBetween(pipe[j]!, pipe[j + 1]!, to / parts),
		) >= limit;
	return isClear(0, Math.min(before, parts)) && isClear(Math.max(after, 0), parts);
}

function staysIn(path: Path, regions: readonly Region[]): boolean {
	const first = path[0];
	if (!first || !regions.some((region) => regionContains(region, first))) return false;
	const box = boundingBox(path);
	// Leads are short, and boxes of their parts not worth their while.
	const boxes = path.length > 4 * CHUNK ? boxesOf(path) : undefined;
	for (const region of regions)
		for (const ring of ringsOf(region)) {
			let c = ring[ring.length - 1]!;
			for (let i = 0; i < ring.length; i++) {
				const d = ring[i]!;
				if (isInto(box, c, d) && crosses(path, c, d, boxes)) return false;
				c = d;
			}
		}
	return true;
}

/** Whether the box round a segment comes into another one. */
const isInto = (box: Box, c: Point, d: Point): boolean =>
	!(c[0] > box[2] && d[0] > box[2]) &&
	!(c[0] < box[0] && d[0] < box[0]) &&
	!(c[1] > box[3] && d[1] > box[3]) &&
	!(c[1] < box[1] && d[1] < box[1]);

/** Whether a path crosses a segment; `boxes` are the path's, where it is worth their while. */
function crosses(path: Path, c: Point, d: Point, boxes: Float64Array | undefined): boolean {
	const side =
		boxes && Float64Array.of(Math.min(c[0], d[0]), Math.min(c[1], d[1]), Math.max(c[0], d[0]), Math.max(c[1], d[1]));
	for (let k = 1; k < path.length; k++) {
		const isAway = side && (k - 1) % CHUNK === 0 && !boxesMeet(boxes, (k - 1) / CHUNK + 1, side, 0, 0);
		if (isAway) k += CHUNK - 1;
		else if (segmentsCross(path[k - 1]!, path[k]!, c, d)) return true;
	}
	return false;
}

/** Whether a field's outline keeps half a pipe off the walls. */
export const ringStaysOnFloor = (ring: Ring, { allowed }: ClearanceRules): boolean =>
	staysIn(closedPath(ring), allowed);

/** Whether a path stays on the floor: half a pipe off the walls except next to the ports. */
export function staysOnFloor(path: Path, rules: ClearanceRules): boolean {
	const split = path.findIndex((p) => distance(p, rules.manifold) > rules.portReach);
	const last = path.findLastIndex((p) => distance(p, rules.manifold) > rules.portReach);
	if (split < 0) return staysIn(path, rules.allowedAtPorts);
	const away = path.slice(split, last + 1);
	if (away.length > 1 && !staysIn(away, rules.allowed)) return false;
	return staysIn(path, rules.allowedAtPorts);
}
