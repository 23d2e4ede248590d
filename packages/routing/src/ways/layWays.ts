import type { System } from "@oxturn/floor";
import { dot, type Path, type Point, subtract } from "@oxturn/geometry";
import { type ClearanceRules, clearOfPipes, staysOnFloor } from "../tails/clearance.ts";
import { EASE } from "../tails/tracks.ts";
import { alongEdge, type Crossing, crossRoom } from "./crossRoom.ts";
import { fanOut } from "./fan.ts";
import { beside, type Lane, laneThrough, stripBeside } from "./lanes.ts";
import { capacity, type Passage } from "./passages.ts";
import type { Space } from "./spaces.ts";
import { type Branch, loopsBeyond } from "./tree.ts";
import { inOrder, rightOf, type Turns, turnsOf } from "./turns.ts";

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
	/** From the wall to the manifold's ports, mm. */
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
const MAX_TURNS = 10;
/** What it costs to cut a heated room of a square metre in two, m of pipe. */
const SPLIT_PRICE = 3;
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

/** Lanes of a door's pipes, packed to one jamb or nearest to where they come from. */
function exitLanes(passage: Passage, count: number, to: "low" | "high" | number, options: LayWaysOptions): Lane[] {
	const width = (count - 1) * options.pitch;
	const spare = passage.high - passage.low - width;
	const margin = Math.max(options.leastMargin, Math.min(options.margin, spare / 2));
	const first = passage.low + margin;
	const last = passage.high - margin - width;
	const start = to === "low" ? first : to === "high" ? last : Math.min(Math.max(to - width / 2, first), last);
	return Array.from({ length: count }, (_, i) => laneThrough(passage, start + i * options.pitch));
}

function layTurns(
	branch: Branch,
	turns: Turns,
	pipes: readonly PipeSoFar[],
	own: { readonly left: number; readonly right: number },
	options: LayWaysOptions,
): Attempt {
	const { spaces, pitch, rules, system } = options;
	const { region } = spaces[branch.space]!;
	const { minBendRadius, outerDiameter } = system.pipe;
	const counts = branch.children.map((child) => 2 * loopsBeyond(child, options.loops.map(sumOf)));
	const countOf = (doors: readonly number[]): number => doors.reduce((sum, door) => sum + counts[door]!, 0);
	const middleDoors = [...turns.farLeft, ...turns.ahead, ...turns.farRight];
	const nLeft = countOf(turns.left);
	const ownLeft = 2 * (middleDoors.length > 0 ? own.left : own.left + own.right);
	const nMiddle = countOf(middleDoors);
	const middleFrom = nLeft + ownLeft;
	const middleTo = middleFrom + nMiddle;
	const ownRight = middleDoors.length > 0 ? 2 * own.right : 0;
	const rightFrom = middleTo + ownRight;
	const reachIn = branch.passage ? branch.passage.halfDepth : options.manifoldDepth;
	const nearest = EASE * minBendRadius + SLACK + (branch.passage ? 0 : options.manifoldDepth);
	const axis = pipes[0]!.lane.axis;
	const right = rightOf(axis);
	const origin = pipes[0]!.lane.at;
	const lateral = (p: Point): number => dot(subtract(p, origin), right);

	const exits: Lane[][] = branch.children.map(() => []);
	for (const door of [...turns.left, ...turns.farRight])
		exits[door] = exitLanes(branch.children[door]!.passage!, counts[door]!, "low", options);
	for (const door of [...turns.right, ...turns.farLeft])
		exits[door] = exitLanes(branch.children[door]!.passage!, counts[door]!, "high", options);

	// The middle group may have to spread out, or to shift to a door that lies straight on.
	const middle = pipes.slice(middleFrom, middleTo).map(({ lane }) => lane);
	let lanes: readonly Lane[] = middle;
	if (middle.length > 0) {
		const places = middle.map((lane) => lateral(lane.at));
		const centre = (places[0]! + places.at(-1)!) / 2;
		const targets = places.map((_, i) => centre + (i - (places.length - 1) / 2) * pitch);
		const [ahead] = turns.ahead;
		if (ahead !== undefined) {
			const passage = branch.children[ahead]!.passage!;
			const before = countOf(turns.farLeft);
			const group = places.slice(before, before + counts[ahead]!);
			const wanted = (group[0]! + group.at(-1)!) / 2 - lateral(passage.middle);
			exits[ahead] = exitLanes(passage, counts[ahead]!, wanted, options);
			const first = lateral(exits[ahead]![0]!.at);
			for (let i = 0; i < targets.length; i++) targets[i] = first + (i - before) * pitch;
		}
		const from = Math.max(nearest, nearest + (Math.max(nLeft, pipes.length - rightFrom) - 1) * pitch) + reachIn;
		const fan = fanOut({
			lanes: middle,
			shifts: targets.map((target, i) => target - places[i]!),
			from: nLeft + pipes.length - rightFrom > 0 ? from : reachIn + SLACK,
			apart: branch.passage ? pitch : outerDiameter + 3,
			minBendRadius,
		});
		lanes = fan.lanes;
	}

	const laid: Path[] = [];
	const lay = (
		pipe: PipeSoFar,
		exit: Lane,
		door: number,
		crossing: Crossing | undefined,
		rank: number,
	): Path | undefined => {
		const passage = branch.children[door]!.passage!;
		const path = crossing
			? crossRoom({
					space: region,
					entrance: pipe.lane,
					exit,
					crossing,
					wallDistance: nearest + rank * pitch,
					reachIn,
					reachOut: passage.halfDepth,
					minBendRadius,
				})
			: alongEdge(
					[stripBeside(pipe.lane, "left", OUTSIDE, FAR, 4 * minBendRadius)],
					pipe.lane.at,
					exit.at,
					1,
					minBendRadius,
				);
		if (!path || !staysOnFloor(path, rules) || !clearOfPipes(path, laid, rules)) {
			if ((globalThis as any).process?.env?.D2)
				console.log(
					"   fail",
					spaces[branch.space]!.room.id,
					"->",
					passage.doorway.id,
					JSON.stringify(crossing),
					"rank",
					rank,
					path ? (staysOnFloor(path, rules) ? "not clear" : "off floor") : "no edge",
				);
			return undefined;
		}
		laid.push(path);
		return path;
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
		let i = 0;
		for (const door of doors) {
			starts[door] = from + i;
			for (const exit of exits[door]!) {
				const path = lay(laneOf(from + i), exit, door, crossing, rankOf(i, total));
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
	const aheadFrom = middleFrom + countOf(turns.farLeft);
	layDoors(turns.ahead, aheadFrom, undefined, outward, fanned);
	layDoors(turns.farRight, aheadFrom + countOf(turns.ahead), { wall: "left", across: "right" }, outward, fanned);
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
	const { region, room } = options.spaces[branch.space]!;
	const own = options.loops[branch.space]!;
	const first = pipes[0]!.lane;
	const last = pipes.at(-1)!.lane;
	const loops = options.loops.map(sumOf);
	const doors = branch.children.map((child) => ({ passage: child.passage!, pipes: 2 * loopsBeyond(child, loops) }));
	const middle: Point = [(first.at[0] + last.at[0]) / 2, (first.at[1] + last.at[1]) / 2];
	const at = branch.passage ? beside(middle, first.axis, branch.passage.halfDepth, 0) : middle;
	const splitPrice = room.heated ? SPLIT_PRICE * sumOf(own) * 2 : 0;
	let best: Attempt | undefined;
	for (const turns of turnsOf({ space: region, at, axis: first.axis, doors, splitPrice }).slice(0, MAX_TURNS)) {
		const attempt = layTurns(branch, turns, pipes, own, options);
		if (!best || attempt.failed < best.failed) best = attempt;
		if (best.failed === 0) break;
	}
	const { turns, paths, exits, starts } = best!;
	const slots = best!.own.map(
		([from, to]): Slot => ({ at: slotAt(branch, pipes, from, to), pipes: pipes.slice(from, to) }),
	);
	const beyond = new Map<number, LaidWays>();
	const blocked: LaidWays["blocked"][number][] = [];
	const crossing: CrossingBundle[] = [];
	for (const door of inOrder(turns)) {
		const child = branch.children[door]!;
		const ways = paths[door]!;
		const laid = ways.filter((path) => path !== undefined);
		if (laid.length < ways.length || ways.length > capacity(child.passage!, options.pitch, options.leastMargin)) {
			blocked.push({ branch: child, pipes: ways.length, fit: laid.length });
			continue;
		}
		crossing.push({ passage: child.passage!, paths: laid });
		const next = laid.map((path, i): PipeSoFar => {
			const { port, path: before } = pipes[starts[door]! + i]!;
			return { port, path: [...before.slice(0, -1), ...path], lane: exits[door]![i]! };
		});
		beyond.set(door, layBranch(child, next, options));
	}
	const here: LaidSpace = { space: branch.space, passage: branch.passage, slots, crossing };
	const below = [...beyond.values()];
	return {
		spaces: [here, ...below.flatMap(({ spaces }) => spaces)],
		blocked: [...blocked, ...below.flatMap((ways) => ways.blocked)],
	};
}

/** Lays the tails of every space that the tree reaches. `ports` are flow and return of every loop, from left to right. */
export const layWays = (tree: Branch, ports: readonly PipeSoFar[], options: LayWaysOptions): LaidWays =>
	layBranch(tree, ports, options);
