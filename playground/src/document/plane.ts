import type { Point } from "oxturn";

/** A straight line from one point to another, mm. */
export interface Segment {
	readonly from: Point;
	readonly to: Point;
}

export const minus = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1]];
export const plus = (a: Point, b: Point): Point => [a[0] + b[0], a[1] + b[1]];
export const times = (a: Point, factor: number): Point => [a[0] * factor, a[1] * factor];
export const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1];
export const cross = (a: Point, b: Point): number => a[0] * b[1] - a[1] * b[0];
export const lengthOf = (a: Point): number => Math.hypot(a[0], a[1]);
export const distance = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
export const samePoint = (a: Point, b: Point): boolean => a[0] === b[0] && a[1] === b[1];
export const middleOf = ({ from, to }: Segment): Point => [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];

/** Whole millimetres: nobody measures a room any finer, and links stay short. */
export const wholeMm = ([x, y]: Point): Point => [Math.round(x) + 0, Math.round(y) + 0];

/** The direction of `a`, of length 1; `undefined` for a point without direction. */
export function unit(a: Point): Point | undefined {
	const length = lengthOf(a);
	return length > 0 ? [a[0] / length, a[1] / length] : undefined;
}

/** The place on a segment that is nearest to `p`; `share` is 0 at its start and 1 at its end. */
export function nearestOnSegment(p: Point, { from, to }: Segment): { readonly at: Point; readonly share: number } {
	const along = minus(to, from);
	const length2 = dot(along, along);
	const share = length2 > 0 ? Math.min(1, Math.max(0, dot(minus(p, from), along) / length2)) : 0;
	return { at: plus(from, times(along, share)), share };
}

/** Where the endless lines through two segments meet; `undefined` for parallel ones. */
export function meetingPoint(a: Segment, b: Segment): Point | undefined {
	const [along, across] = [minus(a.to, a.from), minus(b.to, b.from)];
	const turn = cross(along, across);
	if (Math.abs(turn) < 1e-9 * lengthOf(along) * lengthOf(across)) return undefined;
	return plus(a.from, times(along, cross(minus(b.from, a.from), across) / turn));
}
