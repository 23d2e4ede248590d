import type { Floor, PatternName, Room } from "@oxturn/floor";
import {
	boundingBox,
	largestFirst,
	type Path,
	type Point,
	pathLength,
	type Region,
	regionArea,
} from "@oxturn/geometry";
import { type Box, stretchesIn } from "../boxes.ts";
import { fingerprint, regionsPrint } from "../fingerprint.ts";
import { type RouteMemory, recallPieces, recallRoom } from "../memory.ts";
import { type Onward, type RoomOptions, type RoutedRoom, STRETCHES } from "../room/roomSetting.ts";
import { routeRoom } from "../room/routeRoom.ts";
import type { RoutedLoop } from "../room/routeZones.ts";
import type { Entrance, PortPair } from "../tails/apron.ts";
import type { ClearanceRules } from "../tails/clearance.ts";
import { beside, type Lane } from "../tails/lanes.ts";
import type { LaidSpace, LaidWays, PipeSoFar, Slot } from "./laidWays.ts";
import { coldArea, floorAlong, floorAt, floorBetween, pieceAt } from "./ownFloor.ts";
import type { Link } from "./sharedRooms.ts";
import type { Space } from "./spaces.ts";

/** What a space got, and what its designer should know. */
export interface RoutedSpace {
	readonly space: number;
	readonly loops: readonly RoutedLoop[];
	/** Where its loop goes on to rooms that have none of their own. */
	readonly guests: readonly Link[];
	/** Floor that its loops make runs on where they pass. */
	readonly onTheWay: readonly PieceOnTheWay[];
	/** One a slot that has loops. */
	readonly routed: readonly { readonly slot: number; readonly room: RoutedRoom }[];
}

/** Floor of another space on the way of a loop that heats it. */
export interface PieceOnTheWay {
	readonly space: number;
	/** mm2 */
	readonly area: number;
	/** Port of the loop. */
	readonly port: number;
}

export interface SpaceContext {
	readonly floor: Floor;
	readonly spaces: readonly Space[];
	readonly rules: ClearanceRules;
	/** The way the pipes leave the manifold. */
	readonly facing: Point;
	readonly memory: RouteMemory;
}

export interface RouteSpaceOptions extends SpaceContext {
	readonly ways: LaidWays;
	readonly laid: LaidSpace;
	/** Where its loop shall go on to. */
	readonly onward?: Onward | undefined;
	/** Floor of the rooms that it goes on to, and its own pipes on the way there across a hall. */
	readonly guests: readonly Region[];
	readonly ownNecks: readonly Path[];
	/** Pipes of others' loops on their way across a hall to another room. */
	readonly necks: readonly Path[];
	/** How far the spacing may open so that loops stay within the limit, as a factor. */
	readonly stretches: readonly number[];
	/** Whether its field may begin far from where its pipes come in, along a corridor between tails that pass. */
	readonly isFar: boolean;
	/** Pipe that its loops need for floor of other rooms on their way, mm, from the leftmost. */
	readonly elsewhere: readonly number[];
	readonly pattern: PatternName;
	/** How many rules a room's loops break. */
	readonly faults: (room: Room, loops: readonly RoutedLoop[]) => number;
	readonly pulse: (room: Room) => void;
	readonly expired: () => boolean;
}

/** Tails to a room take about this much pipe, for a first guess at its loops, mm. */
export const USUAL_TAILS = 8000;
/** Rounded turns save pipe: a room takes this share of area / spacing, and never less than the least. */
const DENSITY = 0.96;
const LEAST_DENSITY = 0.93;
/** Before a room takes another loop, its spacing opens so far. */
const WIDEST = Math.max(...STRETCHES);
/** A piece of floor needs no loop where the tails leave no more than this share of its room cold, or this much, mm2. */
const COLD_SHARE = 0.04;
const COLD_FLOOR = 3e5;

const angleOf = ({ axis }: Lane): number => Math.atan2(axis[1], axis[0]);

/** The pipes of a slot as the entrance to the floor in front of it; its pairs are numbered from 1. */
function entranceOf(slot: Slot, isFar: boolean, elsewhere: readonly number[]): Entrance {
	const pairs = Array.from({ length: slot.pipes.length / 2 }, (_, i): PortPair => {
		const pose = ({ lane }: PipeSoFar): PortPair["flow"] => ({
			at: beside(lane.at, lane.axis, slot.depth, 0),
			heading: angleOf(lane),
		});
		return {
			number: i + 1,
			return: pose(slot.pipes[2 * i]!),
			flow: pose(slot.pipes[2 * i + 1]!),
			elsewhere: elsewhere[i] ?? 0,
		};
	});
	const between = isFar && !slot.inside ? slot.between : { left: undefined, right: undefined };
	return { at: slot.at, pairs: () => pairs, spent: spentOn(slot), between };
}

/** The most pipe that a loop of a slot has spent before it comes to its floor, mm. */
export function spentOn({ pipes, depth }: Slot): number {
	const lengths = pipes.map(({ path }) => pathLength(path) + depth);
	return Math.max(0, ...lengths.map((length, i) => (i % 2 === 1 ? length + lengths[i - 1]! : 0)));
}

/** A loop laid from its entrance on, with its tails up to there and the port that they come from. */
function wholeLoop(loop: RoutedLoop, slot: Slot): RoutedLoop {
	const left = slot.pipes[2 * loop.port - 2]!;
	const right = slot.pipes[2 * loop.port - 1]!;
	const path = [...right.path, ...loop.path, ...[...left.path].reverse()];
	const joined = path.filter((p, i) => i === 0 || p[0] !== path[i - 1]![0] || p[1] !== path[i - 1]![1]);
	return { ...loop, port: left.port, path: joined, length: pathLength(joined) / 1000 };
}

/** The tails that pass a space on their way to others. */
export const passing = ({ crossing }: LaidSpace): Path[] => crossing.flatMap(({ paths }) => paths);

/** The pieces that the tails which pass a space leave of it. */
function floorPieces({ spaces, rules, floor, memory }: SpaceContext, laid: LaidSpace): readonly Region[] {
	const space = spaces[laid.space]!;
	const pipes = passing(laid);
	const key = `${regionsPrint([space.region])} ${fingerprint(pipes)} ${JSON.stringify([rules.manifold, floor.system])}`;
	return recallPieces(memory, key, () => floorBetween(space, pipes, rules, floor.system));
}

/** The piece of floor that each slot opens on to. */
export function piecesOf(context: SpaceContext, laid: LaidSpace): (Region | undefined)[] {
	const { rules, facing } = context;
	const pieces = floorPieces(context, laid);
	const axis = laid.passage?.axis ?? facing;
	const reach = 1.2 * rules.apart;
	return laid.slots.map((slot) => {
		const { left, right } = slot.between;
		return slot.inside
			? pieceAt(pieces, slot.inside)
			: slot.pipes.length === 0 && left && right
				? floorAlong(pieces, [left, right], reach)
				: floorAt(pieces, slot.at, axis);
	});
}

/** How much of a space may stay cold without a loop of its own, mm2. */
const enoughIn = (region: Region): number => Math.max(COLD_FLOOR, COLD_SHARE * regionArea(region));

/** The pieces of a space that have no loop and are not warm without one, by slot. */
export function coldPieces(context: SpaceContext, laid: LaidSpace): Map<number, Region> {
	const { room, region } = context.spaces[laid.space]!;
	const pieces = piecesOf(context, laid);
	const served = new Set(pieces.filter((_, slot) => laid.slots[slot]!.pipes.length > 0));
	const found = new Map<number, Region>();
	for (const [slot, piece] of pieces.entries()) {
		if (!piece || served.has(piece)) continue;
		served.add(piece);
		if (coldArea([piece], passing(laid), room.spacing) >= enoughIn(region)) found.set(slot, piece);
	}
	return found;
}

/** The pieces between the tails that pass a space which some pipes leave cold, whether a slot opens on to them or not; the largest first. */
export function coldFloor(context: SpaceContext, laid: LaidSpace, pipes: readonly Path[]): Region[] {
	const { room, region } = context.spaces[laid.space]!;
	const isCold = (piece: Region): boolean => coldArea([piece], pipes, room.spacing) >= enoughIn(region);
	return largestFirst(floorPieces(context, laid)).filter(isCold);
}

/** The least number of loops that an area needs, `spent` mm of each being used up on the way. */
export const loopsFor = (area: number, room: Room, spent: number, maxLoopLength: number, density = DENSITY): number =>
	Math.max(1, Math.ceil((density * area) / room.spacing / Math.max(1000 * maxLoopLength - spent, 1000)));

/** How many loops each slot of a space needs, given what the tails that pass leave cold. */
export function loopsWanted(context: SpaceContext, laid: LaidSpace): number[] {
	const { room, region } = context.spaces[laid.space]!;
	const pipes = passing(laid);
	const enough = enoughIn(region);
	if (pipes.length > 0 && coldArea([region], pipes, room.spacing) < enough) return laid.slots.map(() => 0);
	return piecesOf(context, laid).map((piece, i) => {
		if (!piece || (laid.slots.length > 1 && coldArea([piece], pipes, room.spacing) < enough)) return 0;
		const spent = spentOn(laid.slots[i]!);
		const { maxLoopLength } = context.floor.system;
		// A loop that is too long is mended later, one too many is not.
		return loopsFor(
			regionArea(piece),
			room,
			spent,
			maxLoopLength,
			(pipes.length > 0 ? DENSITY : LEAST_DENSITY) / WIDEST,
		);
	});
}

/** Other pipes matter to a room's loops only this near to it, mm. */
const NEAR = 250;
/** Rooms, doorways and keep-outs only where they touch it, mm. */
const TOUCHING = 10;

/** The box round all that a room's loops may lie on. */
function boxAround({ spaces, laid, guests, ownNecks }: RouteSpaceOptions, by: number): Box {
	const rings = [spaces[laid.space]!.region.outer, ...guests.map(({ outer }) => outer), ...ownNecks];
	const [minX, minY, maxX, maxY] = boundingBox(rings.flat());
	return [minX - by, minY - by, maxX + by, maxY + by];
}

/** All that a room's loops depend on. */
function keyOf(options: RouteSpaceOptions, setting: RoomOptions, slot: Slot): string {
	const { floor, rules, pattern, stretches, isFar } = options;
	const { room, entrance } = setting;
	const around = boxAround(options, TOUCHING);
	const near = ({ region }: { readonly region: Region }): boolean => {
		const [minX, minY, maxX, maxY] = boundingBox(region.outer);
		return minX <= around[2] && maxX >= around[0] && minY <= around[3] && maxY >= around[1];
	};
	const { manifold, apart, apartAtManifold } = rules;
	const poses = entrance.pairs(setting.count ?? 0).flatMap((pair) => [pair.return, pair.flow]);
	return JSON.stringify([
		[room.id, room.spacing, room.edgeDistance, pattern, stretches, isFar, options.elsewhere, floor.system],
		[manifold, apart, apartAtManifold, slot.depth],
		regionsPrint([setting.floor, setting.walls, ...options.guests]),
		fingerprint(options.ownNecks),
		regionsPrint([...floor.rooms, ...floor.doorways, ...floor.keepouts].filter(near).map(({ region }) => region)),
		fingerprint(poses.map(({ at, heading }) => [at, [heading, 0]])),
		fingerprint(slot.pipes.map(({ path }) => path)),
		fingerprint(setting.others),
	]);
}

/** Lays a space's own loops, each from its port and back. */
export function routeSpace(options: RouteSpaceOptions): RoutedSpace {
	const { laid, ways, rules } = options;
	const { room, region } = options.spaces[laid.space]!;
	options.pulse(room);
	const pieces = piecesOf(options, laid);
	const pathsTo = ({ pipes }: Slot): Path[] => pipes.map(({ path }) => path);
	const elsewhere = ways.spaces.flatMap((other) => (other === laid ? [] : other.slots.flatMap(pathsTo)));
	const around = boxAround(options, NEAR);
	const loops: RoutedLoop[] = [];
	const routed: RoutedSpace["routed"][number][] = [];
	for (const [i, slot] of laid.slots.entries()) {
		const piece = pieces[i];
		if (!piece || slot.pipes.length === 0) continue;
		const behind = laid.slots.filter((other) => other !== slot && other.inside).flatMap(pathsTo);
		const near = stretchesIn([...elsewhere, ...behind, ...options.necks, ...loops.map(({ path }) => path)], around);
		const setting: RoomOptions = {
			room,
			floor: piece,
			walls: region,
			entrance: entranceOf(slot, options.isFar, options.elsewhere),
			rules,
			others: near,
			count: slot.pipes.length / 2,
			stretches: options.stretches,
			system: options.floor.system,
			pattern: options.pattern,
			onward: options.onward,
			faults: (own) =>
				options.faults(
					room,
					own.map((loop) => wholeLoop(loop, slot)),
				),
			pulse: () => options.pulse(room),
			expired: options.expired,
		};
		const key = keyOf(options, setting, slot);
		const found = recallRoom(options.memory, key, options.expired, () => routeRoom(setting));
		routed.push({ slot: i, room: found });
		loops.push(...found.loops.map((loop) => wholeLoop(loop, slot)));
	}
	return { space: laid.space, loops, guests: [], onTheWay: [], routed };
}
