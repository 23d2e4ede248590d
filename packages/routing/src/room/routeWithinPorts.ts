import { leastLoops } from "./loopCounts.ts";
import { MOST_OPENED, type RoomOptions, type RoutedRoom } from "./roomSetting.ts";
import { routeRoom } from "./routeRoom.ts";

/*
 * A room that needs more loops than its manifold has ports.
 */

/** Factors by which its spacing is opened, one after the other. */
const OPENED = [1.12, 1.2, 1.3, 1.4, MOST_OPENED];

/** Whether all of its zones have loops within the limit. */
const isWhole = ({ missing, leftOut }: RoutedRoom): boolean => missing + leftOut === 0;

/** Whether a room has too few loops, though all ports are taken. */
const lacksPorts = (room: RoutedRoom, places: number): boolean =>
	!isWhole(room) && room.loops.length + room.missing + room.leftOut >= places;

/**
 * Routes a room with so many loops at the most. Where those are too few for it at its spacing, that opens if they are
 * enough then; without loops where they are not.
 */
export function routeWithinPorts(places: number, options: RoomOptions, least: number): RoutedRoom {
	const usual = least <= places ? routeRoom(options) : undefined;
	if (usual && !lacksPorts(usual, places)) return usual;
	const stretches = OPENED.filter((factor) => leastLoops(options, factor * options.room.spacing) <= places);
	const opened: RoutedRoom = { ...routeRoom({ ...options, stretches }), widenedFor: "ports" };
	return isWhole(opened) ? opened : (usual ?? { ...opened, loops: [], bundles: [] });
}
