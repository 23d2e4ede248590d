import type { System } from "@oxturn/floor";
import {
	cross,
	distance,
	dot,
	type Path,
	pathLength,
	type Ring,
	ringsOf,
	subtract,
	turnBetween,
} from "@oxturn/geometry";
import { type FloorMap, mapFloor, shortfall } from "../field/coverage.ts";
import { fillField } from "../field/fillField.ts";
import { keepsClear } from "../field/keepsClear.ts";
import { wallDirections } from "../field/wallDirections.ts";
import { type Onward, zoneFloor } from "../routeZones.ts";
import type { ClearanceRules } from "../tails/clearance.ts";
import { closedRing, type Neck, openRing, turnedBack } from "../tails/joinRings.ts";
import { beside, rightOf } from "../tails/lanes.ts";
import { tailPitch } from "../tails/pitch.ts";
import type { Passage } from "./passages.ts";
import type { Space } from "./spaces.ts";

/*
 * A small room that hangs on its neighbour's loop has a field of its own. Its outline and the neighbour's are opened
 * where a pair of pipes passes the doorway between them, and so become one.
 */

export interface GuestRoomsOptions {
	readonly host: Space;
	readonly spaces: readonly Space[];
	/** From the host's room to each of its guests. */
	readonly passages: readonly Passage[];
	readonly pattern: "serpentine" | "spiral" | "auto";
	readonly rules: ClearanceRules;
	readonly system: System;
	/** From a jamb to the nearest centreline, where there is room and where there is not, mm. */
	readonly margin: number;
	readonly leastMargin: number;
}

/** A guest's field, and its outline opened for a neck as often as that is asked for. */
interface Guest {
	readonly passage: Passage;
	readonly ring: Ring;
	readonly opened: (neck: Neck) => Path | undefined;
}

/** Fields of a guest that are opened. */
const MOST_FIELDS = 3;
/** Places in a doorway where a pair may pass. */
const PLACES = 5;
/** Ways round a guest that are kept for the tails to be joined to. */
const MOST_WAYS = 6;
/** Ways round one guest that are led on round the next. */
const MOST_LED_ON = 2;
/** Cells of the map that ways are compared on, per spacing. */
const MAP_DETAIL = 4;
const MAX_DIRECTIONS = 6;
/** A way is worth less for floor that stays cold, as a field is, and for each bend. */
const COLD = 5;
const PER_BEND = 0.002;
/** Chords of an arc are shorter than this, mm, and it turns by no less than this, radians. */
const CHORD = 32;
const LEAST_TURN = 0.05;
/** Runs this long that lie in the direction of the doorway and end this near to its wall can go straight on through it, in spacings. */
const RUN = 2;
const NEAR_WALL = 2.5;
/** Two runs of which one comes back beside the other lie no farther apart than this, in spacings. */
const SIDE_BY_SIDE = 1.6;
const PARALLEL = 0.02;

/** Pairs of pipes side by side in some places of a doorway: at the tails' pitch, and as far apart as runs of the field. */
function necksAnywhere(passage: Passage, options: GuestRoomsOptions): Neck[] {
	const { middle, axis, halfDepth, low, high } = passage;
	return [tailPitch(options.system), options.host.room.spacing].flatMap((width) => {
		const spare = high - low - width;
		if (spare < 2 * options.leastMargin) return [];
		const margin = Math.max(options.leastMargin, Math.min(options.margin, spare / 2));
		const free = spare - 2 * margin;
		const count = free > 1 ? PLACES : 1;
		return Array.from({ length: count }, (_, i): Neck => {
			const aside = low + margin + width / 2 + (count > 1 ? (free * i) / (count - 1) : 0);
			return { middle: beside(middle, axis, 0, aside), axis, halfDepth, width };
		});
	});
}

/** Pairs of pipes that lie in line with two runs of a field side by side, so that these go straight on. */
function necksInLine(ring: Ring, passage: Passage, options: GuestRoomsOptions): Neck[] {
	const { middle, axis, halfDepth, low, high } = passage;
	const { spacing } = options.host.room;
	const right = rightOf(axis);
	const asides = ring.flatMap((a, i) => {
		const [from, to] = [subtract(a, middle), subtract(ring[(i + 1) % ring.length]!, middle)];
		const [depth, end] = [dot(from, axis), dot(to, axis)];
		if (Math.abs(end - depth) < RUN * spacing || Math.abs(cross(subtract(to, from), axis)) > PARALLEL * spacing)
			return [];
		if (Math.min(Math.abs(depth), Math.abs(end)) > halfDepth + NEAR_WALL * spacing) return [];
		const aside = dot(from, right);
		return aside >= low + options.leastMargin && aside <= high - options.leastMargin ? [aside] : [];
	});
	asides.sort((a, b) => a - b);
	return asides.slice(1).flatMap((aside, i): Neck[] => {
		const width = aside - asides[i]!;
		if (width < tailPitch(options.system) || width > SIDE_BY_SIDE * spacing) return [];
		return [{ middle: beside(middle, axis, 0, aside - width / 2), axis, halfDepth, width }];
	});
}

/** A guest with each of its best fields. */
function guestsOf(passage: Passage, options: GuestRoomsOptions): Guest[] {
	const { rules, system, host } = options;
	const { room, region } = options.spaces[passage.to]!;
	const { spacing } = host.room;
	const zone = zoneFloor({ room, floor: region, system, spacing }, region, [], []);
	if (zone.length !== 1) return [];
	const fields = fillField({
		floor: zone,
		map: mapFloor(zone, spacing / MAP_DETAIL),
		spacing,
		minBendRadius: system.pipe.minBendRadius,
		pattern: options.pattern,
		directions: wallDirections(ringsOf(region), MAX_DIRECTIONS),
		gate: passage.middle,
		rim: Math.max(0, room.edgeDistance - system.pipe.outerDiameter / 2 - 1),
		apart: rules.apart,
		longest: 1000 * system.maxLoopLength,
		thorough: true,
	}).filter(({ pattern }) => options.pattern === "auto" || pattern === options.pattern);
	return fields.slice(0, MOST_FIELDS).map(({ ring }): Guest => {
		const known = new Map<string, Path | undefined>();
		const opened = (neck: Neck): Path | undefined => {
			const key = `${neck.middle} ${neck.width}`;
			if (!known.has(key)) known.set(key, openRing({ ring, neck, others: [], spacing, rules }));
			return known.get(key);
		};
		return { passage, ring, opened };
	});
}

/** Bends of an outline: each counts one for every quarter turn, and one at the least, so that a jog counts two. */
function bendsIn(ring: Ring): number {
	const n = ring.length;
	let bends = 0;
	let turned = 0;
	const end = (): void => {
		if (Math.abs(turned) > LEAST_TURN) bends += Math.max(1, Math.abs(turned) / (Math.PI / 2));
		turned = 0;
	};
	for (let i = 0; i < n; i++) {
		const [a, b, c] = [ring[i]!, ring[(i + 1) % n]!, ring[(i + 2) % n]!];
		const turn = turnBetween(subtract(b, a), subtract(c, b));
		if (turn * turned < 0 || distance(a, b) > CHORD) end();
		turned += turn;
	}
	end();
	return bends;
}

/** Ways in which an outline can be led round a guest too, the best first. */
function ringsRound(
	ring: Ring,
	guests: readonly Guest[],
	map: FloorMap,
	others: readonly Path[],
	options: GuestRoomsOptions,
): Ring[] {
	const { rules, host } = options;
	const { spacing } = host.room;
	const { passage } = guests[0]!;
	const found: { ring: Ring; cost: number }[] = [];
	const tryNeck = (neck: Neck, those: readonly Guest[]): void => {
		const near = openRing({ ring, neck: turnedBack(neck), others, spacing, rules });
		if (!near) return;
		for (const guest of those) {
			const far = guest.opened(neck);
			const whole = far && closedRing(near, far);
			if (!whole || !keepsClear(whole, rules.apart)) continue;
			const { beyond055, beyond100 } = shortfall(map, [[...whole, whole[0]!]], spacing);
			found.push({ ring: whole, cost: beyond055 + COLD * beyond100 + PER_BEND * bendsIn(whole) });
		}
	};
	for (const neck of [...necksInLine(ring, passage, options), ...necksAnywhere(passage, options)])
		tryNeck(neck, guests);
	for (const guest of guests) for (const neck of necksInLine(guest.ring, passage, options)) tryNeck(neck, [guest]);
	return found
		.sort((a, b) => a.cost - b.cost)
		.slice(0, MOST_WAYS)
		.map((each) => each.ring);
}

/** How a room's loop goes on to its guests; undefined where none of the ways into one of them can be laid. */
export function guestRooms(options: GuestRoomsOptions): Onward | undefined {
	const { host, spaces, passages } = options;
	const guests = passages.map((passage) => guestsOf(passage, options));
	if (guests.some((ways) => ways.length === 0)) return undefined;
	const regions = [host, ...passages.map(({ to }) => spaces[to]!)].map(({ region }) => region);
	const map = mapFloor(regions, host.room.spacing / MAP_DETAIL);
	return {
		length: guests.reduce((sum, ways) => sum + pathLength(ways[0]!.ring), 0),
		rings: (ring, others) =>
			guests.reduce<readonly Ring[]>(
				(rings, ways) => rings.slice(0, MOST_LED_ON).flatMap((each) => ringsRound(each, ways, map, others, options)),
				[ring],
			),
	};
}

/** The way through a doorway in the middle between a loop's two pipes, and how far they lie apart, mm. */
export function neckIn(path: Path, passage: Passage): { readonly path: Path; readonly width: number } | undefined {
	const { middle, axis, halfDepth, low, high } = passage;
	const asides: number[] = [];
	for (let i = 1; i < path.length; i++) {
		const [a, b] = [subtract(path[i - 1]!, middle), subtract(path[i]!, middle)];
		const [before, after] = [dot(a, axis), dot(b, axis)];
		if (before > 0 === after > 0) continue;
		const [from, to] = [dot(a, rightOf(axis)), dot(b, rightOf(axis))];
		const aside = from + ((to - from) * before) / (before - after);
		if (aside > low && aside < high) asides.push(aside);
	}
	if (asides.length < 2) return undefined;
	const [least, most] = [Math.min(...asides), Math.max(...asides)];
	const through = [-halfDepth, halfDepth].map((depth) => beside(middle, axis, depth, (least + most) / 2));
	return { path: through, width: most - least };
}
