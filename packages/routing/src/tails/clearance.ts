import {
	boundingBox,
	distance,
	type Path,
	type Point,
	type Region,
	type Ring,
	regionContains,
	ringsOf,
	segmentDistance2,
	segmentsCross,
} from "@oxturn/geometry";
import { type Box, boxesMeet, boxesOf, CHUNK } from "./boxes.ts";

/** How near pipes may come to each other and to walls while they are being placed. */
export interface ClearanceRules {
	readonly manifold: Point;
	/** Centre to centre, mm. */
	readonly apart: number;
	/** The same within `apronReach` of the manifold, mm. */
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

type Segment = readonly [a: Point, b: Point, position: number];

function segmentsOf(path: Path): Segment[] {
	const segments: Segment[] = [];
	let position = 0;
	for (let i = 1; i < path.length; i++) {
		const a = path[i - 1]!;
		const b = path[i]!;
		const length = distance(a, b);
		segments.push([a, b, position + length / 2]);
		position += length;
	}
	return segments;
}

function limit2(rules: ClearanceRules, a: Point, b: Point): number {
	const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
	const near = distance(middle, rules.manifold) + distance(a, b) / 2 < rules.apronReach;
	return (near ? rules.apartAtManifold : rules.apart) ** 2;
}

/** Segments longer than this are tested in parts, so that the apron's closer limit is not granted to a long run. */
const PART = 80;

function* parts([a, b, position]: Segment): Generator<Segment> {
	const length = distance(a, b);
	const count = Math.max(1, Math.ceil(length / PART));
	for (let k = 0; k < count; k++) {
		const at = (t: number): Point => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
		yield [at(k / count), at((k + 1) / count), position + length * ((k + 0.5) / count - 0.5)];
	}
}

/** Whether a path keeps clear of other pipes. */
export function clearOfPipes(path: Path, others: readonly Path[], rules: ClearanceRules): boolean {
	const reach = rules.apart + 1;
	const own = boxesOf(path);
	for (const other of others) {
		const boxes = boxesOf(other);
		if (!boxesMeet(own, 0, boxes, 0, reach)) continue;
		for (let m = 1; 4 * m < boxes.length; m++) {
			if (!boxesMeet(own, 0, boxes, m, reach)) continue;
			for (let k = 1; 4 * k < own.length; k++)
				if (boxesMeet(own, k, boxes, m, reach) && !chunksClear(path, k - 1, other, m - 1, rules)) return false;
		}
	}
	return true;
}

/** Whether a chunk of one path keeps clear of a chunk of another. */
function chunksClear(path: Path, chunk: number, other: Path, otherChunk: number, rules: ClearanceRules): boolean {
	const end = Math.min(path.length - 1, (chunk + 1) * CHUNK);
	const otherEnd = Math.min(other.length - 1, (otherChunk + 1) * CHUNK);
	for (let i = otherChunk * CHUNK + 1; i <= otherEnd; i++)
		if (!clearOfPiece(path, other[i - 1]!, other[i]!, rules, chunk * CHUNK + 1, end)) return false;
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
	for (const [p, q] of parts([a, b, 0])) {
		if (segmentDistance2(p, q, c, d) < limit2(rules, p, q)) return false;
	}
	return true;
}

/** Whether the stretches of a pipe up to `head` and from `tail` (mm along it) keep clear of the whole of it. */
export function clearOfItself(pipe: Path, head: number, tail: number, rules: ClearanceRules): boolean {
	const segments = segmentsOf(pipe);
	// On a curve no tighter than the limit, pipe comes back beside itself only after almost a full turn.
	const exempt = Math.PI * Math.max(rules.minBendRadius, rules.apart / 2) + 30;
	const reach = rules.apart + 1;
	const firstOfTail = segments.findIndex(([, , position]) => position >= tail);
	const ends = [
		{ from: 0, to: segments.findLastIndex(([, , position]) => position <= head) + 1 },
		{ from: firstOfTail < 0 ? segments.length : firstOfTail, to: segments.length },
	];
	for (const { from, to } of ends) {
		if (from >= to) continue;
		const near = indicesIn(segments, boundingBox(pipe.slice(from, to + 1)), reach);
		for (let k = from; k < to; k++)
			for (const [a, b, position] of parts(segments[k]!)) {
				const limit = limit2(rules, a, b);
				const left = Math.min(a[0], b[0]) - reach;
				const right = Math.max(a[0], b[0]) + reach;
				for (const j of near) {
					const [c, d, other] = segments[j]!;
					// Neighbours share an end; rounding must not make that a crossing.
					if (Math.abs(j - k) <= 1) continue;
					if ((c[0] > right && d[0] > right) || (c[0] < left && d[0] < left)) continue;
					const length = distance(c, d);
					if (Math.abs(position - other) - length / 2 < exempt) {
						if (Math.abs(position - other) > 60 && segmentsCross(a, b, c, d)) return false;
						if (Math.abs(position - other) < exempt || length < PART) continue;
						if (!farPartClear([a, b, position], [c, d, other], exempt, limit)) return false;
						continue;
					}
					if (segmentDistance2(a, b, c, d) < limit) return false;
				}
			}
	}
	return true;
}

/** The segments that come within `reach` of a box. */
function indicesIn(segments: readonly Segment[], [minX, minY, maxX, maxY]: Box, reach: number): number[] {
	const found: number[] = [];
	for (const [i, [a, b]] of segments.entries()) {
		if ((a[0] < minX - reach && b[0] < minX - reach) || (a[0] > maxX + reach && b[0] > maxX + reach)) continue;
		if ((a[1] < minY - reach && b[1] < minY - reach) || (a[1] > maxY + reach && b[1] > maxY + reach)) continue;
		found.push(i);
	}
	return found;
}

function farPartClear([a, b, position]: Segment, long: Segment, exempt: number, limit: number): boolean {
	for (const [c, d, other] of parts(long))
		if (Math.abs(position - other) >= exempt + PART / 2 && segmentDistance2(a, b, c, d) < limit) return false;
	return true;
}

function staysIn(path: Path, regions: readonly Region[]): boolean {
	const first = path[0];
	if (!first || !regions.some((region) => regionContains(region, first))) return false;
	const box = boundingBox(path);
	// Leads are short, and boxes of their parts not worth their while.
	const boxes = path.length > 4 * CHUNK ? boxesOf(path) : undefined;
	for (const region of regions)
		for (const ring of ringsOf(region))
			for (let i = 0; i < ring.length; i++) {
				const c = ring[i]!;
				const d = ring[(i + 1) % ring.length]!;
				const [minX, maxX] = c[0] < d[0] ? [c[0], d[0]] : [d[0], c[0]];
				const [minY, maxY] = c[1] < d[1] ? [c[1], d[1]] : [d[1], c[1]];
				if (minX > box[2] || maxX < box[0] || minY > box[3] || maxY < box[1]) continue;
				const side = boxes && Float64Array.of(minX, minY, maxX, maxY);
				for (let k = 1; k < path.length; k++) {
					const isAway = side && (k - 1) % CHUNK === 0 && !boxesMeet(boxes, (k - 1) / CHUNK + 1, side, 0, 0);
					if (isAway) k += CHUNK - 1;
					else if (segmentsCross(path[k - 1]!, path[k]!, c, d)) return false;
				}
			}
	return true;
}

/** Whether a field's outline keeps half a pipe off the walls. */
export const ringStaysOnFloor = (ring: Ring, { allowed }: ClearanceRules): boolean =>
	staysIn([...ring, ring[0]!], allowed);

/** Whether a path stays on the floor: half a pipe off the walls except next to the ports. */
export function staysOnFloor(path: Path, rules: ClearanceRules): boolean {
	const split = path.findIndex((p) => distance(p, rules.manifold) > rules.portReach);
	const last = path.findLastIndex((p) => distance(p, rules.manifold) > rules.portReach);
	if (split < 0) return staysIn(path, rules.allowedAtPorts);
	const away = path.slice(split, last + 1);
	if (away.length > 1 && !staysIn(away, rules.allowed)) return false;
	return staysIn(path, rules.allowedAtPorts);
}
