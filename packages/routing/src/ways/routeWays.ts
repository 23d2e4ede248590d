import type { PatternName } from "@oxturn/floor";
import { regionArea } from "@oxturn/geometry";
import { STRETCHES } from "../room/roomSetting.ts";
import { sum } from "../sum.ts";
import type { BestTurns } from "./bestTurns.ts";
import { type Betterment, betterPlan } from "./betterPlan.ts";
import { blockedIn, costOf, lostBy, tailsIn } from "./costOfWays.ts";
import { type GuestRooms, guestRooms } from "./guestRooms.ts";
import { heatColdRooms } from "./heatColdRooms.ts";
import { heatOnTheWay } from "./heatOnTheWay.ts";
import type { LaidSpace, LaidWays, OverRooms } from "./laidWays.ts";
import { pipesOf } from "./layNecks.ts";
import { coldArea, WARM_ENOUGH } from "./ownFloor.ts";
import {
	doorLanesOf,
	facingOf,
	firstPlan,
	floorRules,
	type LaidPlan,
	ownPassages,
	treeOf,
	type WaysSetting,
} from "./plan.ts";
import { type Planner, startPlan } from "./planner.ts";
import type { Elsewhere, RoutedPlan, RoutedWays, RouteWaysOptions } from "./routedWays.ts";
import { passing, type RoutedSpace, routeSpace, type SpaceContext } from "./routeSpace.ts";
import { keyOfLink, type Link, type SharedRooms, sharedPattern, sharedRooms } from "./sharedRooms.ts";
import type { Space } from "./spaces.ts";

const MORE_LOOPS_ROUNDS = 14;
/** A loop is shared if it leaves no more than this share of either room's floor farther than one spacing from it. */
const MOST_COLD = 0.05;
/** The spacing may open this far where no other loop can be had. */
const FAR_STRETCHES = [1.04, 1.08, 1.13, 1.19, 1.26, 1.35, 1.45, 1.6];

interface Setting extends RouteWaysOptions, WaysSetting {
	/** First plans that have been followed up, by their keys; others join them. With the length of their tails, m. */
	readonly begun: Map<string, number>;
	/** Those lengths, of tails along the walls first, and other ways over rooms; none as long as no plan serves every room. */
	readonly tailsBefore: readonly number[];
	/** Rooms that stay without pipe behind doorways in the best of those plans. */
	readonly blockedBefore: number;
	/** Whether tails are led otherwise for a piece that no loop comes to. */
	readonly mindsPieces: boolean;
}

/** What cutting a room costs at a guess, m of pipe: about as much as a loop more. */
const SPLIT_PRICE = 25;
/**
 * Whether tails may go over rooms, also by short cuts, and at which other prices cuts are tried: what they are worth is
 * seen when all is laid. Cuts are cheap where tails go over; where they are dear, tails rather go the long way round a hall.
 */
const OTHER_WAYS: readonly OverRooms[] = [
	{ isAllowed: true, hasShortCuts: false, splitPrice: 12 },
	{ isAllowed: false, hasShortCuts: false, splitPrice: 60 },
	{ isAllowed: true, hasShortCuts: true, splitPrice: 12 },
];

/** Short cuts are followed up where they make tails shorter by this share than all ways before. */
const WORTH_CUTTING = 0.06;
/** Ways round rooms are not where they make tails so much longer than along the walls, m: no loop that they save is worth it. */
const TOO_LONG = 40;

/** A plan that costs so much more than the best, m of pipe, may be better once loops that come by heat what it cuts off. */
const WORTH_HEATING = 60;

/**
 * Routes every space that one manifold serves, each loop from its port, through the doorways and back. Tails keep to the
 * walls, go straight over rooms, or leave them whole, as the whole floor is the better for it.
 */
export function routeWays(options: RouteWaysOptions): RoutedWays {
	const laidBefore = new Map<string, BestTurns>();
	const best = withHeatOnTheWay(plansFor({ ...options, laidBefore, mindsPieces: false }), options);
	if (options.expired() || !hasColdPieces(best.routed, options)) return best.routed;
	const other = withHeatOnTheWay(plansFor({ ...options, laidBefore, mindsPieces: true }), options);
	return other.cost < best.cost ? other.routed : best.routed;
}

/** A plan for each way that tails may take over rooms, as far as they come to others. */
function plansFor(setting: Omit<Setting, "begun" | "over" | "tailsBefore" | "blockedBefore">): Costed<RoutedPlan>[] {
	const begun = new Map<string, number>();
	const along = routeShared({
		...setting,
		begun,
		tailsBefore: [],
		blockedBefore: 0,
		over: { isAllowed: false, hasShortCuts: false, splitPrice: SPLIT_PRICE },
	})!;
	const plans = [{ routed: along, cost: costOf(along, setting) }];
	for (const over of OTHER_WAYS) {
		if (setting.expired()) break;
		const tailsBefore = plans.some(({ routed }) => isWhole(routed, setting)) ? [...begun.values()] : [];
		const blockedBefore = Math.min(...plans.map(({ routed }) => blockedOnly(routed, setting)));
		const routed = routeShared({ ...setting, begun, tailsBefore, blockedBefore, over });
		if (routed) plans.push({ routed, cost: costOf(routed, setting) });
	}
	return plans;
}

/** Rooms that stay without pipe behind doorways, where nothing else is to wish for; else other ways may be worth any number. */
function blockedOnly(routed: RoutedWays, options: RouteWaysOptions): number {
	const blocked = blockedIn(routed, options.spaces).length;
	const isShort = routed.spaces.some(({ routed: pieces }) =>
		pieces.some(({ room }) => room.leftOut + room.tooLong > 0),
	);
	return isShort || lostBy(routed, options) > blocked ? Infinity : blocked;
}

/** Heated rooms with much floor that no pipe warms. */
function coldSpaces({ spaces: routed }: RoutedWays, { spaces }: RouteWaysOptions): RoutedSpace[] {
	const pipes = routed.flatMap(({ loops }) => loops.map(({ path }) => path));
	return routed.filter(({ space }) => {
		const { room, region } = spaces[space]!;
		return room.heated && coldArea([region], pipes, room.spacing) > WARM_ENOUGH * regionArea(region);
	});
}

/** Whether some room has a loop and yet stays cold, as where tails cut it in two. */
const hasColdPieces = (routed: RoutedWays, options: RouteWaysOptions): boolean =>
	coldSpaces(routed, options).some(({ loops }) => loops.length > 0);

/** Whether nothing is left to wish for but less pipe. */
const isWhole = (routed: RoutedWays, options: RouteWaysOptions): boolean =>
	lostBy(routed, options) === 0 && coldSpaces(routed, options).length === 0;

/** A plan that has been routed, and what it costs. */
interface Costed<Routed extends RoutedWays> {
	readonly routed: Routed;
	readonly cost: number;
}

/**
 * The best of some plans, as it is or with other loops heating floor that they pass: one that cuts a hall may do without
 * those of the pieces, and one that leaves a hall without a loop need not leave it cold.
 */
function withHeatOnTheWay(plans: readonly Costed<RoutedPlan>[], options: RouteWaysOptions): Costed<RoutedWays> {
	const ranked = plans.toSorted((a, b) => a.cost - b.cost);
	const most = ranked[0]!.cost + WORTH_HEATING;
	let best: Costed<RoutedWays> = ranked[0]!;
	for (const { routed, cost } of ranked) {
		if (options.expired()) break;
		// What makes a plan dearer than that may be rooms that it leaves cold.
		const fewer = cost > most ? [] : heatOnTheWay(routed, cost - best.cost, options);
		for (const heated of [...fewer, ...[routed, ...fewer].map((each) => heatColdRooms(each, options))]) {
			const less = heated ? costOf(heated, options) : Infinity;
			if (heated && less < best.cost) best = { routed: heated, cost: less };
		}
	}
	return best;
}

/**
 * Small rooms hang on a neighbour's loop where that serves both as well and costs no other room anything; else they have
 * their own. Undefined where the first plan has been followed up before.
 */
function routeShared(options: Setting): RoutedPlan | undefined {
	const refused = new Set<string>();
	for (;;) {
		// Out of time, what has failed once is not replaced by the next best.
		const shared: SharedRooms = refused.size > 0 && options.expired() ? new Map() : roomsToShare(options, refused);
		const routed = routeWith(shared, options);
		if (!routed) return undefined;
		if ("refused" in routed) {
			for (const link of routed.refused) refused.add(keyOfLink(link));
			continue;
		}
		if (shared.size === 0 || lostBy(routed, options) === 0) return routed;
		const each = routeWith(new Map(), options);
		return !each || "refused" in each || lostBy(each, options) >= lostBy(routed, options) ? routed : each;
	}
}

function roomsToShare(options: Setting, refused: ReadonlySet<string>): SharedRooms {
	const { floor, spaces, apart, withoutLoops } = options;
	const loops = firstPlan(options, new Map()).map(sum);
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

/** The pattern of a room's loops, which may go on to others. */
function patternWith(host: number, links: readonly Link[], { spaces, patternOf }: Setting): PatternName {
	const rooms = [host, ...links.map(({ guest }) => guest)].map((space) => spaces[space]!.room);
	return sharedPattern(rooms, patternOf) ?? patternOf(rooms[0]!);
}

/** The rooms that hang on the loops of others, by host; or the first link by which a loop cannot go on. */
function guestsOf(shared: SharedRooms, context: SpaceContext, options: Setting): Map<number, GuestRooms> | Link {
	const guests = new Map<number, GuestRooms>();
	for (const [host, links] of shared) {
		const found = guestRooms({
			host: context.spaces[host]!,
			spaces: context.spaces,
			links,
			pattern: patternWith(host, links, options),
			rules: context.rules,
			system: context.floor.system,
			...doorLanesOf(options),
		});
		if (!found) return links.at(-1)!;
		guests.set(host, found);
	}
	return guests;
}

/**
 * Routes with these rooms sharing loops; gives up with the first links by which a loop cannot go on. Undefined where
 * the first plan has been followed up before, or promises nothing.
 */
function routeWith(
	shared: SharedRooms,
	options: Setting,
): RoutedPlan | { readonly refused: readonly Link[] } | undefined {
	const { floor, spaces } = options;
	const rules = floorRules(floor, options.manifold, spaces);
	const context: SpaceContext = { floor, spaces, rules, facing: facingOf(options.manifold), memory: options.memory };
	const guests = guestsOf(shared, context, options);
	if (!(guests instanceof Map)) return { refused: [guests] };
	const planner = startPlan(firstPlan(options, shared), guests, options, rules);
	const key = firstKey(shared, planner.current());
	const tails = tailsIn(planner.current().laid);
	if (options.begun.has(key) || !isPromising(tails, planner.blocked().length, options)) return undefined;
	options.begun.set(key, tails);
	const { withoutLoops, mindsPieces } = options;
	const betterment = betterPlan({ planner, context, withoutLoops, mindsPieces });
	return routePlan({ shared, guests, planner, betterment, context, elsewhere: new Map(), options });
}

/**
 * Whether tails of a first plan, m, are such that it may cost less than those before, in which they take other ways. Where
 * rooms stay without pipe, so do only plans that leave fewer of them out.
 */
function isPromising(tails: number, blocked: number, { over, tailsBefore, blockedBefore }: Setting): boolean {
	if (blockedBefore > 0) return blocked < blockedBefore;
	const [along] = tailsBefore;
	if (along === undefined) return true;
	return over.hasShortCuts ? tails < (1 - WORTH_CUTTING) * Math.min(...tailsBefore) : tails < along + TOO_LONG;
}

/** What a plan is routed by. */
interface Routing {
	readonly shared: SharedRooms;
	readonly guests: ReadonlyMap<number, GuestRooms>;
	readonly planner: Planner;
	readonly betterment: Betterment;
	readonly context: SpaceContext;
	readonly elsewhere: Elsewhere;
	readonly options: Setting;
}

/** Routes every space as planned, and betters the plan as long as that helps. */
function routePlan(routing: Routing): RoutedPlan | { readonly refused: readonly Link[] } {
	const { shared, guests, planner, betterment, context, elsewhere, options } = routing;
	const { floor, spaces } = options;
	const routeLaid = (laid: LaidSpace): RoutedSpace => {
		const { laid: ways, necks } = planner.current();
		const links = shared.get(laid.space) ?? [];
		// A spacing is not opened for the sake of sharing.
		const stretches = links.length > 0 ? [] : betterment.isFull(laid.space) ? FAR_STRETCHES : STRETCHES;
		const necksOf = (own: boolean) =>
			[...necks].flatMap(([{ host }, neck]) => ((host === laid.space) === own ? pipesOf(neck) : []));
		const found = routeSpace({
			...options,
			...context,
			ways,
			laid,
			stretches,
			isFar: betterment.isFar(laid.space),
			elsewhere: elsewhere.get(laid.space) ?? [],
			pattern: patternWith(laid.space, links, options),
			guests: links.map(({ guest }) => spaces[guest]!.region),
			onward: guests.get(laid.space)?.onward(necks),
			ownNecks: necksOf(true),
			necks: necksOf(false),
		});
		return { ...found, guests: links };
	};
	for (let round = 0; ; round++) {
		const { laid, necks } = planner.current();
		const unlinked = [...shared.values()].flat().filter((link) => link.across && !necks.has(link));
		if (unlinked.length > 0) return { refused: unlinked };
		const routed = laid.spaces.map(routeLaid);
		const refused = [...shared].flatMap(([host, links]) =>
			heatsAll(host, links, routed, laid, spaces) ? [] : links.slice(-1),
		);
		if (refused.length > 0) return { refused };
		const faults = betterment.faults(routed);
		// Loops over the limit cannot be laid at all, so there is always time for those.
		const isDone = faults.long.length === 0 && (faults.short.length === 0 || options.expired());
		// A hall that has turned out to need no loop leaves its place in a doorway to a room.
		const isRestored = isDone && round < MORE_LOOPS_ROUNDS && !options.expired() && planner.restore();
		if (round === MORE_LOOPS_ROUNDS || (isDone && !isRestored))
			return {
				spaces: routed.map((space) => withinLimit(space, floor.system.maxLoopLength)),
				laid,
				blocked: planner.blocked(),
				necks,
				context,
				withLoops: (own, needed) => {
					if (!betterment.fix(own)) return undefined;
					const next = routePlan({ ...routing, elsewhere: needed });
					return "refused" in next ? undefined : next;
				},
			};
		betterment.mend(faults);
	}
}

/** Tells first plans from each other, by who shares loops and by the ways that tails take. */
const firstKey = (shared: SharedRooms, { laid }: LaidPlan): string =>
	JSON.stringify([
		[...shared.values()].flatMap((links) => links.map(keyOfLink)),
		laid.spaces.map(({ space, turns }) => [space, turns.groups]),
	]);

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

/** No coil reaches round a loop over the limit, so it is left out; the room tells that it stays cold. */
const withinLimit = (space: RoutedSpace, maxLoopLength: number): RoutedSpace => ({
	...space,
	loops: space.loops.filter(({ length }) => length <= maxLoopLength),
});
