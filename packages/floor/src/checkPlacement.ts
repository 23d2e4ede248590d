import { degrees, type Point, type Region, radians } from "@oxturn/geometry";
import { distanceToRegion, nearestEdges, overlapArea, regionsTouch } from "./compareRegions.ts";
import { describeList, describePoint } from "./describe.ts";
import { floorNotices } from "./notices.ts";
import { DOCUMENT, type Problem } from "./problems.ts";
import { boxesAreNear, boxOf, isInsideRegion } from "./rings.ts";
import type { Notice } from "./types.ts";

/** Features this near to each other touch, mm: about what is lost between two drawings of one wall. */
export const TOUCH = 2;

/** Rooms may lie over each other this thick, mm: the same wall drawn twice, and each outline simplified by 1 mm. */
const SLIVER = 5;

/** Overlaps told at most: rooms heaped on each other in their hundreds have one cause, and each pair takes its time. */
const MOST_OVERLAPS = 100;

/** A manifold farther than this from all floor hangs on nothing, mm: a thin wall is no thicker. */
const REACH = 100;

/** A floor that is nowhere wider was drawn in metres, mm: even one of 100 m is no larger then. */
const DRAWN_IN_METRES = 100;

/** How far in front of a manifold there must be room, mm. */
const APRON = 150;

/** A feature whose outline was read; `region` is `undefined` when the outline has problems of its own. */
export interface Placed {
	readonly id: string;
	readonly region: Region | undefined;
}

export interface PlacedRoom extends Placed {
	readonly name: string;
}

export interface PlacedDoorway extends Placed {
	/** Ids or names of rooms, as stated. */
	readonly between: readonly [string, string] | undefined;
	/** Whether `between` could not be read: that has been told already. */
	readonly isUnreadable: boolean;
}

export interface PlacedManifold {
	readonly id: string;
	readonly position: Point | undefined;
	readonly facing: number | undefined;
	/** Whether `facing` could not be read: that has been told already. */
	readonly isUnreadable: boolean;
}

/** All features by kind, read one by one and now to be seen together. */
export interface Placement {
	readonly rooms: readonly PlacedRoom[];
	readonly doorways: readonly PlacedDoorway[];
	readonly keepouts: readonly Placed[];
	readonly manifolds: readonly PlacedManifold[];
	/** Whether every feature of the document is in one of the lists. */
	readonly isComplete: boolean;
}

const angle = (degrees: number): string => `${Math.round(degrees * 10) / 10}`;

function findRoom(rooms: readonly PlacedRoom[], reference: string): PlacedRoom[] {
	const byId = rooms.filter(({ id }) => id === reference);
	return byId.length > 0 ? byId : rooms.filter(({ name }) => name === reference);
}

/** The two rooms that a doorway says it joins, as ids; or what is wrong with them. */
function resolveBetween(
	rooms: readonly PlacedRoom[],
	between: readonly [string, string],
): { pair: readonly [string, string] | undefined; messages: string[] } {
	const messages: string[] = [];
	const ids = between.map((reference) => {
		const found = findRoom(rooms, reference);
		if (found.length === 1) return found[0]!.id;
		const known = describeList(rooms.map(({ id }) => JSON.stringify(id)));
		messages.push(
			found.length === 0
				? `found ${JSON.stringify(reference)}, which no room is called, expected one of ${known || "the rooms, of which there are none"}. Write the room's id.`
				: `found ${JSON.stringify(reference)}, the name of ${found.length} rooms, expected one room. Write an id: ${describeList(found.map(({ id }) => JSON.stringify(id)))}.`,
		);
		return undefined;
	});
	const [first, second] = ids;
	if (first === undefined || second === undefined) return { pair: undefined, messages };
	if (first === second) {
		messages.push(
			`found room ${JSON.stringify(first)} on both sides, expected two different rooms. Write the id of the other room.`,
		);
		return { pair: undefined, messages };
	}
	return { pair: [first, second], messages };
}

/**
 * The ids of the rooms that a doorway joins, or what is wrong with it. A doorway whose outline, or that of a room,
 * could not be read is not asked what it touches.
 */
function joinRooms(
	doorway: PlacedDoorway,
	rooms: readonly PlacedRoom[],
): { pair: readonly [string, string] | undefined; problems: Problem[] } {
	const report = (member: string, message: string): Problem => ({ subject: doorway.id, member, message });
	const { region } = doorway;
	const touches = (room: PlacedRoom): boolean => !region || !room.region || regionsTouch(region, room.region, TOUCH);

	if (doorway.between) {
		const { pair, messages } = resolveBetween(rooms, doorway.between);
		const problems = messages.map((message) => report("properties.between", message));
		for (const id of pair ?? []) {
			if (rooms.every((room) => room.id !== id || touches(room))) continue;
			problems.push(
				report(
					"geometry.coordinates",
					`found a doorway that does not touch room ${JSON.stringify(id)}, expected it to come within ${TOUCH} mm of both its rooms. Draw it through the whole thickness of the wall.`,
				),
			);
		}
		return { pair: problems.length === 0 ? pair : undefined, problems };
	}

	if (doorway.isUnreadable || !region || rooms.some((room) => !room.region)) return { pair: undefined, problems: [] };
	const touched = rooms.filter(touches).map(({ id }) => id);
	const [first, second, third] = touched;
	if (first !== undefined && second !== undefined && third === undefined)
		return { pair: [first, second], problems: [] };
	const names = describeList(touched.map((id) => JSON.stringify(id)));
	const message =
		third === undefined
			? `found a doorway that touches ${touched.length === 0 ? "no room" : `only room ${names}`}, expected it to come within ${TOUCH} mm of two rooms. Draw it through the whole thickness of the wall.`
			: `found a doorway that touches ${touched.length} rooms, ${names}, expected two. Say which two with "between".`;
	return { pair: undefined, problems: [report("geometry.coordinates", message)] };
}

function findOverlaps(rooms: readonly PlacedRoom[]): Problem[] {
	const placed = rooms.flatMap(({ id, region }) => (region ? [{ id, region, box: boxOf(region.outer) }] : []));
	const problems: Problem[] = [];
	for (const [i, room] of placed.entries()) {
		for (const other of placed.slice(0, i)) {
			if (problems.length === MOST_OVERLAPS) return problems;
			if (!boxesAreNear(room.box, other.box, 0)) continue;
			const area = overlapArea(other.region, room.region, SLIVER);
			if (area === 0) continue;
			const message = `found ${(area / 1e6).toPrecision(3)} m2 that lie in room ${JSON.stringify(other.id)} too, expected rooms beside each other. Draw the wall between them once.`;
			problems.push({ subject: room.id, member: "geometry.coordinates", message });
		}
	}
	return problems;
}

/** Rooms that all lie within a hand's breadth: metres, where millimetres belong. */
function findTinyFloor(rooms: readonly PlacedRoom[]): Problem | undefined {
	const corners = rooms.flatMap(({ region }) => region?.outer ?? []);
	if (corners.length === 0 || rooms.some(({ region }) => !region)) return undefined;
	const { minX, minY, maxX, maxY } = boxOf(corners);
	const across = Math.max(maxX - minX, maxY - minY);
	if (across > DRAWN_IN_METRES) return undefined;
	const message = `found rooms that measure ${across.toPrecision(2)} mm across, all together, expected a floor of more than ${DRAWN_IN_METRES} mm. Coordinates are millimetres: multiply metres by 1000.`;
	return { subject: DOCUMENT, member: "features", message };
}

/** The way into the room from the wall nearest to `position`, degrees; `undefined` when no wall near it faces a room. */
function inwardNormal(position: Point, rooms: readonly Region[]): number | undefined {
	const edges = rooms.flatMap((room) => nearestEdges(position, room)).sort((a, b) => a.distance - b.distance);
	for (const { edge } of edges) {
		const [[ax, ay], [bx, by]] = edge;
		// rooms lie left of their edges: outer rings run anticlockwise, holes clockwise
		const normal = degrees(Math.atan2(bx - ax, ay - by));
		const facing = Math.round(((normal + 360) % 360) * 10) / 10;
		if (facesRoom(position, facing, rooms)) return facing % 360;
	}
	return undefined;
}

function facesRoom([x, y]: Point, facing: number, rooms: readonly Region[]): boolean {
	const angle = radians(facing);
	const front: Point = [x + APRON * Math.cos(angle), y + APRON * Math.sin(angle)];
	return rooms.some((room) => isInsideRegion(front, room));
}

function findManifoldProblem(
	{ id, position, facing, isUnreadable }: PlacedManifold,
	rooms: readonly Region[],
	floor: readonly Region[],
): Problem | undefined {
	if (!position) return undefined;
	const away = floor.reduce((least, region) => Math.min(least, distanceToRegion(position, region)), Infinity);
	if (away > REACH)
		return {
			subject: id,
			member: "geometry.coordinates",
			message: `found a manifold at ${describePoint(position)}, ${Math.round(away)} mm from the nearest room or doorway, expected it within ${REACH} mm of one. Move it to the wall that it hangs on.`,
		};
	if (isUnreadable || (facing !== undefined && facesRoom(position, facing, rooms))) return undefined;

	const normal = inwardNormal(position, rooms);
	const advice =
		normal === undefined
			? "Give the direction into the room, degrees anticlockwise from the x axis."
			: `The nearest wall faces ${angle(normal)} degrees: write "facing": ${angle(normal)}.`;
	const found =
		facing === undefined
			? "nothing, expected the way the pipes leave"
			: `${angle(facing)} degrees, where ${APRON} mm in front of the manifold there is no room, so that it faces into the wall, expected the way into the room`;
	return { subject: id, member: "properties.facing", message: `found ${found}. ${advice}` };
}

/** What features say about each other. */
export interface PlacementReport {
	readonly problems: readonly Problem[];
	readonly notices: readonly Notice[];
	/** Ids of the rooms that each doorway joins, by the doorway's id. */
	readonly joins: ReadonlyMap<string, readonly [string, string]>;
}

/**
 * Looks at the features together: rooms beside each other, doorways between two rooms, manifolds on a wall and facing
 * the room. Outlines that could not be read are left out, and what depends on them is not judged: one mistake should
 * not be told as many.
 */
export function checkPlacement({ rooms, doorways, keepouts, manifolds, isComplete }: Placement): PlacementReport {
	const joins = new Map<string, readonly [string, string]>();
	const tiny = findTinyFloor(rooms);
	if (tiny) return { problems: [tiny], notices: [], joins };
	const problems: Problem[] = findOverlaps(rooms);
	if (!isComplete) return { problems, notices: [], joins };

	for (const doorway of doorways) {
		const { pair, problems: found } = joinRooms(doorway, rooms);
		for (const problem of found) problems.push(problem);
		if (pair) joins.set(doorway.id, pair);
	}

	const regionsOf = (features: readonly Placed[]): Region[] => features.flatMap(({ region }) => region ?? []);
	const roomRegions = regionsOf(rooms);
	const floor = [...roomRegions, ...regionsOf(doorways)];
	const allWereRead = floor.length === rooms.length + doorways.length;
	if (!allWereRead || rooms.length === 0) return { problems, notices: [], joins };

	for (const manifold of manifolds) {
		const problem = findManifoldProblem(manifold, roomRegions, floor);
		if (problem) problems.push(problem);
	}
	const notices = keepouts
		.filter(({ region }) => region && !floor.some((other) => regionsTouch(region, other, TOUCH)))
		.map(({ id }) => floorNotices.keepoutOutside(id));
	return { problems, notices, joins };
}
