import { regionArea } from "@oxturn/geometry";
import type { RoutedRoom } from "../room/roomSetting.ts";
import { sum } from "../sum.ts";
import { type LaidSpace, type OwnLoops, wayVariants } from "./laidWays.ts";
import { coldArea, WARM_ENOUGH } from "./ownFloor.ts";
import { NO_LOOPS } from "./plan.ts";
import type { Planner } from "./planner.ts";
import { coldFloor, loopsWanted, passing, piecesOf, type RoutedSpace, type SpaceContext } from "./routeSpace.ts";

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
	/** Gives spaces so many loops, and no other number from then on; false where that leaves tails without a way. */
	readonly fix: (own: ReadonlyMap<number, OwnLoops>) => boolean;
}

export interface BetterPlanOptions {
	readonly planner: Planner;
	readonly context: SpaceContext;
	/** Ids of rooms that are to have no loops. */
	readonly withoutLoops: ReadonlySet<string>;
	/** Whether tails are led otherwise for a piece of a space that no loop of it comes to, too. */
	readonly mindsPieces: boolean;
}

const missingIn = ({ routed }: RoutedSpace): number => routed.reduce((sum, { room }) => sum + room.missing, 0);

const sameLoops = (a: OwnLoops, b: OwnLoops, isCut: boolean): boolean =>
	sum(a) === sum(b) && (!isCut || a.every((loops, slot) => loops === (b[slot] ?? 0)));

/** What has been found out about spaces while their plan was bettered. */
interface Findings {
	/** Loops that spaces have been found to need, and all that can be laid to them. */
	readonly raised: Map<number, OwnLoops>;
	readonly most: Map<number, OwnLoops>;
	/** Spaces whose loops stay too long, that look for floor farther on, and whose missing loops nothing helps. */
	readonly full: Set<number>;
	readonly far: Set<number>;
	readonly stuck: Set<number>;
	/** The variant in which tails through a space have closed up last. */
	readonly closed: Map<number, number>;
	/** Ways through a space that have been tried: the one that leaves the fewest loops out. */
	readonly tries: Map<number, { readonly variant: number; readonly short: number }>;
	/** Spaces with no other way left. */
	readonly tried: Set<number>;
}

const nothingFound = (): Findings => ({
	raised: new Map(),
	most: new Map(),
	full: new Set(),
	far: new Set(),
	stuck: new Set(),
	closed: new Map(),
	tries: new Map(),
	tried: new Set(),
});

/** A plan that is being bettered. */
interface Bettering extends Findings, BetterPlanOptions {}

const laidAt = ({ planner }: Bettering, space: number): LaidSpace =>
	planner.current().laid.spaces.find((laid) => laid.space === space)!;

const isCrossed = (bettering: Bettering, space: number): boolean => laidAt(bettering, space).crossing.length > 0;

/** Has tails take one of the `wayVariants` through a space; false where that leaves tails without a way. */
const takeVariant = ({ planner: { current, step } }: Bettering, space: number, variant: number): boolean =>
	step(new Map(), { variants: new Map([...current().variants, [space, variant]]) });

/**
 * How many pieces of a space have no loop though the tails that pass leave them cold and they are much of its floor: a loop
 * to one of them would have to cross tails. Where a space has no loops, or no more than can be laid, that is known.
 */
function cutOffIn(bettering: Bettering, space: number): number {
	const { planner, context, most, mindsPieces } = bettering;
	if (!mindsPieces || most.has(space) || sum(planner.current().loops[space]!) === 0) return 0;
	const laid = laidAt(bettering, space);
	const { room, region } = context.spaces[space]!;
	const served = new Set(piecesOf(context, laid).filter((_, slot) => laid.slots[slot]!.pipes.length > 0));
	const tails = passing(laid);
	return coldFloor(context, laid, tails).filter(
		(piece) => !served.has(piece) && coldArea([piece], tails, room.spacing) > WARM_ENOUGH * regionArea(region),
	).length;
}

/** Loops that are missing in a space, and pieces of it that are to have one. */
const shortIn = (bettering: Bettering, routed: RoutedSpace): number =>
	missingIn(routed) + cutOffIn(bettering, routed.space);

/** Keeps in mind how many loops a space is short of as the tails that pass lie; gives the way that leaves the fewest out. */
function compareWays({ planner, tries }: Bettering, space: number, short: number): number {
	const variant = planner.current().variants.get(space) ?? 0;
	const known = tries.get(space);
	const best = !known || short < known.short ? { variant, short } : known;
	tries.set(space, best);
	return best.variant;
}

/** Leads the tails that pass a space in another way, since it is short of so many loops; false when there is none left. */
function leadOtherwise(bettering: Bettering, space: number, short: number): boolean {
	const { planner, tried } = bettering;
	if (!isCrossed(bettering, space) || tried.has(space)) return false;
	const variant = planner.current().variants.get(space) ?? 0;
	const best = compareWays(bettering, space, short);
	if (variant === LAST_VARIANT) tried.add(space);
	const next = variant === LAST_VARIANT ? best : variant + 1;
	if (next !== variant && takeVariant(bettering, space, next)) return true;
	tried.add(space);
	return false;
}

/** Whether a space has lost its loops though the tails that pass leave it cold: with loops they lie so that it needs none. */
function isLost(bettering: Bettering, space: number): boolean {
	const { planner, context, most } = bettering;
	const { room, region } = context.spaces[space]!;
	if (most.has(space) || sum(planner.current().loops[space]!) > 0) return false;
	return coldArea([region], passing(laidAt(bettering, space)), room.spacing) > WARM_ENOUGH * regionArea(region);
}

/** Lets a space's loops begin far beyond their ports; false where that has been tried. */
function lookFarther(bettering: Bettering, space: number): boolean {
	const { far } = bettering;
	if (!isCrossed(bettering, space) || far.has(space)) return false;
	far.add(space);
	return true;
}

/** Has the tails that pass a space close up to its walls; where that does not serve either, they lie as serves best. */
function closeUp(bettering: Bettering, space: number, short: number): boolean {
	const { planner, closed } = bettering;
	if (!isCrossed(bettering, space)) return false;
	const now = planner.current().variants.get(space) ?? 0;
	const best = compareWays(bettering, space, short);
	const last = closed.get(space) ?? LAST_VARIANT;
	const left = wayVariants.flatMap((_, variant) => (variant > last ? [variant] : []));
	for (const next of [...left, ...(now === best ? [] : [best])]) {
		closed.set(space, Math.max(last, next));
		if (takeVariant(bettering, space, next)) return true;
	}
	return false;
}

/** Gives a space with loops over the limit one more wherever that is. */
function shorten(bettering: Bettering, { space, routed }: RoutedSpace): void {
	const { planner, raised, most, full } = bettering;
	const own = planner.current().loops[space]!;
	const more = changed(own, laidAt(bettering, space), routed, ({ tooLong }) => (tooLong > 0 ? 1 : 0));
	// What could not be laid once is not asked for again.
	if (!most.has(space) && planner.step(new Map([[space, more]]))) raised.set(space, more);
	else full.add(space);
}

/**
 * Where a loop cannot be laid, other ways are tried for the tails that pass, then a corridor between these, which they
 * widen where they close up to the walls; then no port is kept for it.
 */
function findRoom(bettering: Bettering, spaceShort: RoutedSpace): void {
	const { planner, most, stuck } = bettering;
	const { space, routed } = spaceShort;
	const short = shortIn(bettering, spaceShort);
	if (leadOtherwise(bettering, space, short)) return;
	const isMissing = missingIn(spaceShort) > 0;
	if ((isMissing && lookFarther(bettering, space)) || closeUp(bettering, space, short)) return;
	if (!isMissing) {
		stuck.add(space);
		return;
	}
	const own = planner.current().loops[space]!;
	const fewer = changed(own, laidAt(bettering, space), routed, ({ missing }) => -missing);
	if (planner.step(new Map([[space, fewer]]))) most.set(space, fewer);
	else stuck.add(space);
}

/** Settles a plan, and betters it from then on. */
export function betterPlan(options: BetterPlanOptions): Betterment {
	const bettering: Bettering = { ...nothingFound(), ...options };
	const { planner, context, withoutLoops } = options;
	const { raised, most, full, far, stuck } = bettering;
	for (const [space, { room }] of context.spaces.entries()) if (withoutLoops.has(room.id)) most.set(space, NO_LOOPS);
	settle(planner, context, raised, most);
	return {
		isFull: (space) => full.has(space),
		isFar: (space) => far.has(space),
		faults: (routed) => ({
			long: routed.filter(({ space, routed: rooms }) => !full.has(space) && rooms.some(({ room }) => room.tooLong > 0)),
			short: routed.filter((each) => !stuck.has(each.space) && shortIn(bettering, each) > 0),
		}),
		mend: ({ long, short: [first] }) => {
			for (const space of long) shorten(bettering, space);
			if (first) findRoom(bettering, first);
			do settle(planner, context, raised, most);
			while (first && isLost(bettering, first.space) && leadOtherwise(bettering, first.space, Infinity));
		},
		fix: (own) => {
			for (const [space, loops] of own) most.set(space, loops);
			return planner.step(own);
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
