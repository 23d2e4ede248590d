import type { Point } from "oxturn";
import {
	type DoorwayFeature,
	type Draft,
	featureOf,
	isDoorway,
	isManifold,
	roomsOf,
	withFeature,
} from "../document/draft.ts";
import { distance, nearestOnSegment } from "../document/plane.ts";
import { cornersOf, wallsOf, withRing } from "../document/rings.ts";
import { doorwayWidth, middleOfDoorway, nearestDoorway } from "./doorways.ts";
import { moveManifold } from "./manifolds.ts";

/** A manifold this near to a wall hangs on it, mm. */
const ON_WALL = 2;

function distanceToWalls(draft: Draft, at: Point): number {
	const walls = roomsOf(draft).flatMap(({ geometry }) =>
		geometry.coordinates.flatMap((ring) => wallsOf(cornersOf(ring))),
	);
	return walls.reduce((least, wall) => Math.min(least, distance(nearestOnSegment(at, wall).at, at)), Infinity);
}

/**
 * What hangs on walls goes with them: after an edit that moved walls, manifolds that hung on one of `before` are slid to
 * the nearest wall of `after`, and doorways are cut anew where the wall between their rooms lies now. What still fits,
 * and what never hung on a wall, stays as it is.
 */
export function followWalls(before: Draft, after: Draft): Draft {
	if (before === after) return after;
	const moved = after.features.filter(isManifold).reduce((draft, { id, geometry }) => {
		const at = geometry.coordinates;
		const wasHung = distanceToWalls(before, at) <= ON_WALL;
		return wasHung && distanceToWalls(after, at) > ON_WALL ? moveManifold(draft, id, at) : draft;
	}, after);
	return after.features.filter(isDoorway).reduce((draft, doorway) => {
		const pair = doorway.properties.between;
		const hasMoved = pair?.some((id) => featureOf(before, id) !== featureOf(after, id)) ?? false;
		return pair && hasMoved ? cutAnew(draft, doorway, pair) : draft;
	}, moved);
}

function cutAnew(draft: Draft, doorway: DoorwayFeature, pair: readonly [string, string]): Draft {
	const rooms = { ...draft, features: draft.features.filter(({ id }) => pair.includes(id)) };
	const place = nearestDoorway(rooms, middleOfDoorway(doorway), doorwayWidth(doorway));
	return place ? withFeature(draft, withRing(doorway, 0, place.corners)) : draft;
}
