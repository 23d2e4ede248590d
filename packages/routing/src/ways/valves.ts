import { regionArea } from "@oxturn/geometry";
import { sum } from "../sum.ts";
import type { LaidSpace } from "./laidWays.ts";
import type { WaysSetting } from "./plan.ts";
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

/** What a manifold serves of a floor. */
type Served = Pick<WaysSetting, "spaces" | "passages" | "served">;

/** Whether a room is a hall, by the tails that pass, or by its doors where those of several manifolds do. */
export function isHall({ space, crossing }: LaidSpace, { spaces, passages, served }: Served): boolean {
	if (crossing.length >= DOORS_OF_HALL) return true;
	const { id } = spaces[space]!.room;
	const parts = spaces.flatMap(({ room }, i) => (room.id === id ? [i] : []));
	if (parts.every((part) => served.has(part))) return false;
	const doors = passages.filter(({ from }) => parts.includes(from)).map(({ doorway }) => doorway.id);
	// One at least is the way in of some tails.
	return new Set(doors).size > DOORS_OF_HALL;
}

/** Whether a room, or a manifold's part of it, may be left to the valves of others altogether. */
export const needsNoValve = (laid: LaidSpace, floor: Served): boolean =>
	isHall(laid, floor) && regionArea(floor.spaces[laid.space]!.region) <= SMALL_HALL;

/** The same before tails are laid: a room that tails to so many doors are to pass. */
export const isSmallHall = ({ room, region }: Space, doors: number): boolean =>
	doors >= DOORS_OF_HALL && !room.keptApart && regionArea(region) <= SMALL_HALL;

/** Floor of a space without a loop of its own that the valves of others govern, mm2. */
export function governedByOthers(space: number, routed: readonly RoutedSpace[], spaces: readonly Space[]): number {
	if (routed.some((each) => each.space === space && each.loops.length > 0)) return 0;
	const others = routed.filter((each) => !spaces[each.space]!.room.share);
	const pieces = others.flatMap(({ onTheWay }) => onTheWay.filter((piece) => piece.space === space));
	return sum(pieces.map(({ area }) => area));
}
