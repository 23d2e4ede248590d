import {
	cross,
	difference,
	direction,
	distance,
	dot,
	intersect,
	largestFirst,
	nearestOnRing,
	offset,
	type Path,
	type Point,
	type Pose,
	type Region,
	type Ring,
	regionArea,
	ringsOf,
	simplifyRing,
	thicken,
} from "@oxturn/geometry";
import { closedPath } from "../boxes.ts";
import { ARC_TOLERANCE } from "./berth.ts";
import type { ClearanceRules } from "./clearance.ts";
import { edgeThrough } from "./edges.ts";
import { OUTSIDE, type Side, stripBeside } from "./lanes.ts";
import type { WallTrack } from "./layWallTail.ts";
import { EASE, positionOf, stretch, type Track, trackOf, type Way } from "./tracks.ts";

/*
 * In a corner or a tongue there is no room for tracks one tail spacing apart. There a pipe keeps beside the tails that
 * are laid already, as near to them as the apron allows, and draws off to the tail spacing where that ends.
 */

/** Of the hair that berths are wider than the rules ask for, so much goes for fewer corners, mm. */
const LEAN = 0.3;

/** A turn fits in a strip so many bend radii wide, and so far into the floor. */
const STRIP = 4;
const OVERLAP = 2.2;
/** Strips that meet overlap by this, mm. */
const AT_WALL = 2;
/** A point as a path, mm long. */
const DOT = 0.1;

export interface BesideOptions {
	readonly floor: Region;
	readonly port: Pose;
	/** The side on which the tails lie that it keeps beside, or the wall where there are none. */
	readonly side: Side;
	/** What keeping off those tails takes. */
	readonly berth: readonly Region[];
	/** From walls to the centreline, mm. */
	readonly edgeDistance: number;
	/** How far it goes straight on before it may turn: every length is tried, mm. */
	readonly straights: readonly number[];
	readonly rules: ClearanceRules;
	/** Called for every way that is rounded: that is dear. */
	readonly onRounding: () => void;
}

/** No pipe comes nearer to the tip of a spike than this share of its distance from walls. */
const AT_TIP = 0.7;

/** Round corners of the wall where a bend beside both sides would come too near to their tip: it has to swing out. */
function spikesOf(floor: Region, edgeDistance: number, radius: number): Region[] {
	const tips = ringsOf(floor).flatMap((ring) =>
		ring.filter((tip, i) => {
			const before = direction(ring[(i + ring.length - 1) % ring.length]!, tip);
			const after = direction(tip, ring[(i + 1) % ring.length]!);
			const turn = Math.atan2(cross(before, after), dot(before, after));
			const away = radius - (radius - edgeDistance) / Math.cos(turn / 2);
			return turn < 0 && away < AT_TIP * edgeDistance;
		}),
	);
	const dots = tips.map(
		([x, y]): Path => [
			[x, y],
			[x + DOT, y],
		],
	);
	return dots.length > 0 ? thicken(dots, radius + AT_WALL, { join: "round", arcTolerance: ARC_TOLERANCE }) : [];
}

/** What lies beyond pipes is not to be had, and rounding would bridge them. */
const nearestTo = (place: Point, regions: readonly Region[]): Region | undefined =>
	regions
		.map((region) => ({ region, away: nearestOnRing(region.outer, place).distance }))
		.sort((a, b) => a.away - b.away)[0]?.region;

/** Beyond walls that are not followed the floor is taken to go on for so long, in bend radii. */
const FARTHER = 1.5;
/** This share of the wall may be followed. */
const FOLLOWED = 0.8;

/**
 * The floor as a pipe that follows the wall one way may have it. On the other side it goes on beyond the wall: between
 * walls nearer than a turn is wide, rounding would leave nothing.
 */
function floorAlong(floor: Region, from: Point, way: Way, edgeDistance: number, farther: number): Region[] {
	const rim = trackOf(floor.outer);
	const wall = [stretch(rim, positionOf(rim, from), FOLLOWED * rim.length, way)];
	const walls = [...wall, ...floor.holes.map(closedPath)];
	return difference(offset([{ outer: floor.outer, holes: [] }], farther), [
		...thicken(walls, edgeDistance),
		...difference(thicken(wall, farther + AT_WALL), [floor]),
		...floor.holes.map((hole): Region => ({ outer: [...hole].reverse(), holes: [] })),
	]);
}

/** A bend has no sharper corners than this where it is flattened, radians. */
const SHARPEST = 0.3;
/** Sides shorter than this are none: clipping leaves them where two arcs meet, mm. */
const CREASE = 2;

const withoutCreases = (ring: Ring): Ring =>
	ring.filter((at, i) => distance(at, ring[(i + 1) % ring.length]!) > CREASE);

/** How far it is to the first corner that rounding has left or made where the floor is too narrow for it, mm. */
function toFirstKink({ ring, positions, length }: Track, start: number, way: Way): number {
	let nearest = length;
	for (const [i, at] of ring.entries()) {
		const before = direction(ring[(i + ring.length - 1) % ring.length]!, at);
		const after = direction(at, ring[(i + 1) % ring.length]!);
		if (Math.abs(Math.atan2(cross(before, after), dot(before, after))) < SHARPEST) continue;
		nearest = Math.min(nearest, (way * (positions[i]! - start) + length) % length);
	}
	return nearest;
}

/** Straight on from a port and then beside the tails on one side. None where that is too narrow. */
export function* besideTracks(options: BesideOptions): Generator<WallTrack> {
	const { floor, port, side, edgeDistance, rules } = options;
	const { minBendRadius } = rules;
	const lane = { at: port.at, axis: [Math.cos(port.heading), Math.sin(port.heading)] as Point, bends: [] };
	const away: Side = side === "left" ? "right" : "left";
	const way: Way = side === "left" ? -1 : 1;
	const width = STRIP * minBendRadius;
	const inside = floorAlong(floor, port.at, way, edgeDistance, FARTHER * minBendRadius);
	const kept = [...options.berth, ...spikesOf(floor, edgeDistance, EASE * minBendRadius)];
	const back = stripBeside(lane, away, OUTSIDE, 0, width);
	const start = stripBeside(lane, away, AT_WALL, edgeDistance + AT_WALL, width);
	for (const straight of options.straights) {
		const hold = stripBeside(lane, side, OUTSIDE, straight, minBendRadius);
		const rough = largestFirst(difference(inside, [...kept, hold]))[0];
		if (!rough) continue;
		const open = { outer: simplifyRing(rough.outer, LEAN), holes: rough.holes };
		const ahead = stripBeside(lane, away, 0, straight + (EASE + OVERLAP) * minBendRadius, width);
		const front = nearestTo(port.at, difference([start, ...intersect(inside, [ahead])], kept));
		options.onRounding();
		const edge = front && edgeThrough([open, front, back], [port.at], minBendRadius);
		const track = edge && trackOf(withoutCreases(edge.ring));
		// An edge round the strips alone leads nowhere.
		const isAway = track && regionArea({ outer: track.ring, holes: [] }) > 0.5 * regionArea(open);
		if (!isAway) continue;
		const beginning = positionOf(track, port.at);
		yield { track, start: beginning, way, longest: toFirstKink(track, beginning, way) };
	}
}
