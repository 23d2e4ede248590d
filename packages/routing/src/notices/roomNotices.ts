import type { Floor, Notice, Room, System } from "@oxturn/floor";
import { type Path, pathLength, regionArea } from "@oxturn/geometry";
import { TOO_WARM } from "../placeManifold.ts";
import { COLD_ROOM } from "../room/attempt.ts";
import type { RoutedRoom } from "../room/roomSetting.ts";
import type { RoutedLoop } from "../room/routeZones.ts";
import { sum } from "../sum.ts";
import type { RouteOptions } from "../types.ts";
import type { LaidSpace } from "../ways/laidWays.ts";
import { coldArea, WARM_ENOUGH } from "../ways/ownFloor.ts";
import type { Blocked } from "../ways/planner.ts";
import { passing, type RoutedSpace } from "../ways/routeSpace.ts";
import type { Space } from "../ways/spaces.ts";
import type { Territory } from "../ways/territories.ts";
import { keepoutBetween } from "./keepoutBetween.ts";
import { keepoutInFront } from "./keepoutInFront.ts";
import { notices as say } from "./notices.ts";
import { portsTaken } from "./portsTaken.ts";

/*
 * Which notices a room gets, once it is laid.
 */

/** Tells of loops that another pattern than the wanted one has been laid in. */
export function patternNotice(room: Room, wanted: string, loops: readonly RoutedLoop[]): Notice[] {
	const other = wanted === "auto" ? 0 : loops.filter((loop) => loop.pattern !== wanted).length;
	return other > 0 ? [say.patternChanged(room, wanted, other)] : [];
}

/** Tells of a keep-out in front of the manifold that a room without a loop hangs on; undefined where none stands there. */
export function keepoutNotice(floor: Floor, room: Room): Notice | undefined {
	const found = keepoutInFront(floor, room);
	return found && say.behindKeepout(room, found.manifold, found.keepout);
}

/** What is told where the spacing was opened, in one piece of a room or in all. */
export function openedNotice(room: Room, pieces: readonly RoutedRoom[]): Notice[] {
	// where nothing is laid, nothing is laid wider
	const laid = pieces.filter(({ loops }) => loops.length > 0);
	const widest = laid.toSorted((a, b) => b.spacing - a.spacing)[0];
	if (!widest || widest.spacing <= room.spacing) return [];
	return [say.spacingOpened(room, widest.spacing, widest.widenedFor)];
}

/** Tells of loops that were left out since they would be too long, in one piece of a room or in all. */
export function lengthNotice(room: Room, pieces: readonly RoutedRoom[], { maxLoopLength }: System): Notice[] {
	const long = pieces.filter(({ leftOut }) => leftOut > 0);
	const count = sum(long.map(({ leftOut }) => leftOut));
	const longest = Math.max(0, ...long.map((piece) => piece.longest));
	return count > 0 ? [say.loopsTooLong(room, count, longest, maxLoopLength)] : [];
}

/** Tells of the keep-out that bars the way to a room from a manifold elsewhere; undefined where none does. */
function beyondNotice(floor: Floor, room: Room): Notice | undefined {
	const found = keepoutBetween(floor, room);
	return found && say.beyondKeepout(room, found.manifold, found.keepout);
}

/** Tells of the manifold that has too few ports for a room as well; undefined where it is not ports that lack. */
function portsNotice(floor: Floor, room: Room): Notice | undefined {
	const manifold = portsTaken(floor, room);
	return manifold && say.noPort(room, manifold);
}

/** What of a room that is served through doorways a reader should know: floor that stays cold, and what was opened. */
export function spaceNotices(
	{ loops, routed }: RoutedSpace,
	{ room, region }: Space,
	pipes: readonly Path[],
	system: System,
	options: RouteOptions,
): Notice[] {
	if (!room.heated) return [];
	const pieces = routed.map((each) => each.room);
	const cold = coldArea([region], pipes, room.spacing) / regionArea(region);
	const lengths = lengthNotice(room, pieces, system);
	if (loops.length === 0 && lengths.length === 0)
		return [cold > WARM_ENOUGH ? say.unserved(room) : say.heatedByTails(room, cold)];
	const missing = sum(pieces.map((piece) => piece.missing));
	const isColdElsewhere = cold > COLD_ROOM && lengths.length === 0;
	return [
		...(missing > 0 ? [say.partlyServed(room, missing)] : isColdElsewhere ? [say.coldFloor(room, cold)] : []),
		...lengths,
		...openedNotice(room, pieces),
		...patternNotice(room, options.pattern ?? room.pattern, loops),
	];
}

/** Why no tails come to a space behind a doorway: that is full, or the way to it is. */
export function blockedNotice(
	{ space, passage, pipes, fit, places, isWayThere }: Blocked,
	spaces: readonly Space[],
): Notice {
	const { room } = spaces[space]!;
	const { doorway, from } = passage;
	return isWayThere
		? say.wayTooNarrow(room, spaces[from]!.room, doorway, { pipes, fit, places })
		: say.doorwayTooNarrow(room, doorway, { pipes, fit, places });
}

/** A heated room where the tails that pass lie far closer than its own pipe would. */
export function overheatedNotices(laid: LaidSpace, { room, region }: Space): Notice[] {
	const pipe = sum(passing(laid).map(pathLength));
	const spacing = regionArea(region) / Math.max(pipe, 1);
	return room.heated && room.spacing > TOO_WARM * spacing ? [say.overheated(room, spacing)] : [];
}

/** Why a room that a manifold reaches has nothing told of it: others took the ports, or there is no way after all. */
export const missingNotice = (floor: Floor, room: Room): Notice => portsNotice(floor, room) ?? say.noWay(room);

/** Floor that keep-outs cut off, and rooms that no manifold reaches. */
export function unreachedNotices(floor: Floor, spaces: readonly Space[], territories: readonly Territory[]): Notice[] {
	const reached = new Set(territories.flatMap((territory) => [...territory.spaces]));
	return floor.rooms
		.filter((room) => room.heated)
		.flatMap((room) => {
			const own = spaces.map((space, index) => ({ ...space, index })).filter((space) => space.room === room);
			if (own.length === 0) return [say.noFloor(room)];
			if (!own.some(({ index }) => reached.has(index)))
				return [
					keepoutNotice(floor, room) ?? portsNotice(floor, room) ?? beyondNotice(floor, room) ?? say.noManifold(room),
				];
			const cutOff = sum(own.map(({ index, region }) => (reached.has(index) ? 0 : regionArea(region)))) / 1e6;
			return cutOff > 0 ? [say.cutOff(room, cutOff)] : [];
		});
}
