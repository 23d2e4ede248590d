import type { Point, Region, Ring } from "@oxturn/geometry";
import { orientation } from "./segments.ts";

/** An axis-parallel box, mm. */
export interface Box {
	readonly minX: number;
	readonly minY: number;
	readonly maxX: number;
	readonly maxY: number;
}

/** The corner before or after the one at `index`, counting round the ring. */
export function cornerAt(ring: Ring, index: number): Point {
	return ring[(index + ring.length) % ring.length]!;
}

/** Distance between two points, mm. */
export function distance(a: Point, b: Point): number {
	return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

/** Area inside the ring, mm2: positive when it runs anticlockwise; 0 for fewer than three points. */
export function signedArea(ring: Ring): number {
	const origin = ring[0];
	if (!origin) return 0;
	let doubled = 0;
	for (let i = 1; i + 1 < ring.length; i++) {
		// measured from a corner of the ring: far from the origin the plain products would lose digits
		const [ax, ay] = ring[i]!;
		const [bx, by] = ring[i + 1]!;
		doubled += (ax - origin[0]) * (by - origin[1]) - (bx - origin[0]) * (ay - origin[1]);
	}
	return doubled / 2;
}

/** Area of the region without its holes, mm2. */
export function regionArea(region: Region): number {
	return region.holes.reduce((area, hole) => area - Math.abs(signedArea(hole)), Math.abs(signedArea(region.outer)));
}

/** Length round the ring, mm. */
export function perimeter(ring: Ring): number {
	return ring.reduce((length, point, i) => length + distance(point, cornerAt(ring, i + 1)), 0);
}

/** Outer ring and holes in one list. */
export function ringsOf(region: Region): readonly Ring[] {
	return [region.outer, ...region.holes];
}

/** The smallest box round the points. */
export function boxOf(points: readonly Point[]): Box {
	let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
	for (const [x, y] of points) {
		minX = Math.min(minX, x);
		minY = Math.min(minY, y);
		maxX = Math.max(maxX, x);
		maxY = Math.max(maxY, y);
	}
	return { minX, minY, maxX, maxY };
}

/** Whether two boxes come within `margin` mm of each other along both axes. */
export function boxesAreNear(a: Box, b: Box, margin: number): boolean {
	return (
		a.minX <= b.maxX + margin && b.minX <= a.maxX + margin && a.minY <= b.maxY + margin && b.minY <= a.maxY + margin
	);
}

/** Whether `p` lies in the box or on its edge. */
export function isInsideBox([x, y]: Point, box: Box): boolean {
	return x >= box.minX && x <= box.maxX && y >= box.minY && y <= box.maxY;
}

/** Whether `p` lies inside the ring; a point on the ring may count either way. */
export function isInsideRing(p: Point, ring: Ring): boolean {
	let isInside = false;
	for (let i = 0; i < ring.length; i++) {
		const a = ring[i]!;
		const b = cornerAt(ring, i + 1);
		if (a[1] > p[1] === b[1] > p[1]) continue;
		const isLeft = orientation(a, b, p) > 0;
		if (isLeft === b[1] > a[1]) isInside = !isInside;
	}
	return isInside;
}

/** Whether `p` lies in the region: inside its outer ring and in no hole. */
export function isInsideRegion(p: Point, region: Region): boolean {
	return isInsideRing(p, region.outer) && !region.holes.some((hole) => isInsideRing(p, hole));
}
