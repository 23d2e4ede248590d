import type { Floor, Manifold, Notice, PatternName, Room } from "@oxturn/floor";
import { asDrawn } from "./asDrawn.ts";
import { throwIfAborted } from "./errors.ts";
import { returnSpacing } from "./field/returnSpacing.ts";
import { regionsPrint } from "./fingerprint.ts";
import type { FloorPart, PartSetting } from "./floorPart.ts";
import { frameOf, manifoldInFrame, regionInFrame } from "./frame.ts";
import { faultsOf, placed, placedLoop, round } from "./loopFeatures.ts";
import { recallRoom } from "./memory.ts";
import { notices as say } from "./notices/notices.ts";
import { keepoutNotice, lengthNotice, openedNotice, patternNotice } from "./notices/roomNotices.ts";
import { COLD_ROOM } from "./room/attempt.ts";
import { leastLoops } from "./room/loopCounts.ts";
import { MOST_OPENED, type RoomOptions, type RoutedRoom, STRETCHES } from "./room/roomSetting.ts";
import { routeWithinPorts } from "./room/routeWithinPorts.ts";
import type { RoutedLoop } from "./room/routeZones.ts";
import { atManifold, placesAt } from "./tails/apron.ts";
import { clearanceRules } from "./tails/rules.ts";
import type { Space } from "./ways/spaces.ts";

/** A room that its manifold serves alone. */
export function routeAlone(setting: PartSetting, { room, region }: Space, manifold: Manifold): FloorPart {
	const { floor, options } = setting;
	const frame = frameOf(region, manifold);
	const inFrame = manifoldInFrame(frame, manifold);
	const local = regionInFrame(frame, region);
	const lean = asDrawn(local);
	const alone: Floor = { ...floor, rooms: [room], doorways: [], manifolds: [manifold] };
	const pattern = options.pattern ?? room.pattern;
	setting.pulse(room);
	/** Loops on the floor as they are judged there, kept for the layout. */
	const onFloor = new Map<RoutedLoop, RoutedLoop>();
	const placedOnce = (loop: RoutedLoop): RoutedLoop => {
		const known = onFloor.get(loop) ?? placedLoop(frame, loop);
		onFloor.set(loop, known);
		return known;
	};
	const keyOf = (): string =>
		JSON.stringify([
			"alone",
			[room.spacing, room.edgeDistance, pattern, floor.system],
			[inFrame.position, inFrame.facing, inFrame.portPitch, inFrame.ports ?? 0],
			regionsPrint([local]),
		]);
	const places = placesAt(manifold);
	const roomOptions: RoomOptions = {
		room,
		floor: lean,
		walls: lean,
		entrance: atManifold(inFrame),
		rules: clearanceRules(local, inFrame, floor.system),
		others: [],
		places,
		stretches: STRETCHES,
		system: floor.system,
		pattern,
		faults: (loops) => faultsOf(alone, loops.map(placedOnce), room, manifold),
		pulse: () => throwIfAborted(options.signal),
		expired: setting.expired,
	};
	const widest = Math.max(STRETCHES.at(-1)! * room.spacing, returnSpacing(roomOptions.rules));
	const least = leastLoops(roomOptions, widest);
	const tooMany = (): FloorPart => ({
		loops: [],
		channels: [],
		notices: [say.tooManyLoops(room, manifold, least, places)],
		broken: 0,
	});
	if (leastLoops(roomOptions, Math.max(widest, MOST_OPENED * room.spacing)) > places) return tooMany();
	// Where there is but one room and one manifold, nothing is asked for again, and a key not worth its while.
	const isRoutedOnce = floor.rooms.length === 1 && floor.manifolds.length === 1 && !options.memory;
	const route = (): RoutedRoom => routeWithinPorts(places, roomOptions, least);
	const routed = isRoutedOnce ? route() : recallRoom(setting.memory, keyOf(), setting.expired, route);
	if (least > places && routed.loops.length === 0) return tooMany();
	return {
		loops: routed.loops.map((loop) => ({ rooms: [room], manifold, loop: placedOnce(loop) })),
		channels: routed.bundles.map(({ pipes, width, path }) => ({
			room: room.id,
			pipes,
			width: round(width),
			path: placed(frame, path),
		})),
		notices: noticesOf(routed, room, alone, pattern),
		broken: routed.broken,
	};
}

function noticesOf(routed: RoutedRoom, room: Room, floor: Floor, pattern: PatternName): Notice[] {
	const lengths = lengthNotice(room, [routed], floor.system);
	return [
		...coldNotice(routed, room, floor, lengths.length > 0),
		...lengths,
		...openedNotice(room, [routed]),
		...patternNotice(room, pattern, routed.loops),
	];
}

/** What stays cold; loops left out for their length tell of it themselves. */
function coldNotice({ loops, missing, cold }: RoutedRoom, room: Room, floor: Floor, isTold: boolean): Notice[] {
	if (loops.length === 0 && !isTold) return [keepoutNotice(floor, room) ?? say.unserved(room)];
	if (missing > 0) return [say.partlyServed(room, missing)];
	return cold > COLD_ROOM && !isTold ? [say.coldFloor(room, cold)] : [];
}
