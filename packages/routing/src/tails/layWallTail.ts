import {
	difference,
	intersect,
	offset,
	type Path,
	type Point,
	type Pose,
	type Region,
	thicken,
} from "@oxturn/geometry";
import { type ClearanceRules, clearOfPipes, staysOnFloor } from "./clearance.ts";
import { edgeThrough } from "./edges.ts";
import { OUTSIDE, type Side, stripBeside } from "./lanes.ts";
import { type Tail, tailAlong } from "./layTail.ts";
import { ahead, positionOf, stretch, type Track, trackOf, type Way } from "./tracks.ts";

export interface WallTailOptions {
	/** The floor between the tails that pass; a pipe may run along its edge. */
	readonly floor: Region;
	/** The floor between the walls. */
	readonly walls: Region;
	readonly port: Pose;
	/** The side on which the wall or the passing tails lie that it follows. */
	readonly side: Side;
	/** From walls to the centreline, and from the edge of the floor, mm. */
	readonly wallDistance: number;
	readonly edgeDistance: number;
	/** From the edge of the floor on the other side, mm. */
	readonly least: number;
	/** From the port back to the wall, mm. */
	readonly depth: number;
	/** How much farther than it must it goes straight on, mm. */
	readonly straight: number;
	readonly minBendRadius: number;
}

/** A way along a wall, from a port on. */
export interface WallTrack {
	readonly track: Track;
	/** Where the port lies on it. */
	readonly start: number;
	readonly way: Way;
	/** How far it can be followed, mm; all the way round when it is left out. */
	readonly longest?: number;
}

/** The strip reaches this far into the floor beyond the turn, in bend radii. */
const OVERLAP = 2.2;

/**
 * Straight on from a port until the wall lies as far to the side as it shall, then along the wall and along the tails
 * that pass in front of it. Undefined when that is too narrow.
 */
export function wallTrack(options: WallTailOptions): WallTrack | undefined {
	const { port, floor, minBendRadius, wallDistance } = options;
	const away: Side = options.side === "left" ? "right" : "left";
	const way: Way = options.side === "left" ? -1 : 1;
	const lane = { at: port.at, axis: [Math.cos(port.heading), Math.sin(port.heading)] as Point, bends: [] };
	const rim = trackOf(floor.outer);
	const foot = positionOf(rim, port.at);
	const followed = stretch(rim, foot, 0.8 * rim.length, way);
	const inside = difference(
		intersect(offset([floor], -options.least), offset([options.walls], -wallDistance)),
		thicken([followed], options.edgeDistance),
	);
	const intoFloor = wallDistance - options.depth + OVERLAP * minBendRadius + options.straight;
	const strip = stripBeside(lane, away, OUTSIDE, intoFloor, 4 * minBendRadius);
	const track = edgeThrough([...inside, strip], [port.at], minBendRadius);
	return track && { track, start: positionOf(track, port.at), way };
}

interface TailOnWallOptions {
	readonly port: Pose;
	/** The place at the wall where the zone begins. */
	readonly entry: Point;
	readonly others: readonly Path[];
	readonly rules: ClearanceRules;
}

/** The pipe from the port for `length` mm along a wall. */
export const alongWall = ({ track, start, way }: WallTrack, port: Point, length: number): Path => [
	port,
	...stretch(track, start, length, way).slice(1),
];

/** A tail that follows such a way up to a zone's entry; undefined when something is in its way. */
export function tailOnWall(found: WallTrack, options: TailOnWallOptions): Tail | undefined {
	const { rules } = options;
	const { track, start, way, longest = Infinity } = found;
	const reach = ahead(track, start, positionOf(track, options.entry), way);
	if (reach > longest) return undefined;
	const pathTo = (length: number): Path => alongWall(found, options.port.at, length);
	const whole = pathTo(reach);
	if (!staysOnFloor(whole, rules) || !clearOfPipes(whole, options.others, rules)) return undefined;
	return tailAlong({ track, start, way, reach, from: 2 * rules.minBendRadius, longest, pathTo });
}
