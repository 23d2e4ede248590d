import type { System } from "@oxturn/floor";
import { direction, type Path, type Point, pointBetween } from "@oxturn/geometry";
import { sum } from "../sum.ts";
import type { Entrance } from "../tails/apron.ts";
import type { ClearanceRules } from "../tails/clearance.ts";
import { beside, type Lane } from "../tails/lanes.ts";
import { type BestTurns, bestTurns } from "./bestTurns.ts";
import type { DoorLanes } from "./exitLanes.ts";
import type { Manner } from "./laying.ts";
import { type LaidTurns, layTurns } from "./layTurns.ts";
import { capacity, type Passage } from "./passages.ts";
import type { Space } from "./spaces.ts";
import { type Branch, loopsBeyond } from "./tree.ts";
import { turnsOf } from "./turnOrders.ts";
import { type Door, inOrder, type Turns } from "./turns.ts";

/** How many loops a space has of its own: where tails cut it, one number a slot, from left to right. */
export type OwnLoops = readonly number[];

/** Whether tails may leave a wall opposite their door and go straight over a room. */
export interface OverRooms {
	readonly isAllowed: boolean;
	/** What it costs to cut a heated room: its floor may take another loop for every piece, m of pipe. */
	readonly splitPrice: number;
}

export interface LayWaysOptions {
	readonly system: System;
	readonly spaces: readonly Space[];
	readonly loops: readonly OwnLoops[];
	/** By space: which of the `wayVariants` its tails take; the first where it is not named. */
	readonly variants: ReadonlyMap<number, number>;
	/** Spaces that tails may cut in two only where there is no other way. */
	readonly whole: ReadonlySet<number>;
	readonly over: OverRooms;
	/** What has been laid for the same pipes before: most rooms stay as they are from plan to plan. */
	readonly laidBefore: Map<string, BestTurns>;
	readonly rules: ClearanceRules;
	readonly doorLanes: DoorLanes;
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
	/** Where its own loops begin: one place, or several where tails cut it. */
	readonly slots: readonly Slot[];
	readonly crossing: readonly CrossingBundle[];
	/** How these turn in the space. */
	readonly turns: Turns;
}

/** A place between passing tails for the space's own loops. */
export interface Slot {
	/** Where it opens into the space. */
	readonly at: Point;
	/** Two a loop, from left to right; none where the space has no loop there. */
	readonly pipes: readonly PipeSoFar[];
	/** The tails that pass on its left and on its right, where any do. */
	readonly between: Entrance["between"];
	/** A place on its floor, where that lies behind tails that go over the space. */
	readonly inside: Point | undefined;
	/** The way of its pipes through the space to there; none where they begin as they come in. */
	readonly led: readonly Path[];
	/** From the ends of its pipes on to where it opens, mm. */
	readonly depth: number;
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

interface WayVariant {
	/** How many of the likeliest orders of turns that fit are passed over. */
	readonly skips: number;
	/** Whether tails come in by the far jamb of the space's door. */
	readonly isFarJamb: boolean;
	/** Whether tails through the space close up to its walls: in the order that has a place for all, or in one looked for anew. */
	readonly closeUp: "no" | "as they are" | "anew";
}

/** Ways that tails can take into a space and through it, the likeliest first. */
export const wayVariants: readonly WayVariant[] = [
	{ skips: 0, isFarJamb: false, closeUp: "no" },
	{ skips: 0, isFarJamb: true, closeUp: "no" },
	{ skips: 1, isFarJamb: false, closeUp: "no" },
	{ skips: 2, isFarJamb: false, closeUp: "no" },
	{ skips: 3, isFarJamb: false, closeUp: "no" },
	{ skips: 0, isFarJamb: false, closeUp: "as they are" },
	{ skips: 0, isFarJamb: false, closeUp: "anew" },
];

/** The price of cutting what had best stay whole, m of pipe. */
const SPLIT_WHOLE_PRICE = 1000;

/** An empty slot beside all other pipes opens this far from the last of them, mm. */
const BESIDE = 100;

/** Just inside the space, in the middle of a slot's pipes, between those on either side of it, or beside them all. */
function slotAt(branch: Branch, pipes: readonly PipeSoFar[], from: number, to: number): Point {
	const left = pipes[from < to ? from : from - 1]?.lane;
	const right = pipes[from < to ? to - 1 : to]?.lane;
	const [a, b] = [left ?? right!, right ?? left!];
	const middle = pointBetween(a.at, b.at, 0.5);
	const aside = left ? (right ? 0 : BESIDE) : -BESIDE;
	return beside(middle, a.axis, branch.passage?.halfDepth ?? 0, aside);
}

const keyOfDoor = ({ passage, pipes }: Door): string => `${passage.doorway.id} ${passage.from} ${pipes}`;

/** Takes the tails of a branch through its space and on through its doors. `pipes` are all of its pipes, from left to right. */
function layBranch(branch: Branch, pipes: readonly PipeSoFar[], options: LayWaysOptions): LaidWays {
	if (pipes.length === 0) return { spaces: [], blocked: [] };
	const space = options.spaces[branch.space]!;
	const lanes = pipes.map(({ lane }) => lane);
	const loops = options.loops.map(sum);
	const doors = branch.children.map((child) => ({ passage: child.passage!, pipes: 2 * loopsBeyond(child, loops) }));
	const first = lanes[0]!;
	const middle = pointBetween(first.at, lanes.at(-1)!.at, 0.5);
	const mayGoOver = options.over.isAllowed;
	const cut = space.room.heated ? options.over.splitPrice : 0;
	const splitPrice = options.whole.has(branch.space) ? SPLIT_WHOLE_PRICE : cut;
	const ways = turnsOf({
		space: space.region,
		at: branch.passage ? beside(middle, first.axis, branch.passage.halfDepth, 0) : middle,
		axis: first.axis,
		doors,
		mayGoOver,
		splitPrice,
	});
	const variantOf = (space: number): WayVariant => wayVariants[options.variants.get(space) ?? 0]!;
	const { skips, closeUp } = variantOf(branch.space);
	const attempt = (
		turns: Turns,
		manner: Manner,
		farJambs: readonly number[],
		mostFailed: number,
		isTight = closeUp === "anew",
	): LaidTurns =>
		layTurns({
			space,
			passage: branch.passage,
			manifoldDepth: options.manifoldDepth,
			doors,
			turns,
			lanes,
			own: options.loops[branch.space]!,
			manner,
			farJambs: new Set(farJambs),
			isTight,
			mostFailed,
			doorLanes: options.doorLanes,
			system: options.system,
			rules: options.rules,
		});
	const farDoors = branch.children.flatMap(({ space: child }, door) => (variantOf(child).isFarJamb ? [door] : []));
	const key = JSON.stringify([
		branch.space,
		lanes,
		doors.map(keyOfDoor),
		options.loops[branch.space],
		farDoors,
		skips,
		closeUp === "anew",
		mayGoOver,
		splitPrice,
	]);
	const known = options.laidBefore.get(key);
	const best =
		known ??
		bestTurns(ways, skips, !branch.passage, (turns, manner, mostFailed) =>
			attempt(turns, manner, farDoors, mostFailed),
		);
	if (!known) options.laidBefore.set(key, best);
	const { manner } = best;
	const { turns, failed } = best.laid;
	const closer = closeUp === "as they are" ? attempt(turns, manner, farDoors, failed, true) : best.laid;
	const laid = closer.failed > failed ? best.laid : closer;
	const isTight = closeUp === "anew" || laid !== best.laid;
	let found = layBeyond(branch, laid, pipes, options);
	// A door may lead into a room by one of its jambs only, so the other is tried for those behind which tails end.
	for (const [door, child] of branch.children.entries()) {
		if (!found.blocked.some((block) => isBeyond(child, block.branch))) continue;
		const other = attempt(turns, manner, [...farDoors, door], failed, isTight);
		if (other.failed > failed) continue;
		const beyond = layBeyond(branch, other, pipes, options);
		if (blockedPipes(beyond) < blockedPipes(found)) found = beyond;
	}
	return found;
}

const blockedPipes = ({ blocked }: LaidWays): number => blocked.reduce((sum, { pipes }) => sum + pipes, 0);

const isBeyond = (branch: Branch, other: Branch): boolean =>
	branch.children.some((child) => child === other || isBeyond(child, other));

/** Pairs of pipes led on by paths of which some may be missing: a loop needs both. */
function ledOn(pipes: readonly PipeSoFar[], paths: readonly (Path | undefined)[]): PipeSoFar[] {
	const on = pipes.map(({ port, path: before }, i): PipeSoFar | undefined => {
		const path = paths[i];
		if (!path) return undefined;
		const [back, at] = path.slice(-2) as [Point, Point];
		return { port, path: [...before.slice(0, -1), ...path], lane: { at, axis: direction(back, at), bends: [] } };
	});
	return on.filter((pipe, i): pipe is PipeSoFar => pipe !== undefined && on[i ^ 1] !== undefined);
}

const middleOf = (pipes: readonly PipeSoFar[]): Point | undefined => {
	const [first, last] = [pipes[0]?.lane.at, pipes.at(-1)?.lane.at];
	return first && last && pointBetween(first, last, 0.5);
};

/** Goes on from one room's attempt through all of its doors. */
function layBeyond(branch: Branch, attempt: LaidTurns, pipes: readonly PipeSoFar[], options: LayWaysOptions): LaidWays {
	const { turns, paths, exits, starts, own } = attempt;
	const depth = branch.passage?.halfDepth ?? 0;
	const passing = new Map<number, Path>();
	for (const [door, start] of starts.entries())
		for (const [i, path] of paths[door]!.entries()) if (path) passing.set(start + i, path);
	const slots = own.map((place): Slot => {
		const { from, to, inside } = place;
		const between = { left: passing.get(from - 1), right: passing.get(to) };
		if (!inside)
			return { at: slotAt(branch, pipes, from, to), pipes: pipes.slice(from, to), between, inside, led: [], depth };
		const laid = ledOn(pipes.slice(from, to), place.paths);
		const led = place.paths.filter((path) => path !== undefined);
		return { at: middleOf(laid) ?? inside, pipes: laid, between, inside, led, depth: 0 };
	});
	const blocked: LaidWays["blocked"][number][] = [];
	const crossing: CrossingBundle[] = [];
	const below: LaidWays[] = [];
	for (const door of inOrder(turns)) {
		const child = branch.children[door]!;
		const ways = paths[door]!;
		const laid = ways.filter((path) => path !== undefined);
		const fit = Math.min(laid.length, capacity(child.passage!, options.doorLanes.pitch, options.doorLanes.leastMargin));
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
	const here: LaidSpace = { space: branch.space, passage: branch.passage, slots, crossing, turns };
	return {
		spaces: [here, ...below.flatMap(({ spaces }) => spaces)],
		blocked: [...blocked, ...below.flatMap((ways) => ways.blocked)],
	};
}

/** Lays the tails of every space that the tree reaches. `ports` are flow and return of every loop, from left to right. */
export const layWays = (tree: Branch, ports: readonly PipeSoFar[], options: LayWaysOptions): LaidWays =>
	layBranch(tree, ports, options);
