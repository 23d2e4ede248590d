import type { Floor, Room } from "@oxturn/floor";
import {
	difference,
	nearestOnRing,
	type Point,
	type Region,
	regionArea,
	regionContains,
	ringsOf,
} from "@oxturn/geometry";

/** A piece of a room that keep-outs leave whole. */
export interface Space {
	readonly room: Room;
	readonly region: Region;
}

/** Pieces smaller than this are corners behind keep-outs, not floor, mm2. */
const SCRAP = 5e4;

/** Every piece of every room; most rooms are one. */
export function spacesOf(floor: Floor): Space[] {
	const keepouts = floor.keepouts.map((keepout) => keepout.region);
	return floor.rooms.flatMap((room) =>
		difference([room.region], keepouts)
			.filter((region) => regionArea(region) > SCRAP)
			.map((region) => ({ room, region })),
	);
}

/** A manifold farther than this from a room's walls does not hang in it, mm. */
export const AT_WALL = 100;
/** Its pipes leave into the room that lies this far in front of it, mm: on a thin wall, rooms lie on either side. */
export const AHEAD = 150;

/** How far a place lies outside a region, mm; 0 within. */
export const awayFrom = (region: Region, p: Point): number =>
	regionContains(region, p) ? 0 : Math.min(...ringsOf(region).map((ring) => nearestOnRing(ring, p).distance));

/** How far a place lies from a region's nearest wall, mm; negative outside. */
export function depthIn(region: Region, p: Point): number {
	const away = Math.min(...ringsOf(region).map((ring) => nearestOnRing(ring, p).distance));
	return regionContains(region, p) ? away : -away;
}
