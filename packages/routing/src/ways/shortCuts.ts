import {
	cross,
	direction,
	distance,
	nearestOnRing,
	type Point,
	pointBetween,
	type Region,
	regionContains,
	simplifyRing,
} from "@oxturn/geometry";
import { beside, type Side } from "../tails/lanes.ts";
import { ahead, positionOf, stretch, trackOf } from "../tails/tracks.ts";
import { depthAhead } from "./depthAhead.ts";

/*
 * Where a room has an inward corner, one of the walls there may be gone on with straight over the room: out of a stem to
 * the far wall of the hall that it leads to, over the mouth of an arm to the wall beyond, or into an arm from the wall
 * opposite. What such a line cuts off need not be walked round.
 */

/** A line over a room that one of its walls goes on in. */
export interface ShortCut {
	/** The side of the wall that tails follow up to it. */
	readonly side: Side;
	/** Where it leaves that wall, and where it comes to another. */
	readonly from: Point;
	readonly to: Point;
	/** Whether it goes on in the wall that is followed up to it, and not in the one that it comes to. */
	readonly goesOn: boolean;
}

/** Corners that turn in by less than this, as a sine, are none. */
const LEAST_TURN = 0.3;
/** Walls shorter than this are not worth going on in, mm. */
const LEAST_WALL = 400;
/** A line that goes on in a wall is looked for this far inside what it cuts off: it ends where another wall begins in line with it, mm. */
const INSIDE = 2;
const ON_WALL = 1;
/** Corners nearer than this to the line between their neighbours are none, mm. */
const STRAIGHT = 0.5;

/** All lines that go on in a room's walls beyond its inward corners. */
export function shortCutsOf(space: Region): ShortCut[] {
	const { outer } = space;
	const n = outer.length;
	return outer.flatMap((corner, i) => {
		const [before, after] = [outer[(i + n - 1) % n]!, outer[(i + 1) % n]!];
		if (cross(direction(before, corner), direction(corner, after)) > -LEAST_TURN) return [];
		// The ring runs anticlockwise, so who has the wall on the right comes from the corner before.
		return [...goingOn(space, before, corner, "right"), ...goingOn(space, after, corner, "left")];
	});
}

/** The line on from a wall that ends at an inward corner: `side` is where it lies for who comes to the corner. */
function goingOn(space: Region, wall: Point, corner: Point, side: Side): ShortCut[] {
	if (distance(wall, corner) < LEAST_WALL) return [];
	const axis = direction(wall, corner);
	const aside = side === "left" ? -INSIDE : INSIDE;
	const length = depthAhead(space, beside(corner, axis, 0, aside), axis);
	const far = beside(corner, axis, length, 0);
	if (nearestOnRing(space.outer, beside(far, axis, 0, aside)).distance > ON_WALL) return [];
	const goesOn: ShortCut = { side, from: corner, to: far, goesOn: true };
	// From an inward corner in line with this one, the wall there goes on likewise.
	if (space.outer.some((other) => distance(other, far) < ON_WALL)) return [goesOn];
	return [goesOn, { side: side === "left" ? "right" : "left", from: far, to: corner, goesOn: false }];
}

/** What is left of a room without what a line cuts off. */
export function withoutCutOff({ outer, holes }: Region, { side, from, to }: ShortCut): Region {
	const wall = trackOf(outer);
	const way = side === "left" ? -1 : 1;
	const start = positionOf(wall, to);
	const rest = stretch(wall, start, ahead(wall, start, positionOf(wall, from), way), way);
	const ring = simplifyRing([from, to, ...rest.slice(1, -1)], STRAIGHT);
	const region: Region = { outer: side === "left" ? [...ring].reverse() : ring, holes: [] };
	return { ...region, holes: holes.filter((hole) => regionContains(region, hole[0]!)) };
}

/** A place on the floor that a line cuts off, this far from it, mm. */
export function placeBehind({ side, from, to }: ShortCut, away: number): Point {
	const axis = direction(from, to);
	return beside(pointBetween(from, to, 0.5), axis, 0, side === "left" ? -away : away);
}

/** The place on a line's end that lies so far from it, on the side of what it leaves, mm. */
export function endOf({ side, from, to }: ShortCut, away: number): Point {
	return beside(to, direction(from, to), 0, side === "left" ? away : -away);
}
