import type { Channel, Floor, Layout, Manifold, Notice, Room } from "@oxturn/floor";
import type { Path } from "@oxturn/geometry";
import { asDrawn } from "./asDrawn.ts";
import { throwIfAborted } from "./errors.ts";
import { regionsPrint } from "./fingerprint.ts";
import { floorInFrame, frameOf, manifoldInFrame, regionInFrame } from "./frame.ts";
import { faultsOf, layoutOf, placed, placedLoop, round } from "./loopFeatures.ts";
import { type RouteMemory, recallRoom, routeMemory } from "./memory.ts";
import { notices as say } from "./notices.ts";
import {
	keepoutNotice,
	openedNotice,
	overheatedNotices,
	patternNotice,
	spaceNotices,
	unreachedNotices,
} from "./roomNotices.ts";
import { type RoutedRoom, STRETCHES } from "./roomSetting.ts";
import { routeRoom } from "./routeRoom.ts";
import type { RoutedLoop } from "./routeZones.ts";
import { COLD_ROOM } from "./search.ts";
import { squareToWalls } from "./squareToWalls.ts";
import { atManifold } from "./tails/apron.ts";
import { tailPitch } from "./tails/pitch.ts";
import { clearanceRules } from "./tails/rules.ts";
import type { RouteOptions } from "./types.ts";
import { divideFloor } from "./ways/divideFloor.ts";
import { neckIn, throughWall } from "./ways/guestRooms.ts";
import { passagesOf } from "./ways/passages.ts";
import type { RoutedSpace } from "./ways/routeSpace.ts";
import { routeWays } from "./ways/routeWays.ts";
import type { Space } from "./ways/spaces.ts";
import type { Territory } from "./ways/territories.ts";
import { featuresOf, type LaidLoop, withoutFaults } from "./withoutFaults.ts";

/** How often a floor is routed anew without the rooms whose loops break rules. */
const MOST_ANEW = 3;

/** What a part of the floor gets: loops in the order of their ports, in the document's own frame. */
interface FloorPart {
	readonly loops: readonly LaidLoop[];
	readonly channels: readonly Omit<Channel, "id">[];
	readonly notices: readonly Notice[];
	/** Rules that its loops break, judged by themselves. */
	readonly broken: number;
}

interface Setting {
	readonly floor: Floor;
	readonly options: RouteOptions;
	readonly memory: RouteMemory;
	readonly pulse: (room: Room) => void;
	readonly expired: () => boolean;
}

/** A room that its manifold serves alone. */
function routeAlone(setting: Setting, { room, region }: Space, manifold: Manifold): FloorPart {
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
		[inFrame.position, inFrame.facing, inFrame.portPitch],
		regionsPrint([local]),
	]);
	const route = (): RoutedRoom =>
		routeRoom({
			room,
			floor: lean,
			walls: lean,
			entrance: atManifold(inFrame),
			rules: clearanceRules(local, inFrame, floor.system),
			others: [],
			stretches: STRETCHES,
			system: floor.system,
			pattern,
			faults: (loops) => faultsOf(alone, loops.map(placedOnce), room, manifold),
			pulse: () => throwIfAborted(options.signal),
			expired: setting.expired,
		});
	const routed = recallRoom(setting.memory, key, setting.expired, route);
	const notices: Notice[] = [];
	if (routed.loops.length === 0) notices.push(keepoutNotice(alone, room) ?? say.unserved(room));
	else if (routed.missing > 0) notices.push(say.partlyServed(room, routed.missing));
	else if (routed.cold > COLD_ROOM) notices.push(say.coldFloor(room, routed.cold));
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

/** Every room that one manifold serves, through the doorways. */
function routeTerritory(
	setting: Setting,
	{ manifold, root, spaces: served }: Territory,
	spaces: readonly Space[],
	{ withoutLoops, apart }: Without,
): FloorPart {
	const { floor, options } = setting;
	const frame = frameOf(spaces[root]!.region, manifold);
	const local = floorInFrame(frame, floor);
	const localSpaces = spaces.map(({ room, region }) => ({ room, region: regionInFrame(frame, region) }));
	const routed = routeWays({
		floor: local,
		manifold: manifoldInFrame(frame, manifold),
		spaces: localSpaces,
		passages: passagesOf(local.doorways, localSpaces),
		root,
		served,
		withoutLoops,
		apart,
		patternOf: (room) => options.pattern ?? room.pattern,
		faults: (room, loops) =>
			faultsOf(
				floor,
				loops.map((loop) => placedLoop(frame, loop)),
				room,
				manifold,
			),
		memory: setting.memory,
		pulse: setting.pulse,
		expired: setting.expired,
	});
	const pipes = routed.spaces.flatMap(({ loops }) => loops.map(({ path }) => path));
	const pitch = tailPitch(floor.system);
	const bundle = (paths: readonly Path[]): Pick<Channel, "pipes" | "width" | "path"> => ({
		pipes: paths.length,
		width: round((paths.length - 1) * pitch),
		path: placed(frame, paths[paths.length >> 1]!),
	});
	const tails = routed.laid.spaces.flatMap(({ space, crossing, slots }) => {
		const room = spaces[space]!.room.id;
		return [
			...crossing.map(({ passage, paths }) => ({ room, doorway: passage.doorway.id, ...bundle(paths) })),
			...slots.filter(({ led }) => led.length > 0).map(({ led }) => ({ room, ...bundle(led) })),
		];
	});
	const necks = routed.spaces.flatMap(({ loops, guests }) =>
		guests.flatMap((link) => {
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
		}),
	);
	const roomsOf = ({ space, guests }: RoutedSpace): readonly Room[] => [
		...new Set([space, ...guests.map(({ guest }) => guest)].map((each) => spaces[each]!.room)),
	];
	return {
		loops: routed.spaces
			.flatMap((each) => each.loops.map((loop) => ({ rooms: roomsOf(each), manifold, loop: placedLoop(frame, loop) })))
			.sort((a, b) => a.loop.port - b.loop.port),
		channels: [...tails, ...necks],
		notices: [
			...routed.blocked.flatMap(({ spaces: beyond, passage, pipes: wanted, fit }) =>
				beyond.map((space) => say.doorwayTooNarrow(spaces[space]!.room, passage.doorway, wanted, fit)),
			),
			...routed.spaces.flatMap((each) =>
				[each.space, ...each.guests.map(({ guest }) => guest)].flatMap((space) =>
					spaceNotices(each, localSpaces[space]!, pipes, options),
				),
			),
			...routed.laid.spaces.flatMap((laid) => overheatedNotices(laid, localSpaces[laid.space]!)),
		],
		broken: routed.spaces.reduce((sum, space) => sum + space.routed.reduce((n, { room }) => n + room.broken, 0), 0),
	};
}

/** What is not to be tried again: room ids. */
interface Without {
	/** Rooms that have been found to get no loop that keeps the rules. */
	readonly withoutLoops: ReadonlySet<string>;
	/** Rooms that share no loop, since one that they shared broke a rule. */
	readonly apart: ReadonlySet<string>;
}

const loopsOf = (parts: readonly FloorPart[]): LaidLoop[] => parts.flatMap(({ loops }) => loops);

/**
 * Routes every heated room from a manifold: those that hang in a room, and those that are reached through doorways.
 * The result has passed its audit, or says where not.
 */
export function routeFloor(given: Floor, options: RouteOptions = {}): Layout {
	const start = performance.now();
	const floor = squareToWalls(given);
	const heated = floor.rooms.filter((room) => room.heated);
	const begun = new Set<string>();
	const setting: Setting = {
		floor,
		options,
		memory: options.memory ?? routeMemory(),
		pulse: (room) => {
			throwIfAborted(options.signal);
			if (begun.has(room.id) || !room.heated) return;
			options.onProgress?.({ stage: "fields", fraction: Math.min(1, begun.size / heated.length), room: room.id });
			begun.add(room.id);
			throwIfAborted(options.signal);
		},
		expired: () => options.timeBudget !== undefined && performance.now() - start > options.timeBudget,
	};
	const { spaces, passages, territories } = divideFloor(floor);
	const routeAll = (without: Without): FloorPart[] =>
		territories.flatMap((territory) => {
			const wanted = [...territory.spaces].filter((space) => spaces[space]!.room.heated);
			if (wanted.length === 0) return [];
			const isAlone = wanted.length === 1 && wanted[0] === territory.root;
			return isAlone
				? [routeAlone(setting, spaces[territory.root]!, territory.manifold)]
				: [routeTerritory(setting, territory, spaces, without)];
		});
	let done = routeAll({ withoutLoops: new Set(), apart: new Set() });
	options.onProgress?.({ stage: "audit", fraction: 1, room: "" });
	// One room that has passed on its own needs no second look.
	const isSure = heated.length === 1 && done.every(({ broken }) => broken === 0);
	let checked = isSure ? { features: featuresOf(loopsOf(done)), leftOut: [] } : withoutFaults(floor, loopsOf(done));
	const withoutLoops = new Map<string, Notice>();
	const apart = new Set<string>();
	// Without the loops that break rules, ports and tails are laid anew.
	for (let round = 0; checked.leftOut.length > 0 && passages.length > 0 && round < MOST_ANEW; round++) {
		for (const { rooms, notices } of checked.leftOut)
			if (rooms.length > 1) for (const { id } of rooms) apart.add(id);
			else for (const notice of notices) withoutLoops.set(notice.subject, notice);
		done = routeAll({ withoutLoops: new Set(withoutLoops.keys()), apart });
		checked = withoutFaults(floor, loopsOf(done));
	}
	const { features } = checked;
	const leftOut = [...withoutLoops.values(), ...checked.leftOut.flatMap(({ notices }) => notices)];
	const channels = done
		.flatMap((part) => part.channels)
		.map((channel, i): Channel => ({ id: `C${i + 1}`, ...channel }));
	const notices = [
		...unreachedNotices(floor, spaces, territories),
		...done.flatMap((part) => part.notices),
		...leftOut,
	];
	const known = new Set([
		...features.flatMap(({ properties }) => properties.rooms),
		...notices.map(({ subject }) => subject),
	]);
	notices.push(...heated.filter(({ id }) => !known.has(id)).map((room) => say.noWay(room)));
	return { ...layoutOf(floor, features, notices), channels };
}
