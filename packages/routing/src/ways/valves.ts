import { regionArea } from "@oxturn/geometry";
import { sum } from "../sum.ts";
import type { LaidSpace } from "./laidWays.ts";
import type { RoutedSpace } from "./routeSpace.ts";
import type { Space } from "./spaces.ts";

/*
 * Whose valve governs floor that a loop heats on its way: that of a room which shares its loop is the hall's as well.
 */

/** A room that tails to so many doors pass is a hall: nobody lingers there. */
const DOORS_OF_HALL = 3;
/** A hall no larger than this may do without a valve of its own, mm2. */
const SMALL_HALL = 15e6;
/** Of any other room, no more than this share is left to the valves of others. */
export const MOST_GOVERNED = 2 / 3;

export const isHall = ({ crossing }: LaidSpace): boolean => crossing.length >= DOORS_OF_HALL;

/** Whether a room may be left to the valves of others altogether. */
export const needsNoValve = (laid: LaidSpace, { region }: Space): boolean =>
	isHall(laid) && regionArea(region) <= SMALL_HALL;

/** Floor of a space without a loop of its own that the valves of others govern, mm2. */
export function governedByOthers(space: number, routed: readonly RoutedSpace[], spaces: readonly Space[]): number {
	if (routed.some((each) => each.space === space && each.loops.length > 0)) return 0;
	const others = routed.filter((each) => !spaces[each.space]!.room.share);
	const pieces = others.flatMap(({ onTheWay }) => onTheWay.filter((piece) => piece.space === space));
	return sum(pieces.map(({ area }) => area));
}
