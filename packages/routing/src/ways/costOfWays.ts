import { pathLength, regionArea } from "@oxturn/geometry";
import { sum } from "../sum.ts";
import type { LaidWays } from "./laidWays.ts";
import { coldArea, WARM_ENOUGH } from "./ownFloor.ts";
import type { Blocked } from "./planner.ts";
import type { RoutedWays, RouteWaysOptions } from "./routedWays.ts";
import type { Space } from "./spaces.ts";
import { governedByOthers } from "./valves.ts";

/*
 * What makes one way of routing a floor better than another: metres of pipe, and what all else is worth in them.
 */

/**
 * What a loop is worth, m of pipe, and how much more one is that falls short of this share of the limit: for little
 * floor it takes a port and a valve, and has to be throttled hard.
 */
const LOOP_PRICE = 25;
const SHORT_PRICE = 25;
const SHORT = 1 / 3;
/** What tails cost beside their pipe, for each m: they warm floor that has not asked for it. */
const TAIL_PRICE = 0.5;
/** What opening the spacing costs, for each m that it saves: this much is no gain, and the room gets less warmth. */
const STRETCH_PRICE = 2;
/** What a m2 of a room costs that has no valve of its own, m of pipe: it is as warm as other rooms ask for. */
const VALVE_PRICE = 1;
/** What a m2 left cold costs, m of pipe. */
const COLD_PRICE = 80;
const LOST_PRICE = 1e5;

/** What is laid in all, m of pipe, with a price on loops and tails and on all that falls short. */
export function costOf(routed: RoutedWays, { floor, spaces }: RouteWaysOptions): number {
	const loops = routed.spaces.flatMap((space) => space.loops);
	const pipes = loops.map(({ path }) => path);
	const pipe = loops.reduce((sum, { length }) => sum + length, 0);
	const short = SHORT * floor.system.maxLoopLength;
	const shortness = loops.reduce((sum, { length }) => sum + Math.max(0, 1 - length / short), 0);
	const heated = routed.spaces.flatMap(({ space, loops: own }) => {
		const { room, region } = spaces[space]!;
		const { spacing } = room;
		return room.heated ? [{ space, own, region, spacing, cold: coldArea([region], pipes, spacing) }] : [];
	});
	const saved = heated.flatMap(({ own, spacing }) =>
		own.map((loop) => loop.length * Math.max(0, loop.spacing / spacing - 1)),
	);
	const cold = sum(heated.map((each) => each.cold)) / 1e6;
	const unserved = heated.filter((each) => each.own.length === 0 && each.cold > WARM_ENOUGH * regionArea(each.region));
	const isCounted = new Set(unserved.map(({ space }) => space));
	const behindDoors = blockedIn(routed, spaces).filter(({ space }) => !isCounted.has(space));
	const prices = LOOP_PRICE * loops.length + SHORT_PRICE * shortness + TAIL_PRICE * tailsIn(routed.laid);
	const governed = sum(spaces.map((_, space) => governedByOthers(space, routed.spaces, spaces))) / 1e6;
	const shortcomings = STRETCH_PRICE * sum(saved) + COLD_PRICE * cold + VALVE_PRICE * governed;
	return pipe + prices + shortcomings + LOST_PRICE * (faultsIn(routed) + behindDoors.length + unserved.length);
}

/** Pipe on its way from the ports to the spaces, m. */
export const tailsIn = ({ spaces }: LaidWays): number =>
	spaces
		.flatMap(({ slots }) => slots.flatMap(({ pipes }) => pipes))
		.reduce((sum, { path }) => sum + pathLength(path) / 1000, 0);

/** Spaces that no tails find a way to and that those of others do not warm either. */
export function blockedIn({ blocked, spaces: routed }: RoutedWays, spaces: readonly Space[]): Blocked[] {
	if (blocked.length === 0) return [];
	const pipes = routed.flatMap(({ loops }) => loops.map(({ path }) => path));
	return blocked.filter(({ space }) => {
		const { room, region } = spaces[space]!;
		return coldArea([region], pipes, room.spacing) > WARM_ENOUGH * regionArea(region);
	});
}

/** Zones and rules that a result falls short of. */
const faultsIn = ({ spaces }: RoutedWays): number =>
	sum(spaces.flatMap(({ routed }) => routed.map(({ room }) => room.missing + room.broken)));

/** Spaces, zones and rules that a result falls short of. */
export const lostBy = (routed: RoutedWays, { spaces }: RouteWaysOptions): number =>
	blockedIn(routed, spaces).length + faultsIn(routed);
