import { regionArea } from "@oxturn/geometry";
import type { RoutedRoom } from "../roomSetting.ts";
import { sum } from "../sum.ts";
import { type LaidSpace, type OwnLoops, wayVariants } from "./layWays.ts";
import { coldArea, WARM_ENOUGH } from "./ownFloor.ts";
import { NO_LOOPS, type Planner } from "./plan.ts";
import { loopsWanted, passing, type RoutedSpace, type SpaceContext } from "./routeSpace.ts";

/*
 * How many loops a room needs depends on what the tails leave of it, and where the tails lie depends on how many
 * loops there are. So a first plan is laid, then bettered step by step; a step that leaves tails without a way is
 * not taken.
 */

const SETTLING_ROUNDS = 4;
/** The last of the variants in which tails keep their usual distance from walls. */
const LAST_VARIANT = wayVariants.findLastIndex(({ closeUp }) => closeUp === "no");

/** A plan that is bettered by what its rooms were routed to. */
export interface Betterment {
	/** Whether a space can have no other loop, so that its spacing has to open. */
	readonly isFull: (space: number) => boolean;
	/** Whether a space's loops may begin far beyond the ports, along a corridor that passing tails leave: no other way has served. */
	readonly isFar: (space: number) => boolean;
	/** What is left to better: spaces with loops over the limit, and with loops that could not be laid. */
	readonly faults: (routed: readonly RoutedSpace[]) => { readonly long: RoutedSpace[]; readonly short: RoutedSpace[] };
	/** Changes the plan for their sake. */
	readonly mend: (faults: ReturnType<Betterment["faults"]>) => void;
}

const missingIn = ({ routed }: RoutedSpace): number => routed.reduce((sum, { room }) => sum + room.missing, 0);

const sameLoops = (a: OwnLoops, b: OwnLoops, isCut: boolean): boolean =>
	sum(a) === sum(b) && (!isCut || a.every((loops, slot) => loops === (b[slot] ?? 0)));

/** Settles a plan, and betters it from then on. `withoutLoops` are ids of rooms that are to have none. */
export function betterPlan(planner: Planner, context: SpaceContext, withoutLoops: ReadonlySet<string>): Betterment {
	const { current, step } = planner;
	/** Loops that spaces have been found to need, and all that can be laid to them. */
	const raised = new Map<number, OwnLoops>();
	const most = new Map<number, OwnLoops>(
		context.spaces.flatMap(({ room }, i) => (withoutLoops.has(room.id) ? [[i, NO_LOOPS] as const] : [])),
	);
	const full = new Set<number>();
	const far = new Set<number>();
	const stuck = new Set<number>();
	/** The variant in which tails through a space have closed up last, and the one that they were led in before. */
	const closed = new Map<number, { readonly last: number; readonly before: number }>();
	/** Ways through a space that have been tried: the one that leaves the fewest loops out. */
	const tries = new Map<number, { readonly variant: number; readonly missing: number }>();
	const tried = new Set<number>();
	const laidAt = (space: number): LaidSpace => current().laid.spaces.find((laid) => laid.space === space)!;
	/** Leads the tails that pass a space in another way, since so many of its loops are missing; false when there is none left. */
	const leadOtherwise = (space: number, missing: number): boolean => {
		if (laidAt(space).crossing.length === 0 || tried.has(space)) return false;
		const variant = current().variants.get(space) ?? 0;
		const known = tries.get(space);
		const best = !known || missing < known.missing ? { variant, missing } : known;
		tries.set(space, best);
		if (variant === LAST_VARIANT) tried.add(space);
		const next = variant === LAST_VARIANT ? best.variant : variant + 1;
		if (next !== variant && step(new Map(), { variants: new Map([...current().variants, [space, next]]) })) return true;
		tried.add(space);
		return false;
	};
	/** Whether a space has lost its loops though the tails that pass leave it cold: with loops they lie so that it needs none. */
	const isLost = (space: number): boolean => {
		const { room, region } = context.spaces[space]!;
		if (most.has(space) || sum(current().loops[space]!) > 0) return false;
		return coldArea([region], passing(laidAt(space)), room.spacing) > WARM_ENOUGH * regionArea(region);
	};
	const lookFarther = ({ space }: RoutedSpace): boolean => {
		if (laidAt(space).crossing.length === 0 || far.has(space)) return false;
		far.add(space);
		return true;
	};
	/** Has the tails that pass a space close up to its walls; where that does not serve either, they lie as they did before. */
	const closeUp = ({ space }: RoutedSpace): boolean => {
		if (laidAt(space).crossing.length === 0) return false;
		const now = current().variants.get(space) ?? 0;
		const { last, before } = closed.get(space) ?? { last: LAST_VARIANT, before: now };
		const left = wayVariants.flatMap((_, variant) => (variant > last ? [variant] : []));
		for (const next of [...left, ...(now === before ? [] : [before])]) {
			closed.set(space, { last: Math.max(last, next), before });
			if (step(new Map(), { variants: new Map([...current().variants, [space, next]]) })) return true;
		}
		return false;
	};
	settle(planner, context, raised, most);
	return {
		isFull: (space) => full.has(space),
		isFar: (space) => far.has(space),
		faults: (routed) => ({
			long: routed.filter(({ space, routed: rooms }) => !full.has(space) && rooms.some(({ room }) => room.tooLong > 0)),
			short: routed.filter(
				({ space, routed: rooms }) => !stuck.has(space) && rooms.some(({ room }) => room.missing > 0),
			),
		}),
		mend: ({ long, short: [first] }) => {
			for (const { space, routed } of long) {
				const more = changed(current().loops[space]!, laidAt(space), routed, ({ tooLong }) => (tooLong > 0 ? 1 : 0));
				// What could not be laid once is not asked for again.
				if (!most.has(space) && step(new Map([[space, more]]))) raised.set(space, more);
				else full.add(space);
			}
			// Where a loop cannot be laid, other ways are tried for the tails that pass, then a corridor between these, which they
			// widen where they close up to the walls; then no port is kept for it.
			const missing = first ? missingIn(first) : 0;
			if (first && !leadOtherwise(first.space, missing) && !lookFarther(first) && !closeUp(first)) {
				const { space, routed } = first;
				const fewer = changed(current().loops[space]!, laidAt(space), routed, ({ missing }) => -missing);
				if (step(new Map([[space, fewer]]))) most.set(space, fewer);
				else stuck.add(space);
			}
			do settle(planner, context, raised, most);
			while (first && isLost(first.space) && leadOtherwise(first.space, Infinity));
		},
	};
}

/**
 * Gives every space the loops that its tails leave it in need of. A hall that needs one number of loops as tails lie with
 * the other, and the other as they lie with the one, is not to be cut in two.
 */
function settle(
	{ current, step }: Planner,
	context: SpaceContext,
	raised: ReadonlyMap<number, OwnLoops>,
	most: ReadonlyMap<number, OwnLoops>,
): void {
	const refused = new Set<string>();
	const had = new Set<string>();
	const keyOf = (space: number, own: OwnLoops): string => JSON.stringify([space, own]);
	for (let round = 0; round < SETTLING_ROUNDS; round++) {
		const changes = new Map<number, OwnLoops>();
		const whole = new Set(current().whole);
		for (const laid of current().laid.spaces) {
			const own = current().loops[laid.space]!;
			const { heated } = context.spaces[laid.space]!.room;
			if (!heated || most.has(laid.space)) continue;
			had.add(keyOf(laid.space, own));
			const least = raised.get(laid.space) ?? NO_LOOPS;
			const isCut = laid.slots.length > 1;
			const next = loopsWanted(context, laid).map(
				(wanted, slot) => wanted && Math.max(wanted, isCut ? (least[slot] ?? 0) : sum(least)),
			);
			if (refused.has(keyOf(laid.space, next)) || sameLoops(own, next, isCut)) continue;
			if (!isCut && had.has(keyOf(laid.space, next))) whole.add(laid.space);
			changes.set(laid.space, next);
		}
		if (changes.size === 0) return;
		if (step(changes, { whole })) continue;
		for (const [space, next] of changes)
			if (!step(new Map([[space, next]]), { whole })) refused.add(keyOf(space, next));
	}
}

/** A space's loops with those of each slot changed by what its room tells. Where nothing cuts it, it has one slot. */
function changed(
	own: OwnLoops,
	{ slots }: LaidSpace,
	routed: RoutedSpace["routed"],
	by: (room: RoutedRoom) => number,
): OwnLoops {
	const change = (slot: number): number =>
		routed.filter((each) => each.slot === slot).reduce((sum, { room }) => sum + by(room), 0);
	return slots.length > 1 ? slots.map((_, slot) => (own[slot] ?? 0) + change(slot)) : [sum(own) + change(0)];
}
