import { tailPitch } from "../tails/pitch.ts";
import type { WallPlaces } from "../zones/entries.ts";
import { type EvenSharesOptions, meanLength } from "../zones/evenShares.ts";
import { zonePlans } from "../zones/plans.ts";
import type { ZonePlanOptions } from "../zones/zonePlan.ts";
import type { RoomOptions } from "./roomSetting.ts";
import { tailGap } from "./zoneFloor.ts";

/** What plans for some loops go by. */
export type Planning = Omit<ZonePlanOptions, "onlyGood"> & EvenSharesOptions;

/** A room at one spacing, before it is cut. */
interface RoomToCut {
	readonly options: Pick<RoomOptions, "floor" | "system" | "entrance">;
	/** Centre to centre, mm. */
	readonly spacing: number;
	readonly wall: WallPlaces;
}

export function planningOf({ options, spacing, wall }: RoomToCut, count: number): Planning {
	const { floor, system, entrance } = options;
	return {
		floor,
		wall,
		spacing,
		longest: 1000 * system.maxLoopLength - entrance.spent,
		count,
		tailPitch: tailPitch(system),
		tailGap: tailGap({ system, spacing }),
		elsewhere: entrance.pairs(count).map((pair) => pair.elsewhere ?? 0),
	};
}

/** How long so many loops are on average at a guess, as a share of the limit, with the plan that has the shortest. */
export function shortestMean(room: RoomToCut, count: number): number {
	const planning = planningOf(room, count);
	const means = zonePlans({ ...planning, onlyGood: false }).map((plan) => meanLength(plan, planning));
	return Math.min(Infinity, ...means) / planning.longest;
}
