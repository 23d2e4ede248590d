import type { Point } from "oxturn";

/** The corners of an upright rectangle, anticlockwise from its lower left one. */
export function rectangle(a: Point, b: Point): readonly Point[] {
	const [left, right] = [Math.min(a[0], b[0]), Math.max(a[0], b[0])];
	const [bottom, top] = [Math.min(a[1], b[1]), Math.max(a[1], b[1])];
	return [
		[left, bottom],
		[right, bottom],
		[right, top],
		[left, top],
	];
}
