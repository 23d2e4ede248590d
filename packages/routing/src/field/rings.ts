import { type Point, pointSegmentDistance2, type Region, type Ring, segmentsCross } from "@oxturn/geometry";

/*
 * Cutting rings open and joining them by bars, where a bar crosses one side of each. A bar is a four-sided ring whose
 * second and fourth sides lead across. General clipping gives the same with far more work.
 */

/** Places this near to a side lie on it, mm. */
const ON = 0.1;

/** Where a bar's two ways across meet a ring, in the order in which the ring passes them. */
interface Meeting {
	/** The index of the corner before. */
	readonly side: number;
	readonly first: Point;
	readonly last: Point;
	/** Whether the ring meets the way from the bar's first corner first. */
	readonly inOrder: boolean;
}

const cornerAfter = (ring: Ring, i: number): Point => ring[(i + 1) % ring.length]!;

/** Whether the rims of two pieces without holes cross in two places: then these have one place in common. */
function crossesTwice(a: Ring, b: Ring): boolean {
	let crossings = 0;
	for (let i = 0; i < a.length; i++)
		for (let k = 0; k < b.length; k++)
			if (segmentsCross(a[i]!, cornerAfter(a, i), b[k]!, cornerAfter(b, k))) crossings++;
	return crossings === 2;
}

/** Where the line through two places meets the line of a side; undefined where it runs along. */
function meetingOf(from: Point, to: Point, a: Point, b: Point): Point | undefined {
	const [ux, uy, vx, vy] = [to[0] - from[0], to[1] - from[1], b[0] - a[0], b[1] - a[1]];
	const turn = ux * vy - uy * vx;
	if (Math.abs(turn) < 1e-9) return undefined;
	const t = ((a[0] - from[0]) * vy - (a[1] - from[1]) * vx) / turn;
	return t < 0 || t > 1 ? undefined : [from[0] + t * ux, from[1] + t * uy];
}

/** The one side of a ring that a bar crosses with both its ways, or touches with them at its ends. */
function meeting(ring: Ring, bar: Ring): Meeting | undefined {
	for (let side = 0; side < ring.length; side++) {
		const [a, b] = [ring[side]!, cornerAfter(ring, side)];
		const one = meetingOf(bar[0]!, bar[3]!, a, b);
		const other = one && meetingOf(bar[1]!, bar[2]!, a, b);
		if (!one || !other) continue;
		if (pointSegmentDistance2(one, a, b) > ON * ON || pointSegmentDistance2(other, a, b) > ON * ON) continue;
		const inOrder = (other[0] - one[0]) * (b[0] - a[0]) + (other[1] - one[1]) * (b[1] - a[1]) > 0;
		return inOrder ? { side, first: one, last: other, inOrder } : { side, first: other, last: one, inOrder };
	}
	return undefined;
}

/** All corners of a ring, from the one after a side on. */
const roundFrom = (ring: Ring, side: number): Point[] => [...ring.slice(side + 1), ...ring.slice(0, side + 1)];

/** A lane between a contour and the one inside it, cut open by a bar; undefined where that takes more than a plain cut. */
export function ringCutOpen(contour: Region, inner: readonly Region[], bar: Ring): Region | undefined {
	const [within] = inner;
	if (!within || inner.length > 1 || contour.holes.length + within.holes.length > 0) return undefined;
	if (!crossesTwice(bar, contour.outer) || !crossesTwice(bar, within.outer)) return undefined;
	const outside = meeting(contour.outer, bar);
	const inside = meeting(within.outer, bar);
	if (!outside || !inside || outside.inOrder !== inside.inOrder) return undefined;
	const outer = [
		outside.last,
		...roundFrom(contour.outer, outside.side),
		outside.first,
		inside.first,
		...roundFrom(within.outer, inside.side).reverse(),
		inside.last,
	];
	return { outer, holes: [] };
}

/** Whether a bar plainly joins two pieces that lie apart in one place each, so that they need not be merged to see it. */
export const bridgesOnce = (bar: Ring, a: Region, b: Region): boolean =>
	a.holes.length + b.holes.length === 0 && crossesTwice(bar, a.outer) && crossesTwice(bar, b.outer);

/** Two rings that a bar joins, as one; undefined where it does not meet one side of each, facing each other. */
export function ringsBridged(a: Region, b: Region, bar: Ring): Region | undefined {
	if (a.holes.length + b.holes.length > 0) return undefined;
	const here = meeting(a.outer, bar);
	const there = meeting(b.outer, bar);
	if (!here || !there || here.inOrder === there.inOrder) return undefined;
	const outer = [
		...roundFrom(a.outer, here.side),
		here.first,
		there.last,
		...roundFrom(b.outer, there.side),
		there.first,
		here.last,
	];
	return { outer, holes: [] };
}
