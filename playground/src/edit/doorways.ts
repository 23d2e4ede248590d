import type { Point } from "oxturn";
import { type DoorwayFeature, type Draft, featureOf, isDoorway, roomsOf, withFeature } from "../document/draft.ts";
import { dot, lengthOf, minus, nearestOnSegment, plus, type Segment, times, unit } from "../document/plane.ts";
import { cornersOf, ringOf, wallsOf, withRing } from "../document/rings.ts";
import { addDoorway, type Made } from "./features.ts";

/** A doorway as it would be cut. */
export interface DoorwayPlace {
	readonly corners: readonly Point[];
	readonly between: readonly [string, string];
	/** From the point that was asked about, mm. */
	readonly away: number;
}

/** Clear width of a usual door, mm; common practice, no source. */
export const DOOR_WIDTH = 800;
/** The narrowest doorway that is cut where the shared wall is shorter, mm. */
const NARROWEST = 200;
/** Two rooms share a wall where their faces lie no farther apart than this, mm. */
const THICKEST = 500;
/** A doorway reaches this far into both rooms, mm, so that rounding leaves no gap. */
const OVERLAP = 1;
/** Walls are parallel when one leaves the other's line by less than this over its length, mm to the mm. */
const SKEW = 0.01;

interface RoomWall {
	readonly room: string;
	readonly wall: Segment;
}

/** The doorway between the faces `a` and `b` nearest to `near`; `undefined` when they are not two sides of one wall. */
function between(a: RoomWall, b: RoomWall, near: Point, width: number): DoorwayPlace | undefined {
	const along = unit(minus(a.wall.to, a.wall.from));
	const other = unit(minus(b.wall.to, b.wall.from));
	if (!along || !other || Math.abs(along[0] * other[1] - along[1] * other[0]) > SKEW) return undefined;
	const across: Point = [-along[1], along[0]];
	const station = (p: Point): number => dot(minus(p, a.wall.from), along);
	const height = (p: Point): number => dot(minus(p, a.wall.from), across);
	const thickness = (height(b.wall.from) + height(b.wall.to)) / 2;
	if (Math.abs(thickness) > THICKEST) return undefined;
	const [b0, b1] = [station(b.wall.from), station(b.wall.to)].sort((p, q) => p - q) as [number, number];
	const start = Math.max(0, b0);
	const end = Math.min(lengthOf(minus(a.wall.to, a.wall.from)), b1);
	const half = Math.min(width, end - start) / 2;
	if (half * 2 < NARROWEST) return undefined;
	const middle = Math.min(end - half, Math.max(start + half, station(near)));
	const sign = thickness < 0 ? -1 : 1;
	const [low, high] = [-sign * OVERLAP, thickness + sign * OVERLAP];
	const place = (s: number, h: number): Point => plus(a.wall.from, plus(times(along, s), times(across, h)));
	const corners = [
		place(middle - half, low),
		place(middle + half, low),
		place(middle + half, high),
		place(middle - half, high),
	];
	const axis = { from: place(middle - half, thickness / 2), to: place(middle + half, thickness / 2) };
	const away = lengthOf(minus(nearestOnSegment(near, axis).at, near));
	return { corners, between: [a.room, b.room], away };
}

/** The place for a doorway in a wall that two rooms share, nearest to `near`; `undefined` when no rooms share a wall. */
export function nearestDoorway(draft: Draft, near: Point, width = DOOR_WIDTH): DoorwayPlace | undefined {
	const walls = roomsOf(draft).flatMap((room) =>
		wallsOf(cornersOf(room.geometry.coordinates[0] ?? [])).map((wall): RoomWall => ({ room: room.id, wall })),
	);
	let best: DoorwayPlace | undefined;
	for (const [index, a] of walls.entries())
		for (const b of walls.slice(index + 1)) {
			if (a.room === b.room) continue;
			const place = between(a, b, near, width);
			if (place && (best === undefined || place.away < best.away)) best = place;
		}
	return best;
}

/** Cuts a doorway through the shared wall nearest to `near`; `undefined` when no rooms share a wall. */
export function cutDoorway(draft: Draft, near: Point, width = DOOR_WIDTH): Made | undefined {
	const place = nearestDoorway(draft, near, width);
	return place && addDoorway(draft, place.corners, place.between);
}

/** Slides a doorway, as wide as it is, to the place in a shared wall nearest to `near`. */
export function moveDoorway(draft: Draft, id: string, near: Point): Draft {
	const doorway = featureOf(draft, id);
	if (!doorway || !isDoorway(doorway)) return draft;
	const place = nearestDoorway(draft, near, doorwayWidth(doorway));
	if (!place) return draft;
	const moved = withRing(doorway, 0, place.corners);
	return withFeature(draft, { ...moved, properties: { ...moved.properties, between: place.between } });
}

/** How wide a doorway is along its wall, mm: its longest side. */
export function doorwayWidth(doorway: DoorwayFeature): number {
	return Math.max(...wallsOf(ringOf(doorway, 0)).map(({ from, to }) => lengthOf(minus(to, from))));
}

export function middleOfDoorway(doorway: DoorwayFeature): Point {
	const corners = ringOf(doorway, 0);
	const sum = corners.reduce<Point>((total, corner) => plus(total, corner), [0, 0]);
	return times(sum, 1 / Math.max(1, corners.length));
}
