import type { Point } from "@oxturn/geometry";
import { orient2d } from "robust-predicates";

/** Positive when `c` lies left of the line from `a` to `b`, negative on its right, 0 exactly on it. */
export function orientation(a: Point, b: Point, c: Point): number {
	// the predicate counts clockwise as positive
	return -orient2d(a[0], a[1], b[0], b[1], c[0], c[1]);
}

/** Distance from `p` to the segment `ab`, mm. */
export function distanceToSegment(p: Point, a: Point, b: Point): number {
	const dx = b[0] - a[0];
	const dy = b[1] - a[1];
	const square = dx * dx + dy * dy;
	const along = square === 0 ? 0 : ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square;
	const t = Math.min(1, Math.max(0, along));
	return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy);
}

function withinBox(p: Point, a: Point, b: Point): boolean {
	return (
		p[0] >= Math.min(a[0], b[0]) &&
		p[0] <= Math.max(a[0], b[0]) &&
		p[1] >= Math.min(a[1], b[1]) &&
		p[1] <= Math.max(a[1], b[1])
	);
}

/** A point that the closed segments `ab` and `cd` share, or `undefined`. Whether they meet is exact, where is rounded. */
export function segmentContact(a: Point, b: Point, c: Point, d: Point): Point | undefined {
	const sideA = orientation(c, d, a);
	const sideB = orientation(c, d, b);
	const sideC = orientation(a, b, c);
	const sideD = orientation(a, b, d);
	if (sideA === 0 && withinBox(a, c, d)) return a;
	if (sideB === 0 && withinBox(b, c, d)) return b;
	if (sideC === 0 && withinBox(c, a, b)) return c;
	if (sideD === 0 && withinBox(d, a, b)) return d;
	if (sideA > 0 === sideB > 0 || sideC > 0 === sideD > 0) return undefined;
	if (sideA === 0 || sideB === 0 || sideC === 0 || sideD === 0) return undefined;
	const t = sideA / (sideA - sideB);
	return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
}

/** Distance between the segments `ab` and `cd`, mm; 0 when they meet. */
export function distanceBetweenSegments(a: Point, b: Point, c: Point, d: Point): number {
	if (segmentContact(a, b, c, d)) return 0;
	return Math.min(
		distanceToSegment(a, c, d),
		distanceToSegment(b, c, d),
		distanceToSegment(c, a, b),
		distanceToSegment(d, a, b),
	);
}
