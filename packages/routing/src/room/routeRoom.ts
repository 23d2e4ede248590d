import { returnSpacing } from "../field/returnSpacing.ts";
import { COLD_ROOM } from "./attempt.ts";
import { loopsAt } from "./loopCounts.ts";
import type { RoomOptions, RoutedRoom } from "./roomSetting.ts";
import { searchRoom } from "./searchRoom.ts";

/** What flattening and rounding may take of a distance, mm. */
const ROUNDED = 0.5;

/**
 * Routes a room with the fewest loops that stay within the limit, and the best of the ways tried. Where the pipe can
 * hardly return at the wanted spacing, and the room is not soon served well by as many loops as it asks for, it is laid
 * at the least spacing that the pipe returns at, if that serves it better.
 */
export function routeRoom(options: RoomOptions): RoutedRoom {
	const { spacing } = options.room;
	const returning = returnSpacing(options.rules) + ROUNDED;
	if (returning <= spacing) return searchRoom(options, spacing);
	const asked = options.count ?? Math.ceil(loopsAt(options, spacing) - 1e-9);
	const isFine = (room: RoutedRoom): boolean =>
		faultsIn(room) === 0 && room.cold <= COLD_ROOM && room.loops.length <= asked;
	const soon = searchRoom(options, spacing, true);
	if (isFine(soon)) return soon;
	const opened: RoutedRoom = { ...searchRoom(options, returning), widenedFor: "returns" };
	const better = servesBetter(opened, soon) ? opened : soon;
	if (isFine(better)) return better;
	const asWanted = searchRoom(options, spacing);
	return servesBetter(asWanted, better) ? asWanted : better;
}

/** What is wrong with a room's loops. */
const faultsIn = ({ missing, tooLong, broken }: RoutedRoom): number => missing + tooLong + broken;

/** Whether one way of laying a room has fewer faults than another, or as many and fewer loops or less cold floor. */
function servesBetter(one: RoutedRoom, other: RoutedRoom): boolean {
	const fewerFaults = faultsIn(other) - faultsIn(one);
	if (fewerFaults !== 0) return fewerFaults > 0;
	if (one.cold > Math.max(COLD_ROOM, other.cold)) return false;
	return one.loops.length < other.loops.length || one.cold < other.cold;
}
