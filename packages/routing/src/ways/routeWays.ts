import type { Floor, Manifold, Room } from "@oxturn/floor";
import { offset, type Point, regionArea, union } from "@oxturn/geometry";
import type { RouteMemory } from "../memory.ts";
import { type RoutedRoom, STRETCHES } from "../routeRoom.ts";
import type { RoutedLoop } from "../routeZones.ts";
import { portPairs } from "../tails/apron.ts";
import type { ClearanceRules } from "../tails/clearance.ts";
import { tailPitch } from "../tails/pitch.ts";
import { clearanceRules } from "../tails/rules.ts";
import type { DoorLanes } from "./exitLanes.ts";
import { type GuestRooms, guestRooms } from "./guestRooms.ts";
import { layNecks, type Necks, pipesOf } from "./layNecks.ts";
import { type LaidSpace, type LaidWays, layWays, type OwnLoops, type PipeSoFar, wayVariants } from "./layWays.ts";
import { coldArea } from "./ownFloor.ts";
import type { Passage } from "./passages.ts";
import {
	loopsFor,
	loopsWanted,
	passing,
	type RoutedSpace,
	routeSpace,
	type SpaceContext,
	USUAL_TAILS,
} from "./routeSpace.ts";
import { keyOfLink, type Link, type SharedRooms, sharedRooms } from "./sharedRooms.ts";
import { depthIn, type Space } from "./spaces.ts";
import { type Branch, growTree, loopsBeyond } from "./tree.ts";

/*
 * How many loops a room needs depends on what the tails leave of it, and where the tails lie depends on how many
 * loops there are. So a first plan is laid, then bettered step by step; a step that leaves tails without a way is
 * not taken.
 */

export interface RouteWaysOptions {
	readonly floor: Floor;
	readonly manifold: Manifold;
	readonly spaces: readonly Space[];
	readonly passages: readonly Passage[];
	/** The space that the manifold hangs in. */
	readonly root: number;
	/** The spaces that this manifold serves. */
	readonly served: ReadonlySet<number>;
	/** Ids of rooms that have been found to get no loop that keeps the rules. */
	readonly withoutLoops: ReadonlySet<string>;
	/** Ids of rooms that have been found to share no loop that keeps the rules. */
	readonly apart: ReadonlySet<string>;
	readonly patternOf: (room: Room) => "serpentine" | "spiral" | "auto";
	/** How many rules a room's loops break. */
	readonly faults: (room: Room, loops: readonly RoutedLoop[]) => number;
	readonly memory: RouteMemory;
	readonly pulse: (room: Room) => void;
	readonly expired: () => boolean;
}

/** Tails that a doorway does not take, and the spaces that stay without. */
export interface Blocked {
	readonly spaces: readonly number[];
	readonly passage: Passage;
	readonly pipes: number;
	readonly fit: number;
}

export interface RoutedWays {
	readonly spaces: readonly RoutedSpace[];
	readonly laid: LaidWays;
	readonly blocked: readonly Blocked[];
	readonly necks: Necks;
}

/** From a jamb to the nearest tail where there is room, mm. */
const JAMB = 60;
const LEAST_JAMB = 3;
/** Gaps between rooms and doorways up to twice this are none, mm. */
const CLOSE = 1.5;
const SETTLING_ROUNDS = 4;
const MORE_LOOPS_ROUNDS = 14;
/** A loop is shared if it leaves no more than this share of either room's floor farther than one spacing from it. */
const MOST_COLD = 0.05;
const LAST_VARIANT = wayVariants.length - 1;
/** The spacing may open this far where no other loop can be had. */
const FAR_STRETCHES = [1.04, 1.08, 1.13, 1.19, 1.26, 1.35, 1.45, 1.6];

/** Loops of each space. */
type LoopPlan = readonly OwnLoops[];

interface Plan {
	readonly loops: LoopPlan;
	/** By space: which of the variants its tails take. */
	readonly variants: ReadonlyMap<number, number>;
	/** Spaces that tails had best not cut in two. */
	readonly whole: ReadonlySet<number>;
}

interface State extends Plan {
	readonly laid: LaidWays;
	/** Where loops go on to another room across a hall, as far as tails leave a way for it. */
	readonly necks: Necks;
}

/** Takes a step unless it leaves tails without a way. */
type Step = (changes: ReadonlyMap<number, OwnLoops>, other?: Partial<Plan>) => boolean;

const NONE: OwnLoops = { left: 0, right: 0 };
const radians = (degrees: number): number => (degrees * Math.PI) / 180;
const sumOf = ({ left, right }: OwnLoops): number => left + right;

/** Where pipes may lie anywhere on the floor. */
function floorRules(floor: Floor, manifold: Manifold, spaces: readonly Space[]): ClearanceRules {
	const regions = [...spaces.map(({ region }) => region), ...floor.doorways.map(({ region }) => region)];
	const everywhere = union(offset(regions, CLOSE));
	return {
		...clearanceRules(spaces[0]!.region, manifold, floor.system),
		allowed: offset(everywhere, -(floor.system.pipe.outerDiameter / 2 + CLOSE + 0.5)),
		allowedAtPorts: everywhere,
	};
}

const spacesBeyond = (branch: Branch): number[] => [branch.space, ...branch.children.flatMap(spacesBeyond)];

/** The spaces behind a doorway that stay without loops when it takes `fit` of their pipes: the farthest first. */
function givenUp(branch: Branch, plan: LoopPlan, pipes: number, fit: number): number[] {
	const given: number[] = [];
	let left = pipes;
	for (const space of spacesBeyond(branch).reverse()) {
		if (left <= Math.min(fit, pipes - 1)) break;
		const loops = sumOf(plan[space]!);
		if (loops === 0) continue;
		given.push(space);
		left -= 2 * loops;
	}
	return given;
}

const withLoops = (plan: LoopPlan, changes: ReadonlyMap<number, OwnLoops>): LoopPlan =>
	plan.map((own, space) => changes.get(space) ?? own);

/** Tails do not pass through what another manifold serves. */
const ownPassages = ({ passages, served }: RouteWaysOptions): Passage[] =>
	passages.filter(({ from, to }) => served.has(from) && served.has(to));

const doorLanesOf = ({ floor }: RouteWaysOptions): DoorLanes => ({
	pitch: tailPitch(floor.system),
	margin: JAMB,
	leastMargin: floor.system.pipe.outerDiameter / 2 + LEAST_JAMB,
});

const treeOf = (loops: readonly number[], options: RouteWaysOptions): Branch =>
	growTree({
		spaces: options.spaces,
		passages: ownPassages(options),
		root: options.root,
		manifold: options.manifold.position,
		loops,
		tailSpacing: doorLanesOf(options).pitch,
		margin: doorLanesOf(options).leastMargin,
	});

/** Lays the tails of a plan, then the necks of loops that go on across a hall. */
function layPlan(
	plan: Plan,
	guests: ReadonlyMap<number, GuestRooms>,
	options: RouteWaysOptions,
	rules: ClearanceRules,
): State {
	const { floor, manifold, spaces } = options;
	const loops = plan.loops.map(sumOf);
	const tree = treeOf(loops, options);
	const axis = facingOf(manifold);
	const ports = portPairs(manifold, loopsBeyond(tree, loops))
		.reverse()
		.flatMap((pair) => [pair.return, pair.flow].map(({ at }) => ({ at, port: pair.number })))
		.map(({ at, port }): PipeSoFar => ({ port, path: [at], lane: { at, axis, bends: [] } }));
	const laid = layWays(tree, ports, {
		system: floor.system,
		spaces,
		loops: plan.loops,
		variants: plan.variants,
		whole: plan.whole,
		rules,
		doorLanes: doorLanesOf(options),
		manifoldDepth: depthIn(spaces[options.root]!.region, manifold.position),
	});
	return {
		...plan,
		...layNecks({
			ways: laid,
			guests: [...guests.values()],
			doorLanes: doorLanesOf(options),
			minBendRadius: floor.system.pipe.minBendRadius,
			rules,
		}),
	};
}

const facingOf = ({ facing }: Manifold): Point => [Math.cos(radians(facing)), Math.sin(radians(facing))];

const sameLoops = (a: OwnLoops, b: OwnLoops, isCut: boolean): boolean =>
	isCut ? a.left === b.left && a.right === b.right : sumOf(a) === sumOf(b);

/**
 * Routes every space that one manifold serves, each loop from its port, through the doorways and back. Small rooms hang
 * on a neighbour's loop where that serves both as well and costs no other room anything; else they have their own.
 */
export function routeWays(options: RouteWaysOptions): RoutedWays {
	const refused = new Set<string>();
	for (;;) {
		// Out of time, what has failed once is not replaced by the next best.
		const shared: SharedRooms = refused.size > 0 && options.expired() ? new Map() : roomsToShare(options, refused);
		const routed = routeWith(shared, options);
		if ("refused" in routed) {
			for (const link of routed.refused) refused.add(keyOfLink(link));
			continue;
		}
		if (shared.size === 0 || lostBy(routed) === 0) return routed;
		const each = routeWith(new Map(), options);
		return "refused" in each || lostBy(each) >= lostBy(routed) ? routed : each;
	}
}

/** Spaces, zones and rules that a result falls short of. */
const lostBy = ({ spaces, blocked }: RoutedWays): number =>
	blocked.reduce((sum, each) => sum + each.spaces.length, 0) +
	spaces.reduce((sum, { routed }) => sum + routed.reduce((n, { room }) => n + room.missing + room.broken, 0), 0);

function roomsToShare(options: RouteWaysOptions, refused: ReadonlySet<string>): SharedRooms {
	const { floor, spaces, apart, withoutLoops } = options;
	const loops = firstPlan(options, new Map()).map(sumOf);
	const { pitch, leastMargin } = doorLanesOf(options);
	const isFree = (space: number): boolean => {
		const { id } = spaces[space]!.room;
		return !apart.has(id) && !withoutLoops.has(id);
	};
	return sharedRooms({
		tree: treeOf(loops, options),
		spaces,
		passages: ownPassages(options),
		loops,
		isAllowed: (link) => !refused.has(keyOfLink(link)) && isFree(link.host) && isFree(link.guest),
		patternOf: options.patternOf,
		manifold: options.manifold.position,
		maxLoopLength: floor.system.maxLoopLength,
		tailSpacing: pitch,
		margin: leastMargin,
	});
}

/** Routes with these rooms sharing loops; gives up with the first links by which a loop cannot go on. */
function routeWith(shared: SharedRooms, options: RouteWaysOptions): RoutedWays | { readonly refused: readonly Link[] } {
	const { floor, spaces } = options;
	const rules = floorRules(floor, options.manifold, spaces);
	const context: SpaceContext = { floor, spaces, rules, facing: facingOf(options.manifold), memory: options.memory };
	const guestsOf = new Map<number, GuestRooms>();
	for (const [host, links] of shared) {
		const guests = guestRooms({
			host: spaces[host]!,
			spaces,
			links,
			pattern: options.patternOf(spaces[host]!.room),
			rules,
			system: floor.system,
			...doorLanesOf(options),
		});
		if (!guests) return { refused: links.slice(-1) };
		guestsOf.set(host, guests);
	}
	const blocked: Blocked[] = [];
	const first = { loops: firstPlan(options, shared), variants: new Map(), whole: new Set<number>() };
	let state = layPlan(first, guestsOf, options, rules);
	while (state.laid.blocked.length > 0) {
		const without = new Map<number, OwnLoops>();
		for (const { branch, pipes, fit } of state.laid.blocked) {
			const given = givenUp(branch, state.loops, pipes, fit);
			blocked.push({ spaces: given, passage: branch.passage!, pipes, fit });
			for (const space of given) without.set(space, NONE);
		}
		state = layPlan({ ...state, loops: withLoops(state.loops, without) }, guestsOf, options, rules);
	}
	const step: Step = (changes, other = {}) => {
		const next = layPlan({ ...state, ...other, loops: withLoops(state.loops, changes) }, guestsOf, options, rules);
		if (next.laid.blocked.length > 0) return false;
		state = next;
		return true;
	};
	const raised = new Map<number, OwnLoops>();
	const most = new Map<number, OwnLoops>(
		spaces.flatMap(({ room }, i) => (options.withoutLoops.has(room.id) ? [[i, NONE] as const] : [])),
	);
	settle(context, () => state, step, raised, most);
	const laidAt = (space: number): LaidSpace => state.laid.spaces.find((laid) => laid.space === space)!;
	const full = new Set<number>();
	const stuck = new Set<number>();
	/** Ways through a space that have been tried: the one that leaves the fewest loops out. */
	const tries = new Map<number, { readonly variant: number; readonly missing: number }>();
	const tried = new Set<number>();
	for (let round = 0; ; round++) {
		const unlinked = [...shared.values()].flat().filter((link) => link.across && !state.necks.has(link));
		if (unlinked.length > 0) return { refused: unlinked };
		const routed = state.laid.spaces.map((laid) => {
			// A spacing is not opened for the sake of sharing.
			const stretches = shared.has(laid.space) ? [] : full.has(laid.space) ? FAR_STRETCHES : STRETCHES;
			const found = routeSpace({
				...options,
				...context,
				ways: state.laid,
				laid,
				stretches,
				pattern: options.patternOf(spaces[laid.space]!.room),
				guests: (shared.get(laid.space) ?? []).map(({ guest }) => spaces[guest]!.region),
				onward: guestsOf.get(laid.space)?.onward(state.necks),
				ownNecks: [...state.necks].flatMap(([{ host }, neck]) => (host === laid.space ? pipesOf(neck) : [])),
				necks: [...state.necks].flatMap(([{ host }, neck]) => (host === laid.space ? [] : pipesOf(neck))),
			});
			return { ...found, guests: shared.get(laid.space) ?? [] };
		});
		const refused = [...shared].flatMap(([host, links]) =>
			heatsAll(host, links, routed, state.laid, spaces) ? [] : links.slice(-1),
		);
		if (refused.length > 0) return { refused };
		const long = routed.filter(
			({ space, routed: rooms }) => !full.has(space) && rooms.some(({ room }) => room.tooLong > 0),
		);
		const short = routed.filter(
			({ space, routed: rooms }) => !stuck.has(space) && rooms.some(({ room }) => room.missing > 0),
		);
		// Loops over the limit cannot be laid at all, so there is always time for those.
		const isDone = long.length === 0 && (short.length === 0 || options.expired());
		if (round === MORE_LOOPS_ROUNDS || isDone)
			return {
				spaces: routed.map((space) => withinLimit(space, floor)),
				laid: state.laid,
				blocked,
				necks: state.necks,
			};
		for (const { space, routed: rooms } of long) {
			const more = changed(state.loops[space]!, laidAt(space), rooms, ({ tooLong }) => (tooLong > 0 ? 1 : 0));
			if (step(new Map([[space, more]]))) raised.set(space, more);
			else full.add(space);
		}
		// Where a loop cannot be laid, other ways are tried for the tails that pass; then no port is kept for it.
		for (const { space, routed: rooms } of short.slice(0, 1)) {
			if (laidAt(space).crossing.length > 0 && !tried.has(space)) {
				const variant = state.variants.get(space) ?? 0;
				const missing = rooms.reduce((sum, { room }) => sum + room.missing, 0);
				const known = tries.get(space);
				const best = !known || missing < known.missing ? { variant, missing } : known;
				tries.set(space, best);
				if (variant === LAST_VARIANT) tried.add(space);
				const next = variant === LAST_VARIANT ? best.variant : variant + 1;
				if (next !== variant && step(new Map(), { variants: new Map([...state.variants, [space, next]]) })) continue;
				tried.add(space);
			}
			const fewer = changed(state.loops[space]!, laidAt(space), rooms, ({ missing }) => -missing);
			if (step(new Map([[space, fewer]]))) most.set(space, fewer);
			else stuck.add(space);
		}
		settle(context, () => state, step, raised, most);
	}
}

/** Whether a room's one loop keeps within its length and leaves neither the room nor its guests cold. */
function heatsAll(
	host: number,
	links: readonly Link[],
	routed: readonly RoutedSpace[],
	ways: LaidWays,
	spaces: readonly Space[],
): boolean {
	const found = routed.find(({ space }) => space === host);
	const laid = ways.spaces.find(({ space }) => space === host);
	const [loop, other] = found?.loops ?? [];
	if (!laid || !found || !loop || other) return false;
	if (found.routed.some(({ room }) => room.tooLong + room.broken + room.missing > 0)) return false;
	const pipes = [loop.path, ...passing(laid)];
	return [host, ...links.map(({ guest }) => guest)].every((space) => {
		const { room, region } = spaces[space]!;
		return coldArea([region], pipes, room.spacing) <= MOST_COLD * regionArea(region);
	});
}

/** The likely number of loops of every space; those that hang on another's have none. */
function firstPlan({ floor, spaces, served, withoutLoops }: RouteWaysOptions, shared: SharedRooms): LoopPlan {
	const guests = new Set([...shared.values()].flatMap((links) => links.map(({ guest }) => guest)));
	return spaces.map(({ room, region }, i) =>
		served.has(i) && room.heated && !withoutLoops.has(room.id) && !guests.has(i)
			? { left: loopsFor(regionArea(region), room, USUAL_TAILS, floor.system.maxLoopLength), right: 0 }
			: NONE,
	);
}

/**
 * Gives every space the loops that its tails leave it in need of. A hall that needs one number of loops as tails lie with
 * the other, and the other as they lie with the one, is not to be cut in two.
 */
function settle(
	context: SpaceContext,
	current: () => State,
	step: Step,
	/** Loops that spaces have been found to need, and all that can be laid to them. */
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
			const [left = 0, right = 0] = loopsWanted(context, laid);
			const least = raised.get(laid.space) ?? NONE;
			const next =
				laid.slots.length > 1
					? { left: left && Math.max(left, least.left), right: right && Math.max(right, least.right) }
					: { left: left && Math.max(left, sumOf(least)), right: 0 };
			if (refused.has(keyOf(laid.space, next)) || sameLoops(own, next, laid.slots.length > 1)) continue;
			if (laid.slots.length === 1 && had.has(keyOf(laid.space, next))) whole.add(laid.space);
			changes.set(laid.space, next);
		}
		if (changes.size === 0) return;
		if (step(changes, { whole })) continue;
		for (const [space, next] of changes)
			if (!step(new Map([[space, next]]), { whole })) refused.add(keyOf(space, next));
	}
}

/** No coil reaches round a loop over the limit, so it is left out; the room tells that it stays cold. */
const withinLimit = (space: RoutedSpace, { system }: Floor): RoutedSpace => ({
	...space,
	loops: space.loops.filter(({ length }) => length <= system.maxLoopLength),
});

/** A space's loops with those of each slot changed by what its room tells. Where nothing cuts it, it has one slot. */
function changed(
	own: OwnLoops,
	{ slots }: LaidSpace,
	routed: RoutedSpace["routed"],
	by: (room: RoutedRoom) => number,
): OwnLoops {
	const change = (slot: number): number =>
		routed.filter((each) => each.slot === slot).reduce((sum, { room }) => sum + by(room), 0);
	return slots.length > 1
		? { left: own.left + change(0), right: own.right + change(1) }
		: { left: sumOf(own) + change(0), right: 0 };
}
