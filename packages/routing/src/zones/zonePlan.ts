import type { Region } from "@oxturn/geometry";
import type { WallPlaces } from "./entries.ts";
import type { RunsAlong } from "./steppedBands.ts";

/** From so many loops on, their tails take so much pipe and floor that these are reckoned with. */
export const MANY_LOOPS = 11;

/**
 * A way of cutting a room: gives the zones whose areas have the given shares, or undefined where it cannot. Borders are
 * straight, unless it is told how runs lie.
 */
export type ZonePlan = (shares: readonly number[], runs?: RunsAlong) => Region[] | undefined;

export interface ZonePlanOptions {
	readonly floor: Region;
	readonly count: number;
	/** From its manifold on. */
	readonly wall: WallPlaces;
	/** Centre to centre, mm. */
	readonly spacing: number;
	/** mm */
	readonly longest: number;
	/** Whether plans are left out that make runs short or, at a guess, cannot make loops short enough. */
	readonly onlyGood: boolean;
}
