import type { Point } from "oxturn";
import type { ClosedRing, OutlinedFeature } from "./draft.ts";
import { type Segment, samePoint } from "./plane.ts";

/** The corners of a ring, each once. */
export function cornersOf(ring: ClosedRing): readonly Point[] {
	const [first, last] = [ring[0], ring.at(-1)];
	return first && last && ring.length > 1 && samePoint(first, last) ? ring.slice(0, -1) : ring;
}

export function closeRing(corners: readonly Point[]): ClosedRing {
	return [...corners, ...corners.slice(0, 1)];
}

/** The walls of a ring: wall `index` runs from corner `index` to the next. */
export function wallsOf(corners: readonly Point[]): readonly Segment[] {
	return corners.map((from, index) => ({ from, to: corners[(index + 1) % corners.length] ?? from }));
}

/** Corners that people set: an outline with more came from a scan or a drawing program. */
const MOST_BY_HAND = 300;

/** Whether a feature has so few corners that each of them can be shown, listed and taken hold of. */
export function isMadeByHand({ geometry }: OutlinedFeature): boolean {
	return geometry.coordinates.reduce((sum, ring) => sum + ring.length, 0) <= MOST_BY_HAND;
}

export function ringOf(feature: OutlinedFeature, ring: number): readonly Point[] {
	return cornersOf(feature.geometry.coordinates[ring] ?? []);
}

/** The same feature with other corners in one of its rings. */
export function withRing<F extends OutlinedFeature>(feature: F, ring: number, corners: readonly Point[]): F {
	const coordinates = feature.geometry.coordinates.map((old, index) => (index === ring ? closeRing(corners) : old));
	return { ...feature, geometry: { type: "Polygon", coordinates } };
}

/** Twice the area of a ring, mm2: positive anticlockwise. */
export function twiceArea(corners: readonly Point[]): number {
	return wallsOf(corners).reduce((sum, { from, to }) => sum + from[0] * to[1] - to[0] * from[1], 0);
}

/** Even-odd test; points on the ring may fall either way. */
export function ringContains(corners: readonly Point[], [x, y]: Point): boolean {
	return wallsOf(corners).reduce(
		(inside, { from, to }) =>
			from[1] > y !== to[1] > y && x < from[0] + ((y - from[1]) * (to[0] - from[0])) / (to[1] - from[1])
				? !inside
				: inside,
		false,
	);
}

/** Whether `at` lies in a feature's outline and in none of its holes. */
export function contains(feature: OutlinedFeature, at: Point): boolean {
	const [outline, ...holes] = feature.geometry.coordinates.map(cornersOf);
	return outline !== undefined && ringContains(outline, at) && !holes.some((hole) => ringContains(hole, at));
}

/** The point on the ring nearest to the room's inside is on the left of an anticlockwise wall: 1, or -1 for clockwise. */
export function insideSign(corners: readonly Point[]): 1 | -1 {
	return twiceArea(corners) >= 0 ? 1 : -1;
}
