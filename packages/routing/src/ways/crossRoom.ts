import {
	difference,
	dot,
	intersect,
	type Path,
	type Point,
	type Region,
	scale,
	subtract,
	thicken,
} from "@oxturn/geometry";
import { alongEdge } from "../tails/edges.ts";
import { beside, beyond, type Lane, OUTSIDE, type Side, stripBeside } from "../tails/lanes.ts";
import { ahead, positionOf, stretch, type Track, trackOf, type Way } from "../tails/tracks.ts";
import { depthAhead } from "./depthAhead.ts";
import type { WallSection } from "./wallSections.ts";

/*
 * A tail crosses a room along the edge of a region: the room shrunk by the tail's distance from the wall, joined to
 * the strip by which it comes in and to the strip by which it leaves. Its corners rounded, that edge is the pipe.
 * Tails that lie one tail spacing farther from the wall have a region that much smaller, so they never cross.
 */

/** How a tail goes from where it comes in to where it leaves. */
export interface Crossing {
	/** The side on which the wall lies that it follows. */
	readonly wall: Side;
	/** Straight across first, and then back along the far wall to the side that is named. */
	readonly across: Side | undefined;
	/** Leaves the wall opposite its door and goes straight over to it. */
	readonly isOver: boolean;
}

export interface CrossRoomOptions {
	readonly space: Region;
	readonly entrance: Lane;
	readonly exit: Lane;
	readonly crossing: Crossing;
	/** Stretches of the wall that is followed, with their distances. */
	readonly sections: readonly WallSection[];
	/** The space, shrunk by the least distance from all other walls to the centreline. */
	readonly inside: readonly Region[];
	/** Half the thickness of the walls at the entrance and at the exit, mm. */
	readonly reachIn: number;
	readonly reachOut: number;
	/** From the wall to the tail nearest to it, mm. */
	readonly nearest: number;
	readonly minBendRadius: number;
}

/**
 * Strips reach this far into the shrunk room, in bend radii: a turn fits where they meet. In narrow rooms they would
 * bridge what lies between, so there they only touch.
 */
const OVERLAPS = [2.2, 0.05];

/** Where a line straight back from a lane in a doorway, `reachOut` mm outside the room, comes to a wall. */
export function opposite(space: Region, { at, axis }: Lane, reachOut: number): Point {
	const inside = beside(at, axis, -reachOut, 0);
	return beside(inside, axis, -depthAhead(space, inside, scale(axis, -1)), 0);
}

/** The strips along the wall that a tail follows, from where it meets it to its door, and a little farther at either end. */
function followedWall(options: CrossRoomOptions): Region[] {
	const { space, entrance, exit, crossing, sections, minBendRadius } = options;
	const track = trackOf(space.outer);
	const way: Way = crossing.wall === "left" ? -1 : 1;
	const last = entrance.bends.at(-1) ?? entrance.at;
	const start = crossing.across ? beside(last, entrance.axis, depthAhead(space, last, entrance.axis), 0) : entrance.at;
	const first = positionOf(track, start);
	const to = positionOf(track, crossing.isOver ? opposite(space, exit, options.reachOut) : exit.at);
	const before = Math.min(2 * minBendRadius, toNextCorner(track, first, way === 1 ? -1 : 1));
	const after = Math.min(2 * minBendRadius, toNextCorner(track, to, way));
	let from = first - way * before;
	return sections.flatMap(({ until = to + way * after, distance }) => {
		const strip = stretch(track, from, ahead(track, from, until, way), way);
		from = until;
		return thicken([strip], distance);
	});
}

/** How far it is along a wall to its next corner, mm. */
const toNextCorner = (track: Track, from: number, way: Way): number =>
	Math.min(...track.positions.map((corner) => ahead(track, from, corner, way)));

/** Pipes from the entrance lane's start to the exit lane's start, the likeliest first; none where it is too narrow. */
export function* crossRoom(options: CrossRoomOptions): Generator<Path> {
	for (const overlap of OVERLAPS) {
		const path = crossing(options, overlap * options.minBendRadius);
		if (path) yield path;
	}
}

function crossing(options: CrossRoomOptions, overlap: number): Path | undefined {
	const { entrance, exit, sections, minBendRadius } = options;
	const { wall: side, across, isOver } = options.crossing;
	const width = 4 * minBendRadius;
	const far = beyond(options.space);
	// The strips lie on the side away from the wall that is followed.
	const away: Side = side === "left" ? "right" : "left";
	const inside = difference(options.inside, followedWall(options));
	const part = across
		? intersect(inside, [stripBeside(entrance, across, OUTSIDE, far, far)])
		: isOver
			? intersect(inside, [stripBeside(exit, away, far, OUTSIDE, far)])
			: inside;
	// A lane that fans out first lies on its last line only there, and has to turn beyond.
	const bent = dot(subtract(entrance.bends.at(-1) ?? entrance.at, entrance.at), entrance.axis) + minBendRadius;
	const depth = Math.max(options.reachIn + sections[0]!.distance + overlap, bent);
	const front = stripBeside({ ...entrance, bends: [] }, "left", OUTSIDE, depth, far);
	const frontRight = stripBeside({ ...entrance, bends: [] }, "right", OUTSIDE, depth, far);
	const comingIn = intersect([stripBeside(entrance, away, OUTSIDE, far, width)], [front, frontRight]);
	const before = options.reachOut + (isOver ? options.nearest : sections.at(-1)!.distance) + overlap;
	const back: Lane = {
		at: beside(exit.at, exit.axis, -before, 0),
		axis: exit.axis,
		bends: [],
	};
	const leaving = stripBeside(back, away, 0, before + OUTSIDE, width);
	return alongEdge([...part, ...comingIn, leaving], entrance.at, exit.at, side === "left" ? -1 : 1, minBendRadius);
}
