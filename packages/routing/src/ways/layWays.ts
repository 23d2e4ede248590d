import type { System } from "@oxturn/floor";
import { dot, intersect, type Path, type Point, type Region, scale, subtract } from "@oxturn/geometry";
import { type ClearanceRules, clearOfPipes, staysOnFloor } from "../tails/clearance.ts";
import { alongEdge } from "../tails/edges.ts";
import { beside, type Lane, rightOf, type Side, stripBeside } from "../tails/lanes.ts";
import { EASE, positionOf, trackOf } from "../tails/tracks.ts";
import { type Crossing, crossRoom } from "./crossRoom.ts";
import { depthAhead } from "./depthAhead.ts";
import { fanOut } from "./fan.ts";
import { capacity, laneThrough, type Passage } from "./passages.ts";
import type { Space } from "./spaces.ts";
import { type Branch, loopsBeyond } from "./tree.ts";
import { inOrder, sideOf, type Turns, turnsOf } from "./turns.ts";
import { type Peel, type WallSection, wallSections } from "./wallSections.ts";

/** How many loops a space has of its own; where tails cut it in two, how many lie to their left and to their right. */
export interface OwnLoops {
	readonly left: number;
	readonly right: number;
}

export interface LayWaysOptions {
	readonly system: System;
	readonly spaces: readonly Space[];
	readonly loops: readonly OwnLoops[];
	readonly rules: ClearanceRules;
	/** Centre to centre between tails, mm. */
	readonly pitch: number;
	/** From a jamb to the nearest centreline, mm, where there is room and where there is not. */
	readonly margin: number;
	readonly leastMargin: number;
	/** From the wall to the manifold's ports, mm; negative where they lie in the wall. */
	readonly manifoldDepth: number;
}

/** A pipe on its way: laid from its port to the start of `lane`. */
export interface PipeSoFar {
	/** Number of its pair of ports. */
	readonly port: number;
	readonly path: Path;
	readonly lane: Lane;
}

/** What a space gets: the ends of its own loops' tails, and the tails that pass through it. */
export interface LaidSpace {
	readonly space: number;
	readonly passage: Passage | undefined;
	/** Where its own loops begin: one place, or two where tails cut it in two. */
	readonly slots: readonly Slot[];
	readonly crossing: readonly CrossingBundle[];
}

/** A place between passing tails for the space's own loops. */
export interface Slot {
	/** Where it opens into the space. */
	readonly at: Point;
	/** Two a loop, from left to right; none where the space has no loop there. */
	readonly pipes: readonly PipeSoFar[];
}

/** Tails that cross one room side by side. */
export interface CrossingBundle {
	readonly passage: Passage;
	readonly paths: readonly Path[];
}

export interface LaidWays {
	readonly spaces: readonly LaidSpace[];
	/** Doorways that could not take the tails of what lies beyond. */
	readonly blocked: readonly { readonly branch: Branch; readonly pipes: number; readonly fit: number }[];
}

/** Turns that are tried in a room before its blocked doors are given up. */
const MAX_TURNS = 30;
/** Pipes that go straight on through a door may come this near to its jambs, mm. */
const NEAR_JAMB = 20;
/** Slants of a fan against its lanes, radians: the gentler ones first, the steeper ones where there is little depth. */
const SLANTS = [Math.PI / 4, Math.PI / 3, (5 * Math.PI) / 12];
/** What it costs to cut a heated room in two, m of pipe: it takes another loop. */
const SPLIT_PRICE = 25;
const SLACK = 2;
const FAR = 5e4;
const OUTSIDE = 400;

const sumOf = (own: OwnLoops | undefined): number => (own ? own.left + own.right : 0);

interface Attempt {
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

/** Lanes of a door's pipes, the first of them as near to `start` as there is room for, to the right of its middle. */
function lanesFrom(
	passage: Passage,
	count: number,
	start: number,
	options: LayWaysOptions,
	wanted = options.margin,
): Lane[] {
	const width = (count - 1) * options.pitch;
	const spare = passage.high - passage.low - width;
	const margin = Math.max(options.leastMargin, Math.min(wanted, spare / 2));
	const first = Math.max(passage.low + margin, Math.min(start, passage.high - margin - width));
	return Array.from({ length: count }, (_, i) => laneThrough(passage, first + i * options.pitch));
}

const opposite = (side: Side): Side => (side === "left" ? "right" : "left");

/** Lanes at the jamb that the pipes come to first, or farther in where their wall leads them past it. */
function packedLanes(passage: Passage, count: number, wall: Side, track: number, options: LayWaysOptions): Lane[] {
	const width = (count - 1) * options.pitch;
	return wall === "left"
		? lanesFrom(passage, count, Math.max(track, passage.low), options)
		: lanesFrom(passage, count, Math.min(track, passage.high) - width, options);
}

/** Where a pipe that follows the wall beside a door comes towards it, to the right of the door's middle. */
function trackBeside(
	space: Region,
	{ middle, axis, halfDepth }: Passage,
	wall: Side,
	wallDistance: number,
	radius: number,
): number {
	const from = beside(middle, axis, -(halfDepth + wallDistance + radius), 0);
	const across = wall === "left" ? scale(rightOf(axis), -1) : rightOf(axis);
	const track = depthAhead(space, from, across) - wallDistance;
	return wall === "left" ? -track : track;
}

/** Where the pipes of each door begin among those of all. */
function startsIn(doors: readonly number[], counts: readonly number[]): Map<number, number> {
	const starts = new Map<number, number>();
	let from = 0;
	for (const door of doors) {
		starts.set(door, from);
		from += counts[door]!;
	}
	return starts;
}

/** Lanes of a door to the side, as near to the entrance as pipes can turn. */
function sideLanes(
	passage: Passage,
	side: Side,
	count: number,
	from: { readonly entry: Point; readonly axis: Point; readonly nearest: number },
	options: LayWaysOptions,
): Lane[] {
	const width = (count - 1) * options.pitch;
	const packed = lanesFrom(passage, count, side === "left" ? passage.low : passage.high - width, options);
	const first = side === "left" ? packed[0]! : packed.at(-1)!;
	const short = from.nearest - dot(subtract(first.at, from.entry), from.axis);
	if (short <= 0) return packed;
	const start = dot(subtract(packed[0]!.at, passage.middle), rightOf(passage.axis));
	return lanesFrom(passage, count, side === "left" ? start + short : start - short, options);
}

/** Where the pipes of each door leave the bundle that follows a wall, in order along it. */
function peelsAt(space: Region, wall: Side, doors: readonly number[], exits: readonly (readonly Lane[])[]): Peel[] {
	const track = trackOf(space.outer);
	const along = wall === "left" ? doors : [...doors].reverse();
	const lanes = along.map((door) => (wall === "left" ? exits[door]! : [...exits[door]!].reverse()));
	return lanes.slice(0, -1).map((own, i) => ({
		pipes: own.length,
		at: positionOf(track, own.at(-1)!.at),
		next: positionOf(track, lanes[i + 1]![0]!.at),
	}));
}

/** The pipe that follows its lane and then turns once, or not at all, to the exit's. */
function direct(lane: Lane, exit: Lane, side: Side | undefined, minBendRadius: number): Path[] {
	const keep = side ?? "left";
	const strip = stripBeside(lane, keep, OUTSIDE, FAR, side ? FAR : 4 * minBendRadius);
	const region = side ? intersect([strip], [stripBeside(exit, side, FAR, OUTSIDE, FAR)]) : [strip];
	const path = alongEdge(region, lane.at, exit.at, keep === "left" ? 1 : -1, minBendRadius);
	return path ? [path] : [];
}

function layTurns(
	branch: Branch,
	turns: Turns,
	pipes: readonly PipeSoFar[],
	slant: number,
	farJambs: ReadonlySet<number>,
	options: LayWaysOptions,
): Attempt {
	const own = options.loops[branch.space]!;
	const { spaces, pitch, rules, system } = options;
	const { region } = spaces[branch.space]!;
	const { minBendRadius, outerDiameter } = system.pipe;
	const counts = branch.children.map((child) => 2 * loopsBeyond(child, options.loops.map(sumOf)));
	const countOf = (doors: readonly number[]): number => doors.reduce((sum, door) => sum + counts[door]!, 0);
	const middleDoors = [...turns.farLeft, ...turns.direct, ...turns.farRight];
	const nLeft = countOf(turns.left);
	const ownLeft = 2 * (middleDoors.length > 0 ? own.left : own.left + own.right);
	const nMiddle = countOf(middleDoors);
	const middleFrom = nLeft + ownLeft;
	const middleTo = middleFrom + nMiddle;
	const ownRight = middleDoors.length > 0 ? 2 * own.right : 0;
	const rightFrom = middleTo + ownRight;
	const reachIn = branch.passage ? branch.passage.halfDepth : -options.manifoldDepth;
	const nearest = EASE * minBendRadius + SLACK + (branch.passage ? 0 : Math.max(0, options.manifoldDepth));
	const axis = pipes[0]!.lane.axis;
	const right = rightOf(axis);
	const origin = pipes[0]!.lane.at;
	const entry = beside(origin, axis, branch.passage ? reachIn : 0, 0);
	const lateral = (p: Point): number => dot(subtract(p, origin), right);

	const exits: Lane[][] = branch.children.map(() => []);
	const alongWall = (doors: readonly number[], wall: Side): void => {
		let rank = 0;
		for (const door of wall === "left" ? doors : [...doors].reverse()) {
			const passage = branch.children[door]!.passage!;
			const wanted = trackBeside(region, passage, wall, nearest + rank * pitch, minBendRadius);
			exits[door] = farJambs.has(door)
				? packedLanes(passage, counts[door]!, opposite(wall), wall === "left" ? Infinity : -Infinity, options)
				: packedLanes(passage, counts[door]!, wall, wanted, options);
			rank += counts[door]!;
		}
	};
	alongWall(turns.left, "left");
	alongWall(turns.farRight, "left");
	alongWall(turns.right, "right");
	alongWall(turns.farLeft, "right");

	// The middle group may have to spread out, or to shift to a door that lies straight on.
	const middle = pipes.slice(middleFrom, middleTo).map(({ lane }) => lane);
	let lanes: readonly Lane[] = middle;
	if (middle.length > 0) {
		const places = middle.map((lane) => lateral(lane.at));
		const centre = (places[0]! + places.at(-1)!) / 2;
		// Own loops to one side keep their way straight on, so the group spreads to the other.
		const spread = (places.length - 1) * pitch - (places.at(-1)! - places[0]!);
		const aside = (ownLeft > 0 ? spread / 2 : 0) - (ownRight > 0 ? spread / 2 : 0);
		const targets = places.map((_, i) => centre + aside + (i - (places.length - 1) / 2) * pitch);
		const starts = startsIn([...turns.farLeft, ...turns.direct, ...turns.farRight], counts);
		for (const door of turns.direct) {
			const passage = branch.children[door]!.passage!;
			const before = starts.get(door)!;
			const group = places.slice(before, before + counts[door]!);
			const side = sideOf(passage, entry, axis);
			if (side) exits[door] = sideLanes(passage, side, counts[door]!, { entry, axis, nearest }, options);
			else {
				const centred = (group[0]! + group.at(-1)! - (counts[door]! - 1) * pitch) / 2;
				exits[door] = lanesFrom(passage, counts[door]!, centred - lateral(passage.middle), options, NEAR_JAMB);
				const first = lateral(exits[door]![0]!.at);
				for (let i = 0; i < targets.length; i++) targets[i] = first + (i - before) * pitch;
			}
		}
		const from = Math.max(nearest, nearest + (Math.max(middleFrom, pipes.length - middleTo) - 1) * pitch) + reachIn;
		const fan = fanOut({
			lanes: middle,
			shifts: targets.map((target, i) => target - places[i]!),
			from: nLeft + pipes.length - rightFrom > 0 ? from : Math.max(0, reachIn) + SLACK,
			apart: branch.passage ? pitch : outerDiameter + 3,
			minBendRadius,
			slant,
		});
		lanes = fan.lanes;
	}

	const laid: Path[] = [];
	const rim = trackOf(region.outer);
	const lay = (
		pipe: PipeSoFar,
		exit: Lane,
		door: number,
		crossing: Crossing | undefined,
		sections: readonly WallSection[],
	): Path | undefined => {
		const passage = branch.children[door]!.passage!;
		const ways = crossing
			? crossRoom({
					space: region,
					entrance: pipe.lane,
					exit,
					crossing,
					sections,
					leastDistance: nearest,
					reachIn,
					reachOut: passage.halfDepth,
					minBendRadius,
				})
			: direct(pipe.lane, exit, sideOf(passage, entry, axis), minBendRadius);
		for (const path of ways)
			if (staysOnFloor(path, rules) && clearOfPipes(path, laid, rules)) {
				laid.push(path);
				return path;
			}
		return undefined;
	};
	const paths: (Path | undefined)[][] = branch.children.map(() => []);
	const starts = branch.children.map(() => 0);
	let failed = 0;
	const layDoors = (
		doors: readonly number[],
		from: number,
		crossing: Crossing | undefined,
		rankOf: (i: number, count: number) => number,
		laneOf: (i: number) => PipeSoFar,
	): void => {
		const total = countOf(doors);
		const peels = crossing ? peelsAt(region, crossing.wall, doors, exits) : [];
		const sectionsOf = (rank: number): readonly WallSection[] =>
			crossing
				? wallSections({
						wall: rim,
						way: crossing.wall === "left" ? -1 : 1,
						peels,
						rank,
						pitch,
						nearest,
						minBendRadius,
					})
				: [];
		let i = 0;
		for (const door of doors) {
			starts[door] = from + i;
			for (const exit of exits[door]!) {
				const path = lay(laneOf(from + i), exit, door, crossing, sectionsOf(rankOf(i, total)));
				if (!path) failed++;
				paths[door]!.push(path);
				i++;
			}
		}
	};
	const asIs = (i: number): PipeSoFar => pipes[i]!;
	const fanned = (i: number): PipeSoFar => ({ ...pipes[i]!, lane: lanes[i - middleFrom]! });
	const outward = (i: number): number => i;
	const inward = (i: number, count: number): number => count - 1 - i;
	layDoors(turns.left, 0, { wall: "left", across: undefined }, outward, asIs);
	layDoors(turns.farLeft, middleFrom, { wall: "right", across: "left" }, inward, fanned);
	const directFrom = middleFrom + countOf(turns.farLeft);
	layDoors(turns.direct, directFrom, undefined, outward, fanned);
	layDoors(turns.farRight, directFrom + countOf(turns.direct), { wall: "left", across: "right" }, outward, fanned);
	layDoors(turns.right, rightFrom, { wall: "right", across: undefined }, inward, asIs);
	return {
		turns,
		paths,
		exits,
		starts,
		failed,
		own:
			middle.length > 0
				? [
						[nLeft, middleFrom],
						[middleTo, rightFrom],
					]
				: [[nLeft, middleFrom]],
	};
}

/** Just inside the space, in the middle of a slot's pipes or between those on either side of it. */
function slotAt(branch: Branch, pipes: readonly PipeSoFar[], from: number, to: number): Point {
	const left = pipes[from < to ? from : Math.max(0, from - 1)]!.lane;
	const right = pipes[from < to ? to - 1 : Math.min(pipes.length - 1, to)]!.lane;
	const middle: Point = [(left.at[0] + right.at[0]) / 2, (left.at[1] + right.at[1]) / 2];
	return beside(middle, left.axis, branch.passage?.halfDepth ?? 0, 0);
}

/** Takes the tails of a branch through its space and on through its doors. `pipes` are all of its pipes, from left to right. */
function layBranch(branch: Branch, pipes: readonly PipeSoFar[], options: LayWaysOptions): LaidWays {
	if (pipes.length === 0) return { spaces: [], blocked: [] };
	const { region, room } = options.spaces[branch.space]!;
	const first = pipes[0]!.lane;
	const last = pipes.at(-1)!.lane;
	const loops = options.loops.map(sumOf);
	const doors = branch.children.map((child) => ({ passage: child.passage!, pipes: 2 * loopsBeyond(child, loops) }));
	const middle: Point = [(first.at[0] + last.at[0]) / 2, (first.at[1] + last.at[1]) / 2];
	const at = branch.passage ? beside(middle, first.axis, branch.passage.halfDepth, 0) : middle;
	const splitPrice = room.heated ? SPLIT_PRICE : 0;
	let best: Attempt | undefined;
	let bestSlant = SLANTS[0]!;
	for (const turns of turnsOf({ space: region, at, axis: first.axis, doors, splitPrice }).slice(0, MAX_TURNS)) {
		const spreads = turns.direct.length + turns.farLeft.length + turns.farRight.length > 0;
		for (const slant of spreads ? SLANTS : SLANTS.slice(0, 1)) {
			const attempt = layTurns(branch, turns, pipes, slant, new Set(), options);
			if (!best || attempt.failed < best.failed) [best, bestSlant] = [attempt, slant];
			if (best.failed === 0) break;
		}
		if (best?.failed === 0) break;
	}
	let found = layBeyond(branch, best!, pipes, options);
	// A door may lead into a room by one of its jambs only, so the other is tried for those behind which tails end.
	const stuck = branch.children.flatMap((child, door) =>
		found.blocked.some((block) => isBeyond(child, block.branch)) ? [door] : [],
	);
	for (const door of stuck) {
		const other = layBeyond(
			branch,
			layTurns(branch, best!.turns, pipes, bestSlant, new Set([door]), options),
			pipes,
			options,
		);
		if (blockedPipes(other) < blockedPipes(found)) found = other;
	}
	return found;
}

const blockedPipes = ({ blocked }: LaidWays): number => blocked.reduce((sum, { pipes }) => sum + pipes, 0);

const isBeyond = (branch: Branch, other: Branch): boolean =>
	branch.children.some((child) => child === other || isBeyond(child, other));

/** Goes on from one room's attempt through all of its doors. */
function layBeyond(branch: Branch, attempt: Attempt, pipes: readonly PipeSoFar[], options: LayWaysOptions): LaidWays {
	const { turns, paths, exits, starts, own } = attempt;
	const slots = own.map(([from, to]): Slot => ({ at: slotAt(branch, pipes, from, to), pipes: pipes.slice(from, to) }));
	const blocked: LaidWays["blocked"][number][] = [];
	const crossing: CrossingBundle[] = [];
	const below: LaidWays[] = [];
	for (const door of inOrder(turns)) {
		const child = branch.children[door]!;
		const ways = paths[door]!;
		const laid = ways.filter((path) => path !== undefined);
		const fit = Math.min(laid.length, capacity(child.passage!, options.pitch, options.leastMargin));
		if (fit < ways.length) {
			blocked.push({ branch: child, pipes: ways.length, fit });
			continue;
		}
		crossing.push({ passage: child.passage!, paths: laid });
		const next = laid.map((path, i): PipeSoFar => {
			const { port, path: before } = pipes[starts[door]! + i]!;
			return { port, path: [...before.slice(0, -1), ...path], lane: exits[door]![i]! };
		});
		below.push(layBranch(child, next, options));
	}
	const here: LaidSpace = { space: branch.space, passage: branch.passage, slots, crossing };
	return {
		spaces: [here, ...below.flatMap(({ spaces }) => spaces)],
		blocked: [...blocked, ...below.flatMap((ways) => ways.blocked)],
	};
}

/** Lays the tails of every space that the tree reaches. `ports` are flow and return of every loop, from left to right. */
export const layWays = (tree: Branch, ports: readonly PipeSoFar[], options: LayWaysOptions): LaidWays =>
	layBranch(tree, ports, options);
