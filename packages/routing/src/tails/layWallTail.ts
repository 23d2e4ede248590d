import { difference, offset, type Path, type Point, type Pose, type Region, thicken } from "@oxturn/geometry";
import { type ClearanceRules, clearOfPipes, staysOnFloor } from "./clearance.ts";
import { edgeThrough } from "./edges.ts";
import { type Side, stripBeside } from "./lanes.ts";
import { type Tail, tailAlong } from "./layTail.ts";
import { ahead, positionOf, stretch, trackOf, type Way } from "./tracks.ts";

export interface LayWallTailOptions {
	readonly floor: Region;
	readonly port: Pose;
	/** The side on which the wall lies that it follows. */
	readonly wall: Side;
	/** From the wall to the centreline, mm. */
	readonly wallDistance: number;
	/** From all other walls, mm. */
	readonly least: number;
	/** From the port back to the wall, mm. */
	readonly depth: number;
	/** The place at the wall where the zone begins. */
	readonly entry: Point;
	readonly others: readonly Path[];
	readonly rules: ClearanceRules;
}

const OUTSIDE = 400;
/** The strip reaches this far into the floor beyond the turn, in bend radii. */
const OVERLAP = 2.2;
/** Zones may begin this far behind their entry, mm. */
const BEYOND_ENTRY = 3600;

/**
 * A tail straight on from its port until it is as far from the wall as it shall be, then along the wall. Undefined when
 * it does not fit.
 */
export function layWallTail(options: LayWallTailOptions): Tail | undefined {
	const { port, rules, wallDistance } = options;
	const away: Side = options.wall === "left" ? "right" : "left";
	const way: Way = options.wall === "left" ? -1 : 1;
	const lane = { at: port.at, axis: [Math.cos(port.heading), Math.sin(port.heading)] as Point, bends: [] };
	const wall = trackOf(options.floor.outer);
	const foot = positionOf(wall, port.at);
	const reachOnWall = ahead(wall, foot, positionOf(wall, options.entry), way);
	const followed = stretch(wall, foot, Math.min(reachOnWall + BEYOND_ENTRY, wall.length - BEYOND_ENTRY / 2), way);
	const inside = difference(offset([options.floor], -options.least), thicken([followed], wallDistance));
	const intoFloor = wallDistance - options.depth + OVERLAP * rules.minBendRadius;
	const strip = stripBeside(lane, away, OUTSIDE, intoFloor, 4 * rules.minBendRadius);
	const track = edgeThrough([...inside, strip], [port.at], rules.minBendRadius);
	if (!track) return undefined;
	const start = positionOf(track, port.at);
	const reach = ahead(track, start, positionOf(track, options.entry), way);
	const pathTo = (length: number): Path => stretch(track, start, length, way);
	const whole = pathTo(reach);
	if (!staysOnFloor(whole, rules) || !clearOfPipes(whole, options.others, rules)) return undefined;
	return tailAlong({ track, start, way, reach, from: 2 * rules.minBendRadius, pathTo });
}
