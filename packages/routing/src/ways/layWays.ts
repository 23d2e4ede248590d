import { direction, type Path, type Point, pointBetween } from "@oxturn/geometry";
import { beside } from "../tails/lanes.ts";
import type { CrossingBundle, LaidSpace, LaidWays, LayWaysOptions, PipeSoFar, Slot } from "./laidWays.ts";
import type { LaidTurns } from "./layTurns.ts";
import { capacity } from "./passages.ts";
import { bestOrder, crossingOf, layOrder } from "./throughSpace.ts";
import type { Branch } from "./tree.ts";
import { inOrder } from "./turns.ts";

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

/** Takes the tails of a branch through its space and on through its doors. `pipes` are all of its pipes, from left to right. */
function layBranch(branch: Branch, pipes: readonly PipeSoFar[], options: LayWaysOptions): LaidWays {
	if (pipes.length === 0) return { spaces: [], blocked: [] };
	const crossing = crossingOf(branch, pipes, options);
	const { farDoors, variant } = crossing;
	const best = bestOrder(crossing);
	const { turns, failed } = best.laid;
	const blocked = blockedAt(branch, best.laid, options);
	if (options.allOrNone && blocked.length > 0) return { spaces: [], blocked };
	const lay = (far: readonly number[], isTight: boolean): LaidTurns =>
		layOrder(crossing, turns, best.manner, { farDoors: far, mostFailed: failed, isTight });
	const closer = variant.closeUp === "as they are" ? lay(farDoors, true) : best.laid;
	const laid = closer.failed > failed ? best.laid : closer;
	const isTight = variant.closeUp === "anew" || laid !== best.laid;
	let found = layBeyond(branch, laid, pipes, options);
	// A door may lead into a room by one of its jambs only, so the other is tried for those behind which tails end.
	for (const [door, child] of branch.children.entries()) {
		if (!found.blocked.some((block) => isBeyond(child, block.branch))) continue;
		const other = lay([...farDoors, door], isTight);
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

/** The doors of a room that cannot take their tails. */
function blockedAt(branch: Branch, { turns, paths }: LaidTurns, { doorLanes }: LayWaysOptions): LaidWays["blocked"] {
	const { pitch, leastMargin } = doorLanes;
	return inOrder(turns).flatMap((door) => {
		const child = branch.children[door]!;
		const ways = paths[door]!;
		const laid = ways.filter((path) => path !== undefined);
		const fit = Math.min(laid.length, capacity(child.passage!, pitch, leastMargin));
		return fit < ways.length ? [{ branch: child, pipes: ways.length, fit }] : [];
	});
}

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
	const blocked = blockedAt(branch, attempt, options);
	const crossing: CrossingBundle[] = [];
	const below: LaidWays[] = [];
	for (const door of inOrder(turns)) {
		const child = branch.children[door]!;
		if (blocked.some((each) => each.branch === child)) continue;
		const laid = paths[door]!.filter((path) => path !== undefined);
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
