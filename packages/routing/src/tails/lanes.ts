import { add, boundingBox, leftOf, type Point, type Region, scale } from "@oxturn/geometry";

/** Where one pipe comes into a space: along a line that it keeps until it is told to turn. */
export interface Lane {
	/** At the manifold's port, or in the middle of the wall. */
	readonly at: Point;
	/** The way it goes, a unit vector. */
	readonly axis: Point;
	/** It changes to another line on its way: corners in order, from `at` on. Empty where it goes straight on. */
	readonly bends: readonly Point[];
}

/** A place beside a lane's line, mm forward and to the right. */
export const beside = (at: Point, axis: Point, forward: number, right: number): Point => [
	at[0] + axis[0] * forward + axis[1] * right,
	at[1] + axis[1] * forward - axis[0] * right,
];

/** Farther than any floor, mm. */
export const FAR = 1e6;
/** Farther than a region is long, mm, and near enough for clipping to stay on its fast arithmetic. */
export function beyond(region: Region): number {
	const [minX, minY, maxX, maxY] = boundingBox(region.outer);
	return maxX - minX + maxY - minY + OUTSIDE;
}

/** Strips begin this far behind the place where their lane comes in, mm. */
export const OUTSIDE = 400;

export type Side = "left" | "right";

/**
 * The strip to one side of a lane, from behind its start: its edge is the lane. `ahead` mm beyond the last bend,
 * `width` mm to the side.
 */
export function stripBeside(lane: Lane, side: Side, behind: number, ahead: number, width: number): Region {
	const last = lane.bends.at(-1) ?? lane.at;
	const edge = [
		beside(lane.at, lane.axis, -behind, 0),
		...(lane.bends.length > 0 ? [lane.at, ...lane.bends] : []),
		beside(last, lane.axis, ahead, 0),
	];
	const across = scale(leftOf(lane.axis), side === "left" ? width : -width);
	const back = [...edge].reverse().map((p) => add(p, across));
	const ring = [...edge, ...back];
	return { outer: side === "left" ? ring : ring.reverse(), holes: [] };
}

/** Unit vector to the right of another. */
export const rightOf = (axis: Point): Point => scale(leftOf(axis), -1);
