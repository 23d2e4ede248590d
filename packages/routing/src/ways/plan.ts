import type { Floor, Manifold } from "@oxturn/floor";
import { offset, type Point, radians, regionArea, union } from "@oxturn/geometry";
import { sum } from "../sum.ts";
import { portPairs } from "../tails/apron.ts";
import type { ClearanceRules } from "../tails/clearance.ts";
import { tailPitch } from "../tails/pitch.ts";
import { clearanceRules } from "../tails/rules.ts";
import type { BestTurns } from "./bestTurns.ts";
import type { DoorLanes } from "./exitLanes.ts";
import type { GuestRooms } from "./guestRooms.ts";
import type { LaidWays, OverRooms, OwnLoops, PipeSoFar } from "./laidWays.ts";
import { layNecks, type Necks } from "./layNecks.ts";
import { layWays } from "./layWays.ts";
import type { Passage } from "./passages.ts";
import { loopsFor, USUAL_TAILS } from "./routeSpace.ts";
import type { SharedRooms } from "./sharedRooms.ts";
import { depthIn, type Space } from "./spaces.ts";
import { type Branch, growTree, loopsBeyond } from "./tree.ts";

/** What one manifold serves. */
export interface WaysSetting {
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
	readonly over: OverRooms;
	/** What has been laid in rooms for other plans. */
	readonly laidBefore: Map<string, BestTurns>;
}

/** Loops of each space. */
export type LoopPlan = readonly OwnLoops[];

/** How many loops each space gets, and which ways their tails take. */
export interface Plan {
	readonly loops: LoopPlan;
	/** By space: which of the variants its tails take. */
	readonly variants: ReadonlyMap<number, number>;
	/** Spaces that tails had best not cut in two. */
	readonly whole: ReadonlySet<number>;
}

/** A plan whose tails are laid. */
export interface LaidPlan extends Plan {
	readonly laid: LaidWays;
	/** Where loops go on to another room across a hall, as far as tails leave a way for it. */
	readonly necks: Necks;
}

/** From a jamb to the nearest tail where there is room, mm. */
const JAMB = 60;
const LEAST_JAMB = 3;
/** Gaps between rooms and doorways up to twice this are none, mm. */
const CLOSE = 1.5;

export const NO_LOOPS: OwnLoops = [];

/** Where pipes may lie anywhere on the floor. */
export function floorRules(floor: Floor, manifold: Manifold, spaces: readonly Space[]): ClearanceRules {
	const regions = [...spaces.map(({ region }) => region), ...floor.doorways.map(({ region }) => region)];
	const everywhere = union(offset(regions, CLOSE));
	return {
		...clearanceRules(spaces[0]!.region, manifold, floor.system),
		allowed: offset(everywhere, -(floor.system.pipe.outerDiameter / 2 + CLOSE + 0.5)),
		allowedAtPorts: everywhere,
	};
}

/** Tails do not pass through what another manifold serves. */
export const ownPassages = ({ passages, served }: WaysSetting): Passage[] =>
	passages.filter(({ from, to }) => served.has(from) && served.has(to));

export const doorLanesOf = ({ floor }: WaysSetting): DoorLanes => ({
	pitch: tailPitch(floor.system),
	margin: JAMB,
	leastMargin: floor.system.pipe.outerDiameter / 2 + LEAST_JAMB,
});

export const treeOf = (loops: readonly number[], options: WaysSetting): Branch =>
	growTree({
		spaces: options.spaces,
		passages: ownPassages(options),
		root: options.root,
		manifold: options.manifold.position,
		loops,
		tailSpacing: doorLanesOf(options).pitch,
		margin: doorLanesOf(options).leastMargin,
	});

/** Lays the tails of a plan, or no more of them than show that one has no place, then the necks of loops that go on across a hall. */
export function layPlan(
	plan: Plan,
	guests: ReadonlyMap<number, GuestRooms>,
	options: WaysSetting,
	rules: ClearanceRules,
	allOrNone: boolean,
): LaidPlan {
	const { floor, manifold, spaces } = options;
	const loops = plan.loops.map(sum);
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
		over: options.over,
		laidBefore: options.laidBefore,
		allOrNone,
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

export const facingOf = ({ facing }: Manifold): Point => [Math.cos(radians(facing)), Math.sin(radians(facing))];

/** The likely number of loops of every space; those that hang on another's have none. */
export function firstPlan({ floor, spaces, served, withoutLoops }: WaysSetting, shared: SharedRooms): LoopPlan {
	const guests = new Set([...shared.values()].flatMap((links) => links.map(({ guest }) => guest)));
	return spaces.map(({ room, region }, i) =>
		served.has(i) && room.heated && !withoutLoops.has(room.id) && !guests.has(i)
			? [loopsFor(regionArea(region), room, USUAL_TAILS, floor.system.maxLoopLength)]
			: NO_LOOPS,
	);
}
