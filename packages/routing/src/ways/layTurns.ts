import type { System } from "@oxturn/floor";
import { dot, intersect, offset, type Path, type Point, type Region, subtract } from "@oxturn/geometry";
import { type ClearanceRules, clearOfPipes, staysOnFloor } from "../tails/clearance.ts";
import { alongEdge } from "../tails/edges.ts";
import { beside, beyond, type Lane, OUTSIDE, rightOf, type Side, stripBeside } from "../tails/lanes.ts";
import { EASE, positionOf, type Track, trackOf } from "../tails/tracks.ts";
import { type Crossing, crossRoom } from "./crossRoom.ts";
import { type DoorLanes, lanesFrom, sideLanes, wallLanes } from "./exitLanes.ts";
import { fanOut } from "./fan.ts";
import type { Passage } from "./passages.ts";
import type { Space } from "./spaces.ts";
import { type Door, sideOf, type Turns } from "./turns.ts";
import { type Peel, type WallSection, wallSections } from "./wallSections.ts";

export interface LayTurnsOptions {
	readonly space: Space;
	/** The doorway that the pipes come in by; undefined at the manifold. */
	readonly passage: Passage | undefined;
	/** From the wall to the manifold's ports, mm; negative where they lie in the wall. */
	readonly manifoldDepth: number;
	readonly doors: readonly Door[];
	readonly turns: Turns;
	/** All pipes that come in, from left to right. */
	readonly lanes: readonly Lane[];
	/** Loops of the space itself to the left and to the right of what cuts it in two. */
	readonly own: { readonly left: number; readonly right: number };
	/** Of a fan's slants against its lanes, radians. */
	readonly slant: number;
	/** Doors whose pipes are packed to the jamb that they come to last. */
	readonly farJambs: ReadonlySet<number>;
	/** Gives up when more pipes than this do not fit. */
	readonly mostFailed: number;
	readonly doorLanes: DoorLanes;
	readonly system: System;
	readonly rules: ClearanceRules;
}

/** The pipes to the doors of one room, as far as they fit. */
export interface LaidTurns {
	readonly turns: Turns;
	/** By door: one path a pipe, undefined where it does not fit. */
	readonly paths: readonly (readonly (Path | undefined)[])[];
	readonly exits: readonly (readonly Lane[])[];
	/** By door: which of the pipes that come in is its first. */
	readonly starts: readonly number[];
	readonly failed: number;
	/** Own pipes are those from the first to before the second. */
	readonly own: readonly (readonly [from: number, to: number])[];
}

/** Tails that cross a room in the same way. */
interface Family {
	readonly doors: readonly number[];
	/** Undefined when they follow no wall. */
	readonly crossing: Crossing | undefined;
	/** Which of the pipes that come in is their first, and how many they are. */
	readonly from: number;
	readonly count: number;
}

/** Pipes that go straight on through a door may come this near to its jambs, mm. */
const NEAR_JAMB = 20;
const SLACK = 2;

/** Who goes which way, from left to right, with the own loops between them. */
function familiesOf({ turns, doors, own }: LayTurnsOptions): { families: Family[]; own: LaidTurns["own"] } {
	const isCut = turns.farLeft.length + turns.direct.length + turns.farRight.length > 0;
	const families: Family[] = [];
	const slots: (readonly [number, number])[] = [];
	let next = 0;
	const add = (list: readonly number[], crossing: Crossing | undefined): void => {
		const count = list.reduce((sum, door) => sum + doors[door]!.pipes, 0);
		families.push({ doors: list, crossing, from: next, count });
		next += count;
	};
	const leave = (loops: number): void => {
		slots.push([next, next + 2 * loops]);
		next += 2 * loops;
	};
	add(turns.left, { wall: "left", across: undefined });
	leave(isCut ? own.left : own.left + own.right);
	add(turns.farLeft, { wall: "right", across: "left" });
	add(turns.direct, undefined);
	add(turns.farRight, { wall: "left", across: "right" });
	if (isCut) leave(own.right);
	add(turns.right, { wall: "right", across: undefined });
	return { families, own: slots };
}

/** A family's doors in order from the wall that it follows. */
const fromWall = ({ doors, crossing }: Family): readonly number[] =>
	crossing?.wall === "right" ? [...doors].reverse() : doors;

/** Where the pipes of each door leave the bundle that follows a wall, in order along it. */
function peelsOf(rim: Track, family: Family, exits: readonly (readonly Lane[])[]): Peel[] {
	const isLeft = family.crossing?.wall === "left";
	const lanes = fromWall(family).map((door) => (isLeft ? exits[door]! : [...exits[door]!].reverse()));
	return lanes.slice(0, -1).map((own, i) => ({
		pipes: own.length,
		at: positionOf(rim, own.at(-1)!.at),
		next: positionOf(rim, lanes[i + 1]![0]!.at),
	}));
}

/** The pipe that follows its lane and then turns once, or not at all, to the exit's. */
function direct(space: Region, lane: Lane, exit: Lane, side: Side | undefined, minBendRadius: number): Path[] {
	const keep = side ?? "left";
	const far = beyond(space);
	const strip = stripBeside(lane, keep, OUTSIDE, far, side ? far : 4 * minBendRadius);
	const region = side ? intersect([strip], [stripBeside(exit, side, far, OUTSIDE, far)]) : [strip];
	const path = alongEdge(region, lane.at, exit.at, keep === "left" ? 1 : -1, minBendRadius);
	return path ? [path] : [];
}

/** Measures of the room that all of its pipes share. */
interface Frame {
	/** Where the first pipe comes in to the room, and the way it goes. */
	readonly entry: Point;
	readonly axis: Point;
	/** From a pipe's start to where it comes in, mm. */
	readonly reachIn: number;
	/** From the wall to the nearest tail, mm. */
	readonly nearest: number;
}

function frameOf({ passage, manifoldDepth, lanes, system }: LayTurnsOptions): Frame {
	const { at, axis } = lanes[0]!;
	const reachIn = passage ? passage.halfDepth : -manifoldDepth;
	const nearest = EASE * system.pipe.minBendRadius + SLACK + (passage ? 0 : Math.max(0, manifoldDepth));
	return { entry: beside(at, axis, passage ? reachIn : 0, 0), axis, reachIn, nearest };
}

/** Lanes in the doorways to which families come along a wall. */
function exitsAlongWalls(options: LayTurnsOptions, families: readonly Family[], { nearest }: Frame): Lane[][] {
	const { doors, doorLanes, farJambs } = options;
	const exits: Lane[][] = doors.map(() => []);
	for (const family of families) {
		if (!family.crossing) continue;
		let rank = 0;
		for (const door of fromWall(family)) {
			const { passage, pipes } = doors[door]!;
			exits[door] = wallLanes(
				{
					space: options.space.region,
					passage,
					count: pipes,
					wall: family.crossing.wall,
					wallDistance: nearest + rank * doorLanes.pitch,
					minBendRadius: options.system.pipe.minBendRadius,
					isFarJamb: farJambs.has(door),
				},
				doorLanes,
			);
			rank += pipes;
		}
	}
	return exits;
}

/**
 * The families that leave the wall they come in by spread out to the tails' pitch, or shift to a door that lies
 * straight on. Gives their lanes and the lanes in the doorways that no wall leads to.
 */
function spread(
	options: LayTurnsOptions,
	families: readonly Family[],
	{ entry, axis, reachIn, nearest }: Frame,
): { lanes: readonly Lane[]; exits: ReadonlyMap<number, Lane[]> } {
	const { doors, doorLanes, system, passage } = options;
	const [left, farLeft, ahead, farRight, right] = families as [Family, Family, Family, Family, Family];
	const from = farLeft.from;
	const to = farRight.from + farRight.count;
	const lanes = options.lanes.slice(from, to);
	const exits = new Map<number, Lane[]>();
	if (lanes.length === 0) return { lanes, exits };
	const { pitch } = doorLanes;
	const origin = options.lanes[0]!.at;
	const lateral = (p: Point): number => dot(subtract(p, origin), rightOf(axis));
	const places = lanes.map(({ at }) => lateral(at));
	const centre = (places[0]! + places.at(-1)!) / 2;
	// Own loops to one side keep their way straight on, so the group spreads to the other.
	const wider = (places.length - 1) * pitch - (places.at(-1)! - places[0]!);
	const ownLeft = from - (left.from + left.count);
	const ownRight = right.from - to;
	const aside = (ownLeft > 0 ? wider / 2 : 0) - (ownRight > 0 ? wider / 2 : 0);
	const targets = places.map((_, i) => centre + aside + (i - (places.length - 1) / 2) * pitch);
	let before = ahead.from - from;
	for (const door of ahead.doors) {
		const { passage: through, pipes } = doors[door]!;
		const side = sideOf(through, entry, axis);
		if (side) exits.set(door, sideLanes(through, side, pipes, { entry, axis, nearest }, doorLanes));
		else {
			const centred = (places[before]! + places[before + pipes - 1]! - (pipes - 1) * pitch) / 2;
			const found = lanesFrom(through, pipes, centred - lateral(through.middle), { ...doorLanes, margin: NEAR_JAMB });
			const first = lateral(found[0]!.at);
			for (let i = 0; i < targets.length; i++) targets[i] = first + (i - before) * pitch;
			exits.set(door, found);
		}
		before += pipes;
	}
	const beside = Math.max(from, options.lanes.length - to);
	const fan = fanOut({
		lanes,
		shifts: targets.map((target, i) => target - places[i]!),
		from: beside > 0 ? nearest + (beside - 1) * pitch + reachIn : Math.max(0, reachIn) + SLACK,
		apart: passage ? pitch : system.pipe.outerDiameter + 3,
		minBendRadius: system.pipe.minBendRadius,
		slant: options.slant,
	});
	return { lanes: fan.lanes, exits };
}

/** Lays the pipes of every door of a room, one after the other, each clear of those before. */
export function layTurns(options: LayTurnsOptions): LaidTurns {
	const { doors, rules, doorLanes, system } = options;
	const { minBendRadius } = system.pipe;
	const frame = frameOf(options);
	const { families, own } = familiesOf(options);
	const exits = exitsAlongWalls(options, families, frame);
	const spreading = spread(options, families, frame);
	for (const [door, lanes] of spreading.exits) exits[door] = lanes;
	const firstSpread = families[1]!.from;
	const laneOf = (i: number): Lane => spreading.lanes[i - firstSpread] ?? options.lanes[i]!;
	const { region } = options.space;
	const rim = trackOf(region.outer);
	const inside = offset([region], -frame.nearest);
	const laid: Path[] = [];
	const paths: (Path | undefined)[][] = doors.map(() => []);
	const starts = doors.map(() => 0);
	let failed = 0;
	for (const family of families) {
		const { crossing } = family;
		const peels = crossing ? peelsOf(rim, family, exits) : [];
		const sectionsOf = (i: number, wall: Side): WallSection[] =>
			wallSections({
				wall: rim,
				way: wall === "left" ? -1 : 1,
				peels,
				rank: wall === "left" ? i : family.count - 1 - i,
				pitch: doorLanes.pitch,
				nearest: frame.nearest,
				minBendRadius,
			});
		let i = 0;
		for (const door of family.doors) {
			const { passage } = doors[door]!;
			starts[door] = family.from + i;
			for (const exit of exits[door]!) {
				const entrance = laneOf(family.from + i);
				const ways = crossing
					? crossRoom({
							space: region,
							inside,
							entrance,
							exit,
							crossing,
							sections: sectionsOf(i, crossing.wall),
							reachIn: frame.reachIn,
							reachOut: passage.halfDepth,
							minBendRadius,
						})
					: direct(region, entrance, exit, sideOf(passage, frame.entry, frame.axis), minBendRadius);
				const path = firstClear(ways, laid, rules);
				if (path) laid.push(path);
				else failed++;
				paths[door]!.push(path);
				i++;
				if (failed > options.mostFailed) return { turns: options.turns, paths, exits, starts, failed, own };
			}
		}
	}
	return { turns: options.turns, paths, exits, starts, failed, own };
}

function firstClear(ways: Iterable<Path>, laid: readonly Path[], rules: ClearanceRules): Path | undefined {
	for (const path of ways) if (staysOnFloor(path, rules) && clearOfPipes(path, laid, rules)) return path;
	return undefined;
}
