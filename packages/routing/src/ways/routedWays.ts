import type { PatternName, Room } from "@oxturn/floor";
import type { RouteMemory } from "../memory.ts";
import type { RoutedLoop } from "../room/routeZones.ts";
import type { LaidWays, OwnLoops } from "./laidWays.ts";
import type { Necks } from "./layNecks.ts";
import type { WaysSetting } from "./plan.ts";
import type { Blocked } from "./planner.ts";
import type { RoutedSpace, SpaceContext } from "./routeSpace.ts";

export interface RouteWaysOptions extends Omit<WaysSetting, "over" | "laidBefore"> {
	/** Ids of rooms that have been found to share no loop that keeps the rules. */
	readonly apart: ReadonlySet<string>;
	readonly patternOf: (room: Room) => PatternName;
	/** How many rules a room's loops break. */
	readonly faults: (room: Room, loops: readonly RoutedLoop[]) => number;
	readonly memory: RouteMemory;
	readonly pulse: (room: Room) => void;
	readonly expired: () => boolean;
}

/** By space: pipe that its loops need for floor of other rooms on their way, mm, from the leftmost. */
export type Elsewhere = ReadonlyMap<number, readonly number[]>;

export interface RoutedWays {
	readonly spaces: readonly RoutedSpace[];
	readonly laid: LaidWays;
	readonly blocked: readonly Blocked[];
	readonly necks: Necks;
	readonly context: SpaceContext;
}

/** What has been routed by a plan that can be changed. */
export interface RoutedPlan extends RoutedWays {
	/**
	 * The same with other numbers of loops in some spaces, come what may, and with less floor for loops that heat some
	 * elsewhere; undefined where tails find no way then.
	 */
	readonly withLoops: (own: ReadonlyMap<number, OwnLoops>, elsewhere: Elsewhere) => RoutedPlan | undefined;
}
