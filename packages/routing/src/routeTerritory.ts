import type { Channel, Notice, System } from "@oxturn/floor";
import type { Path } from "@oxturn/geometry";
import type { FloorPart, PartSetting, Without } from "./floorPart.ts";
import { type Frame, floorInFrame, frameOf, manifoldInFrame, regionInFrame } from "./frame.ts";
import { faultsOf, placed, placedLoop, round } from "./loopFeatures.ts";
import { notices as say } from "./notices/notices.ts";
import { blockedNotice, overheatedNotices, spaceNotices } from "./notices/roomNotices.ts";
import type { RoutedLoop } from "./room/routeZones.ts";
import { sum } from "./sum.ts";
import { tailPitch } from "./tails/pitch.ts";
import type { RouteOptions } from "./types.ts";
import { blockedIn } from "./ways/costOfWays.ts";
import { neckIn, throughWall } from "./ways/guestRooms.ts";
import { passagesOf } from "./ways/passages.ts";
import type { RoutedWays } from "./ways/routedWays.ts";
import type { RoutedSpace } from "./ways/routeSpace.ts";
import { routeWays } from "./ways/routeWays.ts";
import type { Link } from "./ways/sharedRooms.ts";
import type { Space } from "./ways/spaces.ts";
import type { Territory } from "./ways/territories.ts";
import type { LaidLoop } from "./withoutFaults.ts";

/** A manifold's part of the floor once it is routed, in the frame of its first room. */
interface RoutedTerritory {
	readonly frame: Frame;
	/** Pieces of rooms as the document has them, and in the frame. */
	readonly spaces: readonly Space[];
	readonly localSpaces: readonly Space[];
	readonly routed: RoutedWays;
	/** A space that it passes and has no port for. */
	readonly withoutPort: number | undefined;
}

/** Bundles of tails through the rooms of a territory. */
function tailChannels({ frame, spaces, routed }: RoutedTerritory, system: System): Omit<Channel, "id">[] {
	const pitch = tailPitch(system);
	const bundle = (paths: readonly Path[]): Pick<Channel, "pipes" | "width" | "path"> => ({
		pipes: paths.length,
		width: round((paths.length - 1) * pitch),
		path: placed(frame, paths[paths.length >> 1]!),
	});
	return routed.laid.spaces.flatMap(({ space, crossing, slots }) => {
		const room = spaces[space]!.room.id;
		return [
			...crossing.map(({ passage, paths }) => ({ room, doorway: passage.doorway.id, ...bundle(paths) })),
			...slots.filter(({ led }) => led.length > 0).map(({ led }) => ({ room, ...bundle(led) })),
		];
	});
}

/** Pairs of pipes that lead shared loops on into their guests' rooms. */
function neckChannels({ frame, spaces, routed }: RoutedTerritory): Omit<Channel, "id">[] {
	const channelsTo = (loops: readonly RoutedLoop[], link: Link): Omit<Channel, "id">[] => {
		// Across a hall, the way from there into the guest's room is among what crosses the hall.
		const across = routed.necks.get(link)?.near;
		const passage = link.across ?? link.through;
		const found = across ? [throughWall(across)] : loops.map(({ path }) => neckIn(path, passage));
		return found
			.filter((neck) => neck !== undefined)
			.map(({ path, width }) => ({
				room: spaces[passage.from]!.room.id,
				doorway: passage.doorway.id,
				pipes: 2,
				width: round(width),
				path: placed(frame, path),
			}));
	};
	return routed.spaces.flatMap(({ loops, guests }) => guests.flatMap((link) => channelsTo(loops, link)));
}

/** A space and those that its loop goes on to. */
const withGuests = ({ space, guests }: RoutedSpace): number[] => [space, ...guests.map(({ guest }) => guest)];

function territoryNotices(
	{ spaces, localSpaces, routed, withoutPort }: RoutedTerritory,
	system: System,
	options: RouteOptions,
): Notice[] {
	const pipes = routed.spaces.flatMap(({ loops }) => loops.map(({ path }) => path));
	const heatedOnTheWay = new Set(routed.spaces.flatMap(({ onTheWay }) => onTheWay.map(({ space }) => space)));
	const blocked = blockedIn(routed, localSpaces);
	const isBlocked = new Set(blocked.map(({ space }) => space));
	const isToldElsewhere = (space: number, code: string): boolean =>
		// Why it has no loop, the floor as a whole tells, or its doorway.
		((space === withoutPort || isBlocked.has(space)) && code === "ROOM_UNSERVED") ||
		(heatedOnTheWay.has(space) && code === "HEATED_BY_TAILS");
	return [
		...blocked.map((each) => blockedNotice(each, spaces)),
		...routed.spaces.flatMap((each) =>
			withGuests(each).flatMap((space) =>
				spaceNotices(each, localSpaces[space]!, pipes, system, options).filter(
					({ code }) => !isToldElsewhere(space, code),
				),
			),
		),
		...routed.spaces.flatMap(({ space, onTheWay }) =>
			onTheWay.map((piece) => say.heatedOnTheWay(spaces[piece.space]!.room, spaces[space]!.room, piece.area / 1e6)),
		),
		...routed.laid.spaces.flatMap((laid) => overheatedNotices(laid, localSpaces[laid.space]!)),
	];
}

/** Every room that one manifold serves, through the doorways. */
export function routeTerritory(
	setting: PartSetting,
	{ manifold, root, spaces: served, servesRoot }: Territory,
	spaces: readonly Space[],
	{ withoutLoops, apart }: Without,
): FloorPart {
	const { floor, options } = setting;
	const frame = frameOf(spaces[root]!.region, manifold);
	const local = floorInFrame(frame, floor);
	const localSpaces = spaces.map(({ room, region }) => ({ room, region: regionInFrame(frame, region) }));
	const toFloor = (loops: readonly RoutedLoop[]): RoutedLoop[] => loops.map((loop) => placedLoop(frame, loop));
	const routed = routeWays({
		floor: local,
		manifold: manifoldInFrame(frame, manifold),
		spaces: localSpaces,
		passages: passagesOf(local.doorways, localSpaces),
		root,
		served,
		withoutLoops: servesRoot ? withoutLoops : new Set([...withoutLoops, spaces[root]!.room.id]),
		apart,
		patternOf: (room) => options.pattern ?? room.pattern,
		faults: (room, loops) => faultsOf(floor, toFloor(loops), room, manifold),
		memory: setting.memory,
		pulse: setting.pulse,
		expired: setting.expired,
	});
	const territory: RoutedTerritory = {
		frame,
		spaces,
		localSpaces,
		routed,
		withoutPort: servesRoot ? undefined : root,
	};
	const laidLoops = (each: RoutedSpace): LaidLoop[] =>
		toFloor(each.loops).map((loop) => {
			const onTheWay = each.onTheWay.filter(({ port }) => port === loop.port).map(({ space }) => space);
			const rooms = [...new Set([...withGuests(each), ...onTheWay].map((space) => spaces[space]!.room))];
			return { rooms, manifold, loop };
		});
	return {
		loops: routed.spaces.flatMap(laidLoops).sort((a, b) => a.loop.port - b.loop.port),
		channels: [...tailChannels(territory, floor.system), ...neckChannels(territory)],
		notices: territoryNotices(territory, floor.system, options),
		broken: sum(routed.spaces.flatMap((space) => space.routed.map(({ room }) => room.broken))),
	};
}
