import type { Path, Point, Region, Ring } from "./types.ts";
import { distance, subtract, turnBetween } from "./vector.ts";

/** Area of a ring, mm2: positive anticlockwise. */
export function signedArea(ring: Ring): number {
	let twice = 0;
	let previous = ring[ring.length - 1];
	for (const point of ring) {
		if (previous) twice += previous[0] * point[1] - point[0] * previous[1];
		previous = point;
	}
	return twice / 2;
}

/** Area of a region without its holes, mm2. */
export function regionArea(region: Region): number {
	return region.holes.reduce((sum, hole) => sum - Math.abs(signedArea(hole)), Math.abs(signedArea(region.outer)));
}

/** Regions in order of their areas. */
export const largestFirst = (regions: readonly Region[]): Region[] =>
	regions
		.map((region) => ({ region, area: regionArea(region) }))
		.sort((a, b) => b.area - a.area)
		.map(({ region }) => region);

/** Corners of a ring that point into what it goes round anticlockwise, sharper than `flat` radians. */
export function inwardCorners(ring: Ring, flat = 0): Point[] {
	return ring.filter((p, i) => {
		const before = ring[(i + ring.length - 1) % ring.length]!;
		return turnBetween(subtract(p, before), subtract(ring[(i + 1) % ring.length]!, p)) < -flat;
	});
}

/** Length of an open path, mm; 0 for fewer than two points. */
export function pathLength(path: Path): number {
	let sum = 0;
	for (let i = 1; i < path.length; i++) sum += distance(path[i - 1]!, path[i]!);
	return sum;
}

/** Distance along a path at each of its points, mm. */
export function positionsAlong(path: Path): Float64Array {
	const positions = new Float64Array(path.length);
	for (let i = 1; i < path.length; i++) positions[i] = positions[i - 1]! + distance(path[i - 1]!, path[i]!);
	return positions;
}

/** Smallest box round some points as [minX, minY, maxX, maxY], mm; infinite for none. */
export function boundingBox(points: readonly Point[]): [number, number, number, number] {
	let minX = Infinity;
	let minY = Infinity;
	let maxX = -Infinity;
	let maxY = -Infinity;
	for (let i = 0; i < points.length; i++) {
		const p = points[i]!;
		const x = p[0];
		const y = p[1];
		if (x < minX) minX = x;
		if (y < minY) minY = y;
		if (x > maxX) maxX = x;
		if (y > maxY) maxY = y;
	}
	return [minX, minY, maxX, maxY];
}

/** Nearest distance of a point to a segment, squared, mm2. */
export function pointSegmentDistance2(p: Point, a: Point, b: Point): number {
	const dx = b[0] - a[0];
	const dy = b[1] - a[1];
	const length2 = dx * dx + dy * dy;
	let t = length2 > 0 ? ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / length2 : 0;
	t = Math.max(0, Math.min(1, t));
	const ex = a[0] + t * dx - p[0];
	const ey = a[1] + t * dy - p[1];
	return ex * ex + ey * ey;
}

/** Even-odd test of a point against a ring; points on the ring may fall either way. */
export function ringContains(ring: Ring, p: Point): boolean {
	let inside = false;
	let a = ring[ring.length - 1];
	for (const b of ring) {
		if (a && a[1] > p[1] !== b[1] > p[1] && p[0] < a[0] + ((p[1] - a[1]) * (b[0] - a[0])) / (b[1] - a[1]))
			inside = !inside;
		a = b;
	}
	return inside;
}

/** Whether a point lies in a region and in none of its holes. */
export function regionContains(region: Region, p: Point): boolean {
	return ringContains(region.outer, p) && !region.holes.some((hole) => ringContains(hole, p));
}

/** Every ring of a region, the outer one first. */
export const ringsOf = (region: Region): readonly Ring[] => [region.outer, ...region.holes];

/** Nearest place on a ring: which edge (from vertex `index`), how far along it (0 to 1), the point and its distance, mm. */
export interface RingPlace {
	readonly index: number;
	readonly t: number;
	readonly point: Point;
	readonly distance: number;
}

export function nearestOnRing(ring: Ring, p: Point): RingPlace {
	let best: RingPlace = { index: 0, t: 0, point: ring[0] ?? [0, 0], distance: Infinity };
	for (let i = 0; i < ring.length; i++) {
		const a = ring[i]!;
		const b = ring[(i + 1) % ring.length]!;
		const dx = b[0] - a[0];
		const dy = b[1] - a[1];
		const length2 = dx * dx + dy * dy;
		let t = length2 > 0 ? ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / length2 : 0;
		t = Math.max(0, Math.min(1, t));
		const point: Point = [a[0] + t * dx, a[1] + t * dy];
		const d = Math.hypot(point[0] - p[0], point[1] - p[1]);
		if (d < best.distance) best = { index: i, t, point, distance: d };
	}
	return best;
}

/** Whether c and d lie on different sides of the line through a and b, neither on it. */
function areParted(a: Point, b: Point, c: Point, d: Point): boolean {
	const ux = b[0] - a[0];
	const uy = b[1] - a[1];
	const sideOfC = ux * (c[1] - a[1]) - uy * (c[0] - a[0]);
	const sideOfD = ux * (d[1] - a[1]) - uy * (d[0] - a[0]);
	return (sideOfC > 0 && sideOfD < 0) || (sideOfC < 0 && sideOfD > 0);
}

/** Whether two segments cross properly; touching ends do not count. */
export const segmentsCross = (a: Point, b: Point, c: Point, d: Point): boolean =>
	areParted(a, b, c, d) && areParted(c, d, a, b);

/** Nearest distance of two segments, squared, mm2; 0 when they cross. */
export function segmentDistance2(a: Point, b: Point, c: Point, d: Point): number {
	const ends = Math.min(
		pointSegmentDistance2(a, c, d),
		pointSegmentDistance2(b, c, d),
		pointSegmentDistance2(c, a, b),
		pointSegmentDistance2(d, a, b),
	);
	return ends > 0 && segmentsCross(a, b, c, d) ? 0 : ends;
}
