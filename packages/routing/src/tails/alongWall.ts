import type { System } from "@oxturn/floor";
import { nearestOnRing, type Path, type Point, type Pose, type Region, type Ring } from "@oxturn/geometry";
import { closedPath, comesNear } from "../boxes.ts";
import type { Entrance, PortPair } from "./apron.ts";
import { type ClearanceRules, clearOfPipes, staysOnFloor } from "./clearance.ts";
import type { Side } from "./lanes.ts";
import { alongWall, type WallTailOptions, type WallTrack, wallTrack } from "./layWallTail.ts";
import type { TailEnd } from "./leads.ts";
import { tailPitch } from "./pitch.ts";
import { EASE, poseAt } from "./tracks.ts";

/** The floor that tails lie on, and what they keep to. */
export interface WallSetting {
	/** The floor between the tails that pass. */
	readonly floor: Region;
	/** The floor between the walls. */
	readonly walls: Region;
	readonly entrance: Entrance;
	readonly system: System;
	/** Wall face to the nearest field pipe, mm. */
	readonly edgeDistance: number;
}

/** Where the two tails of a zone may leave for its field. */
export interface Reach {
	readonly left: readonly TailEnd[];
	readonly right: readonly TailEnd[];
}

/** Where tails along a wall may leave it for a field: every so many mm, within so many spacings, and no more places than this. */
const STEP = 120;
const NEAR_FIELD = 2;
const MAX_ENDS = 24;

const aheadOf = ({ at, heading }: Pose, by: number): Point => [
	at[0] + by * Math.cos(heading),
	at[1] + by * Math.sin(heading),
];

/** Both tails of a zone along the wall on one side, the one nearer to it first. `rank` zones lie between it and the wall. */
function wallTailsOf(setting: WallSetting, pair: PortPair, side: Side, rank: number): WallTailOptions[] {
	const { floor, walls, entrance, system } = setting;
	const depth = nearestOnRing(floor.outer, entrance.at).distance;
	const { minBendRadius, outerDiameter } = system.pipe;
	const least = outerDiameter / 2 + 1;
	const first = Math.max(setting.edgeDistance, EASE * minBendRadius + 2 + depth);
	const pitch = tailPitch(system);
	const [outer, inner] = side === "left" ? [pair.return, pair.flow] : [pair.flow, pair.return];
	// Beside a tail that passes, the pipe begins a little off the edge of the floor; it keeps that, and need not swerve.
	const beside = Math.min(nearestOnRing(floor.outer, aheadOf(outer, pitch)).distance, pitch / 2);
	return [outer, inner].map((port, k) => {
		const inward = (2 * rank + k) * pitch;
		const edgeDistance = Math.max(least, beside) + inward;
		return {
			floor,
			walls,
			port,
			side,
			wallDistance: first + inward,
			edgeDistance,
			least,
			depth,
			straight: 0,
			minBendRadius,
		};
	});
}

/** A pipe's way along the wall on one side, and the port that it comes from. */
interface WallWay {
	readonly wall: WallTrack;
	readonly port: Pose;
}

/** What tells the ways of a zone along the wall on one side from each other. */
interface WallManner {
	/** How much farther than they must they go straight on, mm: between other tails there is no room to turn at once. */
	readonly straight: number;
	/** Zones whose tails lie between them and the wall. */
	readonly rank: number;
}

/** The ways of both tails of a zone along the wall on a side, the outer one first. */
export type WallWays = (pair: PortPair, side: Side, manner: WallManner) => readonly (WallWay | undefined)[];

/** Ways along the walls, each found once: they are asked for again for every field, and for every way to cut the room. */
export function wallWays(setting: WallSetting): WallWays {
	const known = new Map<string, readonly (WallWay | undefined)[]>();
	return (pair, side, { straight, rank }) => {
		const key = `${pair.flow.at} ${pair.return.at} ${side} ${straight} ${rank}`;
		const ways =
			known.get(key) ??
			wallTailsOf(setting, pair, side, rank).map((options): WallWay | undefined => {
				const wall = wallTrack({ ...options, straight });
				return wall && { wall, port: options.port };
			});
		known.set(key, ways);
		return ways;
	};
}

/** Stretches of a way where it may be left, mm along it. */
interface Places {
	readonly from: number;
	readonly to: number;
	readonly step: number;
	/** Whether a place is of use. */
	readonly serves?: (place: Point) => boolean;
	readonly most?: number;
}

/** The places along a way that a pipe can be laid to clear of others. */
export function endsOn(
	wall: WallTrack,
	port: Point,
	{ from, to, step, serves = () => true, most = Infinity }: Places,
	isClear: (path: Path) => boolean,
): TailEnd[] {
	const { track, start, way, longest = Infinity } = wall;
	const last = Math.min(to, longest, track.length / 2);
	const ends: TailEnd[] = [];
	for (let at = from; at < last && ends.length < most; at += step) {
		const pose = poseAt(track, start + way * at, way);
		if (pose.exact && serves(pose.at)) ends.push({ path: alongWall(wall, port, at), pose });
	}
	// What bars the way to one place bars it to all that lie farther on.
	let clear = 0;
	let barred = ends.length;
	while (clear < barred) {
		const middle = (clear + barred) >> 1;
		if (isClear(ends[middle]!.path)) clear = middle + 1;
		else barred = middle;
	}
	return ends.slice(0, clear);
}

/** The same wherever a way along a wall comes near to a field's outline. */
function endsAlong(
	{ wall, port }: WallWay,
	outline: Path,
	{ spacing, rules, others }: EndsAlongWallOptions,
): TailEnd[] {
	const places = {
		from: 2 * rules.minBendRadius,
		to: Infinity,
		step: STEP,
		serves: (place: Point) => comesNear(outline, place, NEAR_FIELD * spacing),
		most: MAX_ENDS,
	};
	return endsOn(wall, port.at, places, (path) => staysOnFloor(path, rules) && clearOfPipes(path, others, rules));
}

export interface EndsAlongWallOptions {
	/** Of the outer tail and of the inner one. */
	readonly ways: readonly (WallWay | undefined)[];
	readonly side: Side;
	/** The field's outline. */
	readonly ring: Ring;
	/** Centre to centre in the field, mm. */
	readonly spacing: number;
	readonly rules: ClearanceRules;
	readonly others: readonly Path[];
}

/** Ends of both tails all along the wall on one side, wherever that comes near to a field. */
export function endsAlongWall(options: EndsAlongWallOptions): Reach {
	const outline = closedPath(options.ring);
	const [outer, inner] = options.ways.map((way) => (way ? endsAlong(way, outline, options) : []));
	return options.side === "left" ? { left: outer!, right: inner! } : { left: inner!, right: outer! };
}
