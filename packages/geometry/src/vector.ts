import type { Point } from "./types.ts";

export const add = (a: Point, b: Point): Point => [a[0] + b[0], a[1] + b[1]];
export const subtract = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1]];
export const scale = (a: Point, k: number): Point => [a[0] * k, a[1] * k];
export const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1];
/** Positive when `b` lies anticlockwise of `a`. */
export const cross = (a: Point, b: Point): number => a[0] * b[1] - a[1] * b[0];
export function distance(a: Point, b: Point): number {
	const dx = a[0] - b[0];
	const dy = a[1] - b[1];
	return Math.sqrt(dx * dx + dy * dy);
}

/** Unit vector from `a` to `b`; [0, 0] when they coincide. */
export function direction(a: Point, b: Point): Point {
	const length = distance(a, b);
	return length > 0 ? [(b[0] - a[0]) / length, (b[1] - a[1]) / length] : [0, 0];
}

/** The place that lies the share `t` of the way from `a` to `b`. */
export const pointBetween = (a: Point, b: Point, t: number): Point => [
	a[0] + (b[0] - a[0]) * t,
	a[1] + (b[1] - a[1]) * t,
];

/** A quarter turn anticlockwise. */
export const leftOf = (a: Point): Point => [-a[1], a[0]];

/** Turns `p` about the origin by an angle given as its cosine and sine. */
export const rotate = (p: Point, cos: number, sin: number): Point => [p[0] * cos - p[1] * sin, p[0] * sin + p[1] * cos];

/** Signed turn from direction `u` to direction `v`, radians, positive anticlockwise. */
export const turnBetween = (u: Point, v: Point): number => Math.atan2(cross(u, v), dot(u, v));
