import type { Floor, Manifold, Notice } from "@oxturn/floor";
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
import { type RoomOptions, STRETCHES } from "./room/roomSetting.ts";
import { routeRoom } from "./room/routeRoom.ts";
import type { RoutedLoop } from "./room/routeZones.ts";
import { leastLoops } from "./room/search.ts";
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
	const key = JSON.stringify([
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
	if (least > places)
		return { loops: [], channels: [], notices: [say.tooManyLoops(room, manifold, least, places)], broken: 0 };
	const routed = recallRoom(setting.memory, key, setting.expired, () => routeRoom(roomOptions));
	const notices: Notice[] = [];
	const lengths = lengthNotice(room, [routed], floor.system);
	if (routed.loops.length === 0 && lengths.length === 0) notices.push(keepoutNotice(alone, room) ?? say.unserved(room));
	else if (routed.missing > 0) notices.push(say.partlyServed(room, routed.missing));
	else if (routed.cold > COLD_ROOM && lengths.length === 0) notices.push(say.coldFloor(room, routed.cold));
	notices.push(...lengths);
	notices.push(...openedNotice(room, [routed]));
	return {
		loops: routed.loops.map((loop) => ({ rooms: [room], manifold, loop: placedOnce(loop) })),
		channels: routed.bundles.map(({ pipes, width, path }) => ({
			room: room.id,
			pipes,
			width: round(width),
			path: placed(frame, path),
		})),
		notices: [...notices, ...patternNotice(room, pattern, routed.loops)],
		broken: routed.broken,
	};
}
