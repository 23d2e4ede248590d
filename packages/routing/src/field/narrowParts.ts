import {
	cross,
	dot,
	inwardCorners,
	type Point,
	type Region,
	ringsOf,
	segmentDistance2,
	subtract,
} from "@oxturn/geometry";

/*
 * Most floors are wide everywhere, and their sides tell so sooner than any clipping.
 */

/** Sides of a floor with more of them are not compared. */
const MOST_SIDES = 200;

/** A side of a floor, which lies to the left of it. */
type Side = readonly [Point, Point];

const isLeftOf = ([a, b]: Side, p: Point): boolean => cross(subtract(b, a), subtract(p, a)) > 0;

/** Whether two sides run against each other, and each has the other before it, or a part of it. */
const areFacing = (side: Side, other: Side): boolean =>
	dot(subtract(side[1], side[0]), subtract(other[1], other[0])) < 0 &&
	other.some((p) => isLeftOf(side, p)) &&
	side.some((p) => isLeftOf(other, p));

/**
 * Whether a part of a floor may be narrower than `width` mm: two sides that face each other come so near, or there are too
 * many to tell. Corners of a floor that has no others but outward ones do not count.
 */
export function mayBeNarrow(floor: Region, width: number): boolean {
	if (floor.holes.length === 0 && inwardCorners(floor.outer).length === 0) return false;
	const sides = ringsOf(floor).flatMap((ring) => ring.map((p, i): Side => [p, ring[(i + 1) % ring.length]!]));
	if (sides.length > MOST_SIDES) return true;
	return sides.some((side, i) =>
		sides.some((other, k) => k < i && areFacing(side, other) && segmentDistance2(...side, ...other) < width * width),
	);
}
