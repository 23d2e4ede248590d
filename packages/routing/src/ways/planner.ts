import { sum } from "../sum.ts";
import { placesAt } from "../tails/apron.ts";
import type { ClearanceRules } from "../tails/clearance.ts";
import { type Crowd, crowdsIn, fewestLoops, inOrderOfKeeping, lightened, type Sparing } from "./crowdedDoors.ts";
import type { GuestRooms } from "./guestRooms.ts";
import type { OwnLoops } from "./laidWays.ts";
import { capacity, type Passage } from "./passages.ts";
import { doorLanesOf, type LaidPlan, type LoopPlan, layPlan, type Plan, treeOf, type WaysSetting } from "./plan.ts";
import { allBranches, type Branch, loopsBeyond } from "./tree.ts";

/*
 * The plan in hand: a first one as far as it can be laid, and the steps from there.
 */

/** A space that stays without pipe, and what keeps its tails from it. */
export interface Blocked {
	readonly space: number;
	readonly passage: Passage;
	/** Pipes that should pass, that do, and that would fit through the doorway side by side. */
	readonly pipes: number;
	readonly fit: number;
	readonly places: number;
	/** Whether the doorway would take the space's tails too, so that it is the way to it that is too narrow. */
	readonly isWayThere: boolean;
}

/** The plan in hand, and how to change it. */
export interface Planner {
	readonly current: () => LaidPlan;
	/** Takes a step unless it leaves tails without a way. */
	readonly step: (changes: ReadonlyMap<number, OwnLoops>, other?: Partial<Plan>) => boolean;
	/** Gives loops back to spaces without, as far as there is a way for their tails by now; false where there is none. */
	readonly restore: () => boolean;
	readonly blocked: () => Blocked[];
}

const withLoops = (plan: LoopPlan, changes: ReadonlyMap<number, OwnLoops>): LoopPlan =>
	plan.map((own, space) => changes.get(space) ?? own);

const isBeyond = (branch: Branch, space: number): boolean =>
	branch.space === space || branch.children.some((child) => isBeyond(child, space));

/** A plan with as many loops as its doorways take. */
function throughDoorways(plan: LoopPlan, sparing: Sparing): LoopPlan {
	const [first] = crowdsIn(plan, sparing.setting);
	return first ? throughDoorways(withLoops(plan, lightened(plan, first, sparing)), sparing) : plan;
}

/** Lays a first plan. Where doorways do not take all of its tails, or no way leads to them, some spaces go without. */
export function startPlan(
	loops: LoopPlan,
	guests: ReadonlyMap<number, GuestRooms>,
	setting: WaysSetting,
	rules: ClearanceRules,
): Planner {
	const wanted = loops.map(sum);
	const sparing: Sparing = { setting, fewest: fewestLoops(setting) };
	const most = placesAt(setting.manifold);
	const lay = (plan: Plan, allOrNone = false): LaidPlan => layPlan(plan, guests, setting, rules, allOrNone);
	let current = lay({ loops: throughDoorways(loops, sparing), variants: new Map(), whole: new Set() });
	while (current.laid.blocked.length > 0) {
		let fewer = current.loops;
		for (const crowd of current.laid.blocked) fewer = withLoops(fewer, lightened(fewer, crowd, sparing));
		current = lay({ ...current, loops: throughDoorways(fewer, sparing) });
	}
	const given = inOrderOfKeeping(treeOf(wanted, setting), wanted, sparing)
		.map(({ space }) => space)
		.filter((space) => sum(current.loops[space]!) === 0);
	const isCrowded = current.loops.some((own, space) => sum(own) < wanted[space]!);
	const stillWithout = (): number[] => given.filter((space) => sum(current.loops[space]!) === 0);
	/** Plans that were in vain, with what has no way in them, and what had none for a space when it was tried last. */
	const vain = new Map<string, readonly Crowd[]>();
	const hindering = new Map<number, readonly Crowd[]>();

	/** Takes a plan, or tells which tails have no way in it. */
	const take = (changes: ReadonlyMap<number, OwnLoops>, other: Partial<Plan> = {}): readonly Crowd[] => {
		const plan = { ...current, ...other, loops: withLoops(current.loops, changes) };
		const crowds = crowdsIn(plan.loops, setting);
		if (crowds.length > 0) return crowds;
		// Where doorways are crowded, much is tried in vain.
		const next = lay(plan, isCrowded);
		if (next.laid.blocked.length === 0) current = next;
		return next.laid.blocked;
	};
	const hasPorts = (changes: ReadonlyMap<number, OwnLoops>): boolean =>
		sum(withLoops(current.loops, changes).flat()) <= Math.max(most, sum(current.loops.flat()));
	/** As `take`, but what was in vain is known for as long as nothing else changes. */
	const tryOnce = (space: number, count: number): readonly Crowd[] => {
		const key = JSON.stringify([space, count, current.loops, [...current.variants], [...current.whole]]);
		const crowds = vain.get(key) ?? take(new Map([[space, [count]]]));
		vain.set(key, crowds);
		hindering.set(space, crowds);
		return crowds;
	};
	const restoreOne = (space: number): boolean => {
		const least = Math.min(wanted[space]!, sparing.fewest[space]!);
		for (let count = wanted[space]!; count >= least; count--)
			if (hasPorts(new Map([[space, [count]]])) && tryOnce(space, count).length === 0) return true;
		return false;
	};
	const restore = (): boolean => stillWithout().filter(restoreOne).length > 0;
	restore();
	return {
		current: () => current,
		step: (changes, other) => hasPorts(changes) && take(changes, other).length === 0,
		restore,
		blocked: () =>
			stillWithout().map((space) => hindranceOf(space, hindering.get(space) ?? [], wanted, current.loops, sparing)),
	};
}

/**
 * What keeps the tails of a space without loops from it, on the way that they would take beside all that are laid: a doorway
 * that is full, or else the way to one. `crowds` had no way when it was last tried.
 */
function hindranceOf(
	space: number,
	crowds: readonly Crowd[],
	wanted: readonly number[],
	plan: LoopPlan,
	{ setting, fewest }: Sparing,
): Blocked {
	const { pitch, leastMargin } = doorLanesOf(setting);
	const laid = plan.map(sum);
	const all = laid.map((loops, i) => Math.max(loops, wanted[i]!));
	const own = Math.min(wanted[space]!, fewest[space]!);
	const inAll = allBranches(treeOf(all, setting));
	const onWay = allBranches(treeOf(laid.with(space, own), setting)).filter((branch) => isBeyond(branch, space));
	const doors = onWay.flatMap((branch) => {
		const { passage } = branch;
		if (!passage) return [];
		const same = inAll.find((each) => each.passage?.doorway.id === passage.doorway.id);
		const fit = 2 * loopsBeyond(branch, laid);
		const pipes = Math.max(fit + 2 * own, same ? 2 * loopsBeyond(same, all) : 0);
		return [{ space, passage, pipes, fit, places: capacity(passage, pitch, leastMargin) }];
	});
	const narrow = doors.find(({ fit, places }) => fit + 2 * own > places);
	if (narrow) return { ...narrow, isWayThere: false };
	const crowded = new Set(crowds.map(({ branch }) => branch.passage?.doorway.id));
	const behind = doors.find(({ passage }) => crowded.has(passage.doorway.id)) ?? doors.at(-1)!;
	return { ...behind, isWayThere: true };
}
