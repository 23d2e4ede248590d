import type { Floor } from "@oxturn/floor";
import { add, direction, distance, leftOf, nearestOnRing, type Point, regionArea, scale } from "@oxturn/geometry";
import { RouteError, unknownRoom } from "./errors.ts";
import { depthAhead } from "./ways/depthAhead.ts";
import { type Passage, passagesOf } from "./ways/passages.ts";
import { loopsFor } from "./ways/routeSpace.ts";
import { type Space, spacesOf } from "./ways/spaces.ts";
import { type Reached, waysFrom } from "./ways/territories.ts";

/** A place on a wall where the manifold could hang. */
export interface ManifoldPlace {
	/** On the wall, mm. */
	readonly position: readonly [x: number, y: number];
	/** The way its pipes would leave, degrees anticlockwise from +x. */
	readonly facing: number;
	/** Id of the room that it would hang in. */
	readonly room: string;
	/** Tails of all loops by the shortest ways through the doorways, both pipes, m. */
	readonly tails: number;
	/** Loops that the floor would need. */
	readonly loops: number;
	/** Ids of heated rooms that tails would make warmer than wanted. */
	readonly overheated: readonly string[];
}

/** Where to look, and for how many places. */
export interface PlaceManifoldOptions {
	/** Ids of the rooms that it may hang in. @default all */
	readonly rooms?: readonly string[];
	/** How many places to propose. @default 5 */
	readonly count?: number;
}

/** Places are tried this far apart along walls, and no nearer to corners and doorways than this, mm. */
const STEP = 250;
const CLEAR_OF_CORNER = 350;
const CLEAR_OF_DOORWAY = 500;
/** Free floor in front of a manifold, mm. */
const IN_FRONT = 600;
/** Places nearer to a better one than this are not worth a line of their own, mm. */
const APART = 1500;
/** What a loop and an overheated room are worth, m of tails. */
const PER_LOOP = 15;
const PER_OVERHEATED = 25;
/** Tails alone make a room too warm when they lie this much closer than its spacing on average. */
export const TOO_WARM = 1.8;

interface Candidate extends ManifoldPlace {
	readonly cost: number;
}

function* wallPlaces(spaces: readonly Space[], passages: readonly Passage[], allowed: (room: string) => boolean) {
	for (const [index, { room, region }] of spaces.entries()) {
		if (!allowed(room.id)) continue;
		const doors = passages.filter(({ from }) => from === index).map(({ middle }) => middle);
		for (const [i, a] of region.outer.entries()) {
			const b = region.outer[(i + 1) % region.outer.length]!;
			const along = direction(a, b);
			const inward = leftOf(along);
			for (let at = CLEAR_OF_CORNER; at <= distance(a, b) - CLEAR_OF_CORNER; at += STEP) {
				const position = add(a, scale(along, at));
				if (doors.some((door) => distance(door, position) < CLEAR_OF_DOORWAY)) continue;
				if (depthAhead(region, position, inward) < IN_FRONT || !hangsOnRoom(room.region.outer, position)) continue;
				yield { index, position, inward };
			}
		}
	}
}

/** Keep-outs have edges too, but nothing hangs on them. */
const hangsOnRoom = (outer: readonly Point[], position: Point): boolean => nearestOnRing(outer, position).distance < 1;

function candidateAt(
	{ index, position, inward }: { index: number; position: Point; inward: Point },
	spaces: readonly Space[],
	passages: readonly Passage[],
	floor: Floor,
): Candidate {
	const ways = waysFrom(position, index, passages);
	const passing = spaces.map(() => 0);
	let tails = 0;
	let loops = 0;
	for (const [space, reached] of ways) {
		const { room, region } = spaces[space]!;
		if (!room.heated) continue;
		const own = loopsFor(regionArea(region), room, 2 * reached.length, floor.system.maxLoopLength);
		loops += own;
		tails += 2 * own * reached.length;
		addPassing(passing, ways, reached, 2 * own);
	}
	const overheated = spaces
		.filter(({ room, region }, i) => room.heated && passing[i]! * room.spacing > TOO_WARM * regionArea(region))
		.map(({ room }) => room.id);
	return {
		position: [Math.round(position[0]), Math.round(position[1])],
		facing: Math.round((Math.atan2(inward[1], inward[0]) * 1.8e6) / Math.PI) / 1e4,
		room: spaces[index]!.room.id,
		tails: Math.round(tails) / 1000,
		loops,
		overheated,
		cost: tails / 1000 + PER_LOOP * loops + PER_OVERHEATED * overheated.length,
	};
}

/** Adds the pipe that tails leave in the spaces that they pass, mm. */
function addPassing(passing: number[], ways: ReadonlyMap<number, Reached>, reached: Reached, pipes: number): void {
	for (let at = reached; at.from !== undefined; ) {
		const before = ways.get(at.from)!;
		passing[at.from]! += pipes * distance(before.at, at.at);
		at = before;
	}
}

/**
 * Proposes places on walls for one manifold that serves the whole floor, the best first: by the length of its tails,
 * the loops it needs and the halls that its tails would overheat. Manifolds that the floor has already do not count.
 * Ways are measured from doorway to doorway, so the figures are a little below those of a finished layout.
 *
 * Throws a `RouteError` with code `ROOM_UNKNOWN` for an id that no room has, and `OPTION_INVALID` for a count that is
 * not a whole number from 1.
 *
 * @example
 * ```ts
 * const [best] = placeManifold(floor, { rooms: ["hall", "store"], count: 1 });
 * console.log(best?.position, best?.facing);
 * ```
 */
export function placeManifold(floor: Floor, options: PlaceManifoldOptions = {}): ManifoldPlace[] {
	const { rooms, count = 5 } = options;
	if (!Number.isInteger(count) || count < 1)
		throw new RouteError("OPTION_INVALID", `Option count: found ${count}, expected a whole number from 1.`);
	const unknown = rooms?.find((id) => !floor.rooms.some((room) => room.id === id));
	if (unknown !== undefined) throw new RouteError("ROOM_UNKNOWN", unknownRoom(floor, unknown));
	const spaces = spacesOf(floor);
	const passages = passagesOf(floor.doorways, spaces);
	const candidates = [...wallPlaces(spaces, passages, (id) => !rooms || rooms.includes(id))]
		.map((place) => candidateAt(place, spaces, passages, floor))
		.sort((a, b) => a.cost - b.cost || a.position[0] - b.position[0] || a.position[1] - b.position[1]);
	const chosen: Candidate[] = [];
	for (const candidate of candidates) {
		if (chosen.length === count) break;
		if (chosen.every(({ position }) => distance(position, candidate.position) >= APART)) chosen.push(candidate);
	}
	return chosen.map(({ cost: _, ...place }) => place);
}
