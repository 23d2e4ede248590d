import type { Point } from "oxturn";
import { type Draft, featureOf, isManifold, type RoomFeature, roomsOf, withFeature } from "../document/draft.ts";
import { distance, lengthOf, minus, nearestOnSegment, unit, wholeMm } from "../document/plane.ts";
import { cornersOf, insideSign, wallsOf } from "../document/rings.ts";
import { addManifold, type Made } from "./features.ts";

/** Where a manifold can hang: on a wall, its pipes leaving into the room. */
export interface WallPlace {
	readonly at: Point;
	/** Degrees anticlockwise from +x. */
	readonly facing: number;
	/** From the point that was asked about, mm. */
	readonly away: number;
}

/** A manifold keeps this far from the corners of its wall, mm, where the wall is long enough. */
const CORNER = 150;

function placesOf(room: RoomFeature, near: Point): readonly WallPlace[] {
	return room.geometry.coordinates.flatMap((ring, index) => {
		const corners = cornersOf(ring);
		// a hole's inside is not the room's
		const sign = insideSign(corners) * (index === 0 ? 1 : -1);
		return wallsOf(corners).flatMap((wall) => {
			const along = unit(minus(wall.to, wall.from));
			if (!along) return [];
			const length = distance(wall.from, wall.to);
			const keep = Math.min(CORNER, length / 2) / length;
			const share = Math.min(1 - keep, Math.max(keep, nearestOnSegment(near, wall).share));
			const at = wholeMm([
				wall.from[0] + share * (wall.to[0] - wall.from[0]),
				wall.from[1] + share * (wall.to[1] - wall.from[1]),
			]);
			const degrees = (Math.atan2(sign * along[0], -sign * along[1]) * 180) / Math.PI;
			const facing = Math.round(((degrees + 360) % 360) * 10) / 10;
			return [{ at, facing: facing % 360, away: distance(at, near) }];
		});
	});
}

/** The place on any room's walls nearest to `near`; `undefined` on a floor without rooms. */
export function nearestWallPlace(draft: Draft, near: Point): WallPlace | undefined {
	const places = roomsOf(draft).flatMap((room) => placesOf(room, near));
	return places.reduce<WallPlace | undefined>(
		(best, place) => (best === undefined || place.away < best.away ? place : best),
		undefined,
	);
}

/** Slides a manifold along the walls to the place nearest to `near`. */
export function moveManifold(draft: Draft, id: string, near: Point): Draft {
	const feature = featureOf(draft, id);
	const place = nearestWallPlace(draft, near);
	if (!feature || !isManifold(feature) || !place) return draft;
	return withFeature(draft, {
		...feature,
		geometry: { type: "Point", coordinates: place.at },
		properties: { ...feature.properties, facing: place.facing },
	});
}

/** Hangs a manifold on the wall nearest to `near`; `undefined` on a floor without rooms. */
export function hangManifold(draft: Draft, near: Point): Made | undefined {
	const place = nearestWallPlace(draft, near);
	return place && addManifold(draft, place.at, place.facing);
}

/** Gives a first room a manifold, in the middle of its longest wall, so that it can be piped at once. */
export function withFirstManifold(draft: Draft, id: string): Draft {
	const room = featureOf(draft, id);
	if (room?.properties.kind !== "room" || draft.features.some(isManifold)) return draft;
	const walls = wallsOf(cornersOf((room as RoomFeature).geometry.coordinates[0] ?? []));
	const longest = walls.toSorted(
		(a, b) =>
			lengthOf(minus(b.to, b.from)) - lengthOf(minus(a.to, a.from)) || a.from[1] + a.to[1] - b.from[1] - b.to[1],
	)[0];
	if (!longest) return draft;
	const middle: Point = [(longest.from[0] + longest.to[0]) / 2, (longest.from[1] + longest.to[1]) / 2];
	return hangManifold(draft, middle)?.draft ?? draft;
}
