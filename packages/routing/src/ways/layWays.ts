import type { System } from "@oxturn/floor";
import type { Path, Point } from "@oxturn/geometry";
import type { ClearanceRules } from "../tails/clearance.ts";
import { beside, type Lane } from "../tails/lanes.ts";
import type { DoorLanes } from "./exitLanes.ts";
import { type LaidTurns, layTurns } from "./layTurns.ts";
import { capacity, type Passage } from "./passages.ts";
import type { Space } from "./spaces.ts";
import { type Branch, loopsBeyond } from "./tree.ts";
import { inOrder, type Turns, turnsOf } from "./turns.ts";

/** How many loops a space has of its own; where tails cut it in two, how many lie to their left and to their right. */
export interface OwnLoops {
	readonly left: number;
	readonly right: number;
}

export interface LayWaysOptions {
	readonly system: System;
	readonly spaces: readonly Space[];
	readonly loops: readonly OwnLoops[];
	/** By space: which of the `wayVariants` its tails take; the first where it is not named. */
	readonly variants: ReadonlyMap<number, number>;
	/** Spaces that tails may cut in two only where there is no other way. */
	readonly whole: ReadonlySet<number>;
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
	/** The tails that pass on its left and on its right, as far as there are any. */
	readonly between: readonly Path[];
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
	/** How many of the likeliest orders of turns are passed over. */
	readonly skips: number;
	/** Whether tails come in by the far jamb of the space's door. */
	readonly isFarJamb: boolean;
}

/** Ways that tails can take into a space and through it, the likeliest first. */
export const wayVariants: readonly WayVariant[] = [
	{ skips: 0, isFarJamb: false },
	{ skips: 0, isFarJamb: true },
	{ skips: 1, isFarJamb: false },
	{ skips: 2, isFarJamb: false },
	{ skips: 3, isFarJamb: false },
];

/** Turns that are tried in a room before its blocked doors are given up. */
const MAX_TURNS = 30;
/** Slants of a fan against its lanes, radians: the gentler ones first, the steeper ones where there is little depth. */
const SLANTS = [Math.PI / 4, Math.PI / 3, (5 * Math.PI) / 12];
/** What it costs to cut a heated room in two, m of pipe: it takes another loop. */
const SPLIT_PRICE = 25;
const SPLIT_WHOLE_PRICE = 1000;

/** An empty slot beside all other pipes opens this far from the last of them, mm. */
const BESIDE = 100;

/** Just inside the space, in the middle of a slot's pipes, between those on either side of it, or beside them all. */
function slotAt(branch: Branch, pipes: readonly PipeSoFar[], from: number, to: number): Point {
	const left = pipes[from < to ? from : from - 1]?.lane;
	const right = pipes[from < to ? to - 1 : to]?.lane;
	const [a, b] = [left ?? right!, right ?? left!];
	const middle: Point = [(a.at[0] + b.at[0]) / 2, (a.at[1] + b.at[1]) / 2];
	const aside = left ? (right ? 0 : BESIDE) : -BESIDE;
	return beside(middle, a.axis, branch.passage?.halfDepth ?? 0, aside);
}

/** Takes the tails of a branch through its space and on through its doors. `pipes` are all of its pipes, from left to right. */
function layBranch(branch: Branch, pipes: readonly PipeSoFar[], options: LayWaysOptions): LaidWays {
	if (pipes.length === 0) return { spaces: [], blocked: [] };
	const space = options.spaces[branch.space]!;
	const lanes = pipes.map(({ lane }) => lane);
	const loops = options.loops.map(({ left, right }) => left + right);
	const doors = branch.children.map((child) => ({ passage: child.passage!, pipes: 2 * loopsBeyond(child, loops) }));
	const [first, last] = [lanes[0]!, lanes.at(-1)!];
	const middle: Point = [(first.at[0] + last.at[0]) / 2, (first.at[1] + last.at[1]) / 2];
	const ways = turnsOf({
		space: space.region,
		at: branch.passage ? beside(middle, first.axis, branch.passage.halfDepth, 0) : middle,
		axis: first.axis,
		doors,
		splitPrice: options.whole.has(branch.space) ? SPLIT_WHOLE_PRICE : space.room.heated ? SPLIT_PRICE : 0,
	});
	const attempt = (turns: Turns, slant: number, farJambs: readonly number[], mostFailed: number): LaidTurns =>
		layTurns({
			space,
			passage: branch.passage,
			manifoldDepth: options.manifoldDepth,
			doors,
			turns,
			lanes,
			own: options.loops[branch.space]!,
			slant,
			farJambs: new Set(farJambs),
			mostFailed,
			doorLanes: options.doorLanes,
			system: options.system,
			rules: options.rules,
		});
	let best: { laid: LaidTurns; slant: number } | undefined;
	const variantOf = (space: number): WayVariant => wayVariants[options.variants.get(space) ?? 0]!;
	const skipped = Math.min(variantOf(branch.space).skips, ways.length - 1);
	const farDoors = branch.children.flatMap(({ space: child }, door) => (variantOf(child).isFarJamb ? [door] : []));
	for (const turns of ways.slice(skipped, skipped + MAX_TURNS)) {
		if (best?.laid.failed === 0) break;
		const spreads = turns.direct.length + turns.farLeft.length + turns.farRight.length > 0;
		for (const slant of spreads ? SLANTS : SLANTS.slice(0, 1)) {
			if (best?.laid.failed === 0) break;
			const laid = attempt(turns, slant, farDoors, best ? best.laid.failed - 1 : Infinity);
			if (!best || laid.failed < best.laid.failed) best = { laid, slant };
		}
	}
	const { laid, slant } = best!;
	let found = layBeyond(branch, laid, pipes, options);
	// A door may lead into a room by one of its jambs only, so the other is tried for those behind which tails end.
	for (const [door, child] of branch.children.entries()) {
		if (!found.blocked.some((block) => isBeyond(child, block.branch))) continue;
		const other = attempt(laid.turns, slant, [...farDoors, door], laid.failed);
		if (other.failed > laid.failed) continue;
		const beyond = layBeyond(branch, other, pipes, options);
		if (blockedPipes(beyond) < blockedPipes(found)) found = beyond;
	}
	return found;
}

const blockedPipes = ({ blocked }: LaidWays): number => blocked.reduce((sum, { pipes }) => sum + pipes, 0);

const isBeyond = (branch: Branch, other: Branch): boolean =>
	branch.children.some((child) => child === other || isBeyond(child, other));

/** Goes on from one room's attempt through all of its doors. */
function layBeyond(branch: Branch, attempt: LaidTurns, pipes: readonly PipeSoFar[], options: LayWaysOptions): LaidWays {
	const { turns, paths, exits, starts, own } = attempt;
	const passing = new Map<number, Path>();
	for (const [door, start] of starts.entries())
		for (const [i, path] of paths[door]!.entries()) if (path) passing.set(start + i, path);
	const slots = own.map(
		([from, to]): Slot => ({
			at: slotAt(branch, pipes, from, to),
			pipes: pipes.slice(from, to),
			between: [passing.get(from - 1), passing.get(to)].filter((path) => path !== undefined),
		}),
	);
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
	const here: LaidSpace = { space: branch.space, passage: branch.passage, slots, crossing };
	return {
		spaces: [here, ...below.flatMap(({ spaces }) => spaces)],
		blocked: [...blocked, ...below.flatMap((ways) => ways.blocked)],
	};
}

/** Lays the tails of every space that the tree reaches. `ports` are flow and return of every loop, from left to right. */
export const layWays = (tree: Branch, ports: readonly PipeSoFar[], options: LayWaysOptions): LaidWays =>
	layBranch(tree, ports, options);
