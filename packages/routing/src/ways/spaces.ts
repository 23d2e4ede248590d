import type { Floor, Room } from "@oxturn/floor";
import {
	difference,
	nearestOnRing,
	openedWithin,
	type Point,
	type Region,
	regionArea,
	regionContains,
	ringsOf,
} from "@oxturn/geometry";
import { sum } from "../sum.ts";

/** A piece of a room that keep-outs leave whole. */
export interface Space {
	readonly room: Room;
	readonly region: Region;
}

/** Pieces smaller than this are corners behind keep-outs, not floor, mm2. */
const SCRAP = 5e4;

/** A keep-out nearer than this to a wall stands at it, though it may be drawn a hair off, mm. */
const HAIR = 4;

/** A room less its keep-outs. */
function freeFloor(room: Region, keepouts: readonly Region[]): readonly Region[] {
	const free = difference([room], keepouts);
	const isWhole = sum(free.map(regionArea)) > regionArea(room) - 1;
	return isWhole ? free : openedWithin(free, HAIR / 2);
}

/** Every piece of every room; most rooms are one. */
export function spacesOf(floor: Floor): Space[] {
	const keepouts = floor.keepouts.map((keepout) => keepout.region);
	return floor.rooms.flatMap((room) =>
		freeFloor(room.region, keepouts)
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
