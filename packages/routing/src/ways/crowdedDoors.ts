import { regionArea } from "@oxturn/geometry";
import { MOST_OPENED } from "../room/roomSetting.ts";
import { sum } from "../sum.ts";
import type { OwnLoops } from "./laidWays.ts";
import { capacity } from "./passages.ts";
import { doorLanesOf, type LoopPlan, NO_LOOPS, ownPassages, treeOf, type WaysSetting } from "./plan.ts";
import { loopsFor } from "./routeSpace.ts";
import { waysFrom } from "./territories.ts";
import { allBranches, type Branch, loopsBeyond } from "./tree.ts";
import { isSmallHall } from "./valves.ts";

/*
 * Where doorways cannot take the pipes of all that lies behind them, as few rooms as may be go without.
 */

/** A doorway, at the start of a branch, that takes fewer pipes than are to pass it. */
export interface Crowd {
	readonly branch: Branch;
	readonly pipes: number;
	readonly fit: number;
}

/** What is given up by. */
export interface Sparing {
	readonly setting: WaysSetting;
	/** By space: the fewest loops that can be enough for it. */
	readonly fewest: readonly number[];
}

/** The fewest loops that can be enough for each space, its spacing opened and its tails as long as the way to it. */
export function fewestLoops(setting: WaysSetting): number[] {
	const { floor, spaces, manifold, root } = setting;
	const ways = waysFrom(manifold.position, root, ownPassages(setting));
	return spaces.map(({ room, region }, space) => {
		const tails = 2 * (ways.get(space)?.length ?? 0);
		const opened = { ...room, spacing: MOST_OPENED * room.spacing };
		return loopsFor(regionArea(region), opened, tails, floor.system.maxLoopLength);
	});
}

/** The doorways that are too narrow for what lies behind them, the farthest from the manifold first. */
export function crowdsIn(plan: LoopPlan, setting: WaysSetting): Crowd[] {
	const loops = plan.map(sum);
	const { pitch, leastMargin } = doorLanesOf(setting);
	return allBranches(treeOf(loops, setting))
		.map((branch) => ({
			branch,
			pipes: 2 * loopsBeyond(branch, loops),
			fit: branch.passage ? capacity(branch.passage, pitch, leastMargin) : Infinity,
		}))
		.filter(({ pipes, fit }) => pipes > fit)
		.reverse();
}

interface Beyond {
	readonly space: number;
	readonly loops: number;
	/** Doorways before it. */
	readonly depth: number;
	/** mm2 */
	readonly area: number;
	/** Whether tails to other rooms pass it and warm it, so that it may do without a loop. */
	readonly isSmallHall: boolean;
	/** Whether its loops would be too long however far its spacing opens. */
	readonly isTooFar: boolean;
}

function beyondOf(branch: Branch, loops: readonly number[], sparing: Sparing, depth = 0): Beyond[] {
	const { space, children } = branch;
	const at = sparing.setting.spaces[space]!;
	const own: Beyond = {
		space,
		loops: loops[space]!,
		depth,
		area: regionArea(at.region),
		isSmallHall: isSmallHall(at, children.length),
		isTooFar: loops[space]! < sparing.fewest[space]!,
	};
	return [own, ...children.flatMap((child) => beyondOf(child, loops, sparing, depth + 1))];
}

/**
 * The spaces of a branch that have loops, in the order in which they keep them: halls last and what is too far, the others
 * with few pipes first, through few doorways, with much floor.
 */
export const inOrderOfKeeping = (branch: Branch, loops: readonly number[], sparing: Sparing): Beyond[] =>
	beyondOf(branch, loops, sparing)
		.filter((each) => each.loops > 0)
		.sort(
			(a, b) =>
				Number(a.isTooFar) - Number(b.isTooFar) ||
				Number(a.isSmallHall) - Number(b.isSmallHall) ||
				a.loops - b.loops ||
				a.depth - b.depth ||
				b.area - a.area ||
				a.space - b.space,
		);

/** The space that goes without: the last that relieves a doorway of so many loops by itself, or else of the most. */
function goesWithout(among: readonly Beyond[], left: ReadonlyMap<number, number>, over: number): number {
	const last = among.at(-1)!;
	if (last.isTooFar || last.isSmallHall) return last.space;
	const countOf = ({ space }: Beyond): number => left.get(space)!;
	const enough = among.filter((each) => countOf(each) >= over);
	const count = enough.length > 0 ? Math.min(...enough.map(countOf)) : Math.max(...among.map(countOf));
	return among.findLast((each) => countOf(each) === count)!.space;
}

/**
 * The loops of the spaces behind a crowded doorway that change for it: the rooms with the most have fewer, as far as their
 * spacing can open; then rooms go without, as few as may be, and the others have theirs back as far as there is place.
 */
export function lightened(
	plan: LoopPlan,
	{ branch, pipes, fit }: Crowd,
	sparing: Sparing,
): ReadonlyMap<number, OwnLoops> {
	const beyond = inOrderOfKeeping(branch, plan.map(sum), sparing);
	const left = new Map(beyond.map(({ space, loops }) => [space, loops]));
	let over = Math.max(1, Math.ceil((pipes - fit) / 2));
	const change = (space: number, by: number): void => {
		left.set(space, left.get(space)! + by);
		over += by;
	};
	while (over > 0) {
		const fuller = beyond.filter(({ space }) => left.get(space)! > sparing.fewest[space]!);
		const [fullest] = fuller.toSorted((a, b) => left.get(b.space)! - left.get(a.space)!);
		if (!fullest) break;
		change(fullest.space, -1);
	}
	while (over > 0) {
		const among = beyond.filter(({ space }) => left.get(space)! > 0);
		// Another doorway may have cost them all their loops.
		if (among.length === 0) break;
		const without = goesWithout(among, left, over);
		change(without, -left.get(without)!);
	}
	for (const { space, loops } of beyond)
		while (over < 0 && left.get(space)! > 0 && left.get(space)! < loops) change(space, 1);
	const changed = beyond.filter(({ space, loops }) => left.get(space) !== loops);
	return new Map(changed.map(({ space }) => [space, left.get(space)! > 0 ? [left.get(space)!] : NO_LOOPS]));
}
