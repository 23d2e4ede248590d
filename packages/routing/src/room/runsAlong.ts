import { CLOSEST_RUNS } from "../field/returnSpacing.ts";
import type { RunsAlong } from "../zones/steppedBands.ts";
import type { RoomSetting } from "./roomSetting.ts";
import { betweenZones } from "./zoneFloor.ts";

/** Where bends are wider than this share of the spacing, returns swell so far that borders stay straight. */
const WIDEST_RETURN = 0.9;

/** How runs lie side by side; undefined where they are to wind inwards, or where wide returns fit no step. */
export function runsAlong(setting: RoomSetting, easy: number): RunsAlong | undefined {
	const { room, system, spacing, entrance, pattern } = setting;
	const { minBendRadius } = system.pipe;
	if (pattern === "spiral" || minBendRadius > WIDEST_RETURN * spacing) return undefined;
	return {
		spacing,
		easy,
		betweenZones: betweenZones(setting),
		edge: room.edgeDistance,
		closest: Math.min(2 * minBendRadius, CLOSEST_RUNS * spacing),
		manifold: entrance.at,
	};
}
