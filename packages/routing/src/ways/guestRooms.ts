import type { PatternName, System } from "@oxturn/floor";
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
import type { Onward } from "../room/roomSetting.ts";
import { beyondRim, zoneFloor } from "../room/zoneFloor.ts";
import type { ClearanceRules } from "../tails/clearance.ts";
import { closedRing, type Neck, openRing, type PipePair, straightNeck } from "../tails/joinRings.ts";
import { beside, rightOf } from "../tails/lanes.ts";
import { tailPitch } from "../tails/pitch.ts";
import type { Passage } from "./passages.ts";
import type { Link } from "./sharedRooms.ts";
import type { Space } from "./spaces.ts";

/*
 * A small room that hangs on its neighbour's loop has a field of its own. Its outline and the neighbour's are opened
 * where a pair of pipes leads from one to the other, and so become one.
 */

export interface GuestRoomsOptions {
	readonly host: Space;
	readonly spaces: readonly Space[];
	/** From the host's room to each of its guests. */
	readonly links: readonly Link[];
	readonly pattern: PatternName;
	readonly rules: ClearanceRules;
	readonly system: System;
	/** From a jamb to the nearest centreline, where there is room and where there is not, mm. */
	readonly margin: number;
	readonly leastMargin: number;
}

/** A guest's field, and its outline opened for a pair of pipes as often as that is asked for. */
interface GuestField {
	readonly ring: Ring;
	readonly opened: (pair: PipePair) => Path | undefined;
}

interface Guest {
	readonly link: Link;
	/** The best of them, the very best first. */
	readonly fields: readonly GuestField[];
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
function pairsAnywhere(passage: Passage, options: GuestRoomsOptions): PipePair[] {
	const { middle, axis, halfDepth, low, high } = passage;
	return [tailPitch(options.system), options.host.room.spacing].flatMap((width) => {
		const spare = high - low - width;
		if (spare < 2 * options.leastMargin) return [];
		const margin = Math.max(options.leastMargin, Math.min(options.margin, spare / 2));
		const free = spare - 2 * margin;
		const count = free > 1 ? PLACES : 1;
		return Array.from({ length: count }, (_, i): PipePair => {
			const aside = low + margin + width / 2 + (count > 1 ? (free * i) / (count - 1) : 0);
			return { middle: beside(middle, axis, 0, aside), axis, halfDepth, width };
		});
	});
}

/** Pairs of pipes that lie in line with two runs of a field side by side, so that these go straight on. */
function pairsInLine(ring: Ring, passage: Passage, options: GuestRoomsOptions): PipePair[] {
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
	return asides.slice(1).flatMap((aside, i): PipePair[] => {
		const width = aside - asides[i]!;
		if (width < tailPitch(options.system) || width > SIDE_BY_SIDE * spacing) return [];
		return [{ middle: beside(middle, axis, 0, aside - width / 2), axis, halfDepth, width }];
	});
}

/** A guest's best fields. */
function fieldsOf(passage: Passage, options: GuestRoomsOptions): GuestField[] {
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
		rim: beyondRim(room, system),
		apart: rules.apart,
		others: [],
		longest: 1000 * system.maxLoopLength,
		care: "thorough",
	}).filter(({ pattern }) => options.pattern === "auto" || pattern === options.pattern);
	return fields.slice(0, MOST_FIELDS).map(({ ring }): GuestField => {
		const known = new Map<string, Path | undefined>();
		const opened = (pair: PipePair): Path | undefined => {
			const key = `${pair.middle} ${pair.width}`;
			if (!known.has(key)) known.set(key, openRing({ ring, pair, others: [], spacing, rules }));
			return known.get(key);
		};
		return { ring, opened };
	});
}

/** What an outline, as closed or opened pipe, is short of, the lower the better. */
export function outlineCost(outline: Ring, pipes: readonly Path[], map: FloorMap, spacing: number): number {
	const { beyond055, beyond100 } = shortfall(map, pipes, spacing);
	return beyond055 + COLD * beyond100 + bendCost(outline);
}

/** What the bends of an outline count for among that. */
export const bendCost = (outline: Ring): number => PER_BEND * bendsIn(outline);

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
	{ link, fields }: Guest,
	laid: Neck | undefined,
	map: FloorMap,
	others: readonly Path[],
	options: GuestRoomsOptions,
): Ring[] {
	const { rules, host } = options;
	const { spacing } = host.room;
	const found: { ring: Ring; cost: number }[] = [];
	const tryNeck = (neck: Neck, those: readonly GuestField[]): void => {
		const near = openRing({ ring, pair: neck.near, others, spacing, rules });
		if (!near) return;
		for (const field of those) {
			const far = field.opened(neck.far);
			const whole = far && closedRing(near, far, neck);
			if (!whole || !keepsClear(whole, rules.apart)) continue;
			found.push({ ring: whole, cost: outlineCost(whole, [[...whole, whole[0]!]], map, spacing) });
		}
	};
	if (laid) tryNeck(laid, fields);
	else {
		const { through } = link;
		for (const pair of [...pairsInLine(ring, through, options), ...pairsAnywhere(through, options)])
			tryNeck(straightNeck(pair), fields);
		for (const field of fields)
			for (const pair of pairsInLine(field.ring, through, options)) tryNeck(straightNeck(pair), [field]);
	}
	return found
		.sort((a, b) => a.cost - b.cost)
		.slice(0, MOST_WAYS)
		.map((each) => each.ring);
}

/** A room's guests, ready for its loop to go on to them. */
export interface GuestRooms {
	readonly links: readonly Link[];
	/** Places in its own doorway by which a guest is had best entered, the best first. */
	readonly pairsInto: (link: Link) => readonly PipePair[];
	/** How the loop goes on to the guests, by the necks that are laid across a hall. */
	readonly onward: (necks: ReadonlyMap<Link, Neck>) => Onward;
}

/** Fills a room's guests; undefined where one of them holds no field. */
export function guestRooms(options: GuestRoomsOptions): GuestRooms | undefined {
	const { host, spaces, links } = options;
	const guests = links.map((link): Guest => ({ link, fields: fieldsOf(link.through, options) }));
	if (guests.some(({ fields }) => fields.length === 0)) return undefined;
	const regions = [host, ...links.map(({ guest }) => spaces[guest]!)].map(({ region }) => region);
	const map = mapFloor(regions, host.room.spacing / MAP_DETAIL);
	const field = guests.reduce((sum, { fields }) => sum + pathLength(fields[0]!.ring), 0);
	const onward: GuestRooms["onward"] = (necks) => ({
		length: links.reduce((sum, link) => sum + lengthOf(necks.get(link)), field),
		rings: (ring, others) =>
			guests.reduce<readonly Ring[]>(
				(rings, guest) =>
					rings
						.slice(0, MOST_LED_ON)
						.flatMap((each) => ringsRound(each, guest, necks.get(guest.link), map, others, options)),
				[ring],
			),
	});
	const known = new Map<Link, readonly PipePair[]>();
	const pairsInto: GuestRooms["pairsInto"] = (link) => {
		const guest = guests.find((each) => each.link === link);
		const pairs = known.get(link) ?? (guest ? bestPairs(guest, options) : []);
		known.set(link, pairs);
		return pairs;
	};
	return { links, pairsInto, onward };
}

/** The pairs of pipes for which a guest's fields open best. */
function bestPairs({ link, fields }: Guest, options: GuestRoomsOptions): PipePair[] {
	const { through } = link;
	const { spacing } = options.host.room;
	const map = mapFloor([options.spaces[link.guest]!.region], spacing / MAP_DETAIL);
	const pairs = [
		...fields.flatMap(({ ring }) => pairsInLine(ring, through, options)),
		...pairsAnywhere(through, options),
	];
	return pairs
		.map((pair) => {
			const paths = fields.map(({ opened }) => opened(pair)).filter((path) => path !== undefined);
			return { pair, cost: Math.min(...paths.map((path) => outlineCost(path, [path], map, spacing))) };
		})
		.filter(({ cost }) => cost < Infinity)
		.sort((a, b) => a.cost - b.cost)
		.slice(0, MOST_WAYS)
		.map(({ pair }) => pair);
}

const lengthOf = (neck: Neck | undefined): number => (neck ? pathLength(neck.out) + pathLength(neck.back) : 0);

/** A pair of pipes in a doorway: the way through in the middle between them, and how far they lie apart, mm. */
export interface ThroughWall {
	readonly path: Path;
	readonly width: number;
}

export const throughWall = ({ middle, axis, halfDepth, width }: PipePair): ThroughWall => ({
	path: [-halfDepth, halfDepth].map((depth) => beside(middle, axis, depth, 0)),
	width,
});

/** The pair by which a loop passes a doorway. */
export function neckIn(path: Path, passage: Passage): ThroughWall | undefined {
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
	return throughWall({ middle: beside(middle, axis, 0, (least + most) / 2), axis, halfDepth, width: most - least });
}
