import { type Path, type Point, pointSegmentDistance2, type Ring } from "@oxturn/geometry";

/*
 * Boxes round paths and round every few of their segments: most questions about nearness are answered by them.
 */

export type Box = readonly [minX: number, minY: number, maxX: number, maxY: number];

/** Segments that share a box: few, since a single long one among short ones makes it large. */
export const CHUNK = 8;

/** The box round a path and those round every few of its segments: four numbers each, the whole path's first. */
const boxesOfPath = new WeakMap<Path, Float64Array>();

/** Boxes of a path, kept as long as the path is: what is laid is asked for again and again. */
export function boxesOf(path: Path): Float64Array {
	const known = boxesOfPath.get(path);
	if (known) return known;
	const boxes = boxesOnce(path);
	boxesOfPath.set(path, boxes);
	return boxes;
}

/** The same of a path that is asked for once. */
export function boxesOnce(path: Path): Float64Array {
	const chunks = Math.ceil(Math.max(0, path.length - 1) / CHUNK);
	const boxes = new Float64Array(4 * (chunks + 1));
	let wholeX0 = Infinity;
	let wholeY0 = Infinity;
	let wholeX1 = -Infinity;
	let wholeY1 = -Infinity;
	for (let k = 0; k < chunks; k++) {
		let x0 = Infinity;
		let y0 = Infinity;
		let x1 = -Infinity;
		let y1 = -Infinity;
		const end = Math.min(path.length - 1, (k + 1) * CHUNK);
		for (let i = k * CHUNK; i <= end; i++) {
			const p = path[i]!;
			const x = p[0];
			const y = p[1];
			if (x < x0) x0 = x;
			if (x > x1) x1 = x;
			if (y < y0) y0 = y;
			if (y > y1) y1 = y;
		}
		boxes[4 * k + 4] = x0;
		boxes[4 * k + 5] = y0;
		boxes[4 * k + 6] = x1;
		boxes[4 * k + 7] = y1;
		if (x0 < wholeX0) wholeX0 = x0;
		if (y0 < wholeY0) wholeY0 = y0;
		if (x1 > wholeX1) wholeX1 = x1;
		if (y1 > wholeY1) wholeY1 = y1;
	}
	boxes[0] = wholeX0;
	boxes[1] = wholeY0;
	boxes[2] = wholeX1;
	boxes[3] = wholeY1;
	return boxes;
}

/** Rings as paths whose last point is their first again. */
const closedPaths = new WeakMap<Ring, Path>();

/** A ring as such a path, kept as long as the ring is: its boxes and lengths are asked for again and again. */
export function closedPath(ring: Ring): Path {
	const known = closedPaths.get(ring);
	if (known) return known;
	const closed = [...ring, ring[0]!];
	closedPaths.set(ring, closed);
	return closed;
}

/** Whether box i of `a` and box j of `b` come within `reach` of each other. */
export const boxesMeet = (a: Float64Array, i: number, b: Float64Array, j: number, reach: number): boolean =>
	a[4 * i]! - reach <= b[4 * j + 2]! &&
	a[4 * i + 2]! + reach >= b[4 * j]! &&
	a[4 * i + 1]! - reach <= b[4 * j + 3]! &&
	a[4 * i + 3]! + reach >= b[4 * j + 1]!;

/** Whether a path comes within `reach` mm of a place. */
export function comesNear(path: Path, place: Point, reach: number): boolean {
	const boxes = boxesOf(path);
	const at = Float64Array.of(place[0], place[1], place[0], place[1]);
	if (!boxesMeet(boxes, 0, at, 0, reach)) return false;
	for (let chunk = 0; 4 * (chunk + 1) < boxes.length; chunk++) {
		if (!boxesMeet(boxes, chunk + 1, at, 0, reach)) continue;
		const end = Math.min(path.length - 1, (chunk + 1) * CHUNK);
		for (let i = chunk * CHUNK; i < end; i++)
			if (pointSegmentDistance2(place, path[i]!, path[i + 1]!) <= reach * reach) return true;
	}
	return false;
}

/** The stretches of paths whose segments come into a box. */
export function stretchesIn(paths: readonly Path[], box: Box): Path[] {
	const wanted = Float64Array.from(box);
	const found: Path[] = [];
	for (const path of paths) {
		const boxes = boxesOf(path);
		if (!boxesMeet(boxes, 0, wanted, 0, 0)) continue;
		let run: Point[] = [];
		for (let i = 1; i < path.length; i++) {
			const chunk = Math.floor((i - 1) / CHUNK);
			const isAway = (i - 1) % CHUNK === 0 && !boxesMeet(boxes, chunk + 1, wanted, 0, 0);
			const [ax, ay] = path[i - 1]!;
			const [bx, by] = path[i]!;
			const outside =
				isAway ||
				Math.max(ax, bx) < box[0] ||
				Math.min(ax, bx) > box[2] ||
				Math.max(ay, by) < box[1] ||
				Math.min(ay, by) > box[3];
			if (!outside) {
				if (run.length === 0) run.push(path[i - 1]!);
				run.push(path[i]!);
			} else if (run.length > 0) {
				found.push(run);
				run = [];
			}
			if (isAway) i = (chunk + 1) * CHUNK;
		}
		if (run.length > 0) found.push(run);
	}
	return found;
}
