import type { Room, System } from "@oxturn/floor";
import {
	boundingBox,
	difference,
	intersect,
	nearestOnRing,
	offset,
	openRegions,
	type Path,
	type Point,
	type Pose,
	pathLength,
	type Region,
	type Ring,
	regionArea,
	ringsOf,
	simplifyRing,
	thicken,
	union,
} from "@oxturn/geometry";
import { coarse, mapFloor } from "./field/coverage.ts";
import { type FilledField, fillField } from "./field/fillField.ts";
import { wallDirections } from "./field/wallDirections.ts";
import { endsAlongWall, type Reach, type WallSetting, type WallWays, wallTailsOf } from "./tails/alongWall.ts";
import type { Entrance, PortPair } from "./tails/apron.ts";
import { stretchesIn } from "./tails/boxes.ts";
import { type Bundle, bundlesOf } from "./tails/bundles.ts";
import { type ClearanceRules, clearOfPipes, staysOnFloor } from "./tails/clearance.ts";
import { type JoinedLoop, joinLoop, type TailEnd } from "./tails/joinLoop.ts";
import { layTail, type Tail } from "./tails/layTail.ts";
import { layWallTail } from "./tails/layWallTail.ts";
import { tailPitch } from "./tails/pitch.ts";
import { type TrackSource, trackSource } from "./tails/tracks.ts";
import { type Assignment, zoneOrders } from "./zones/entries.ts";

/** One room to be served through one entrance. */
export interface RoomSetting {
	readonly room: Room;
	/** Room less keep-outs: the piece that its entrance leads into. */
	readonly floor: Region;
	/** The same between its walls, passing tails or not. */
	readonly walls: Region;
	readonly entrance: Entrance;
	readonly system: System;
	readonly pattern: "serpentine" | "spiral" | "auto";
	/** Pipes that are there already. */
	readonly others: readonly Path[];
	/** Centre to centre in the field, mm: the room's, or a little wider to stay within the loop length. */
	readonly spacing: number;
	readonly rules: ClearanceRules;
	/** What tails follow: the same for every way of cutting the room. */
	readonly tracks: TrackSource;
	readonly wallWays: WallWays;
	/** Whether time is up, so that the likeliest will have to do. */
	readonly expired: () => boolean;
	/** Where its loops go on to; nowhere when it is left out. */
	readonly onward?: Onward | undefined;
}

/** Floor beyond the room that its one loop heats too. */
export interface Onward {
	/** Pipe that it takes, about, mm. */
	readonly length: number;
	/** A field's outline, led round that floor as well: the ways in which it can be, the best first. */
	readonly rings: (ring: Ring, others: readonly Path[]) => readonly Ring[];
}

export interface RoutedLoop {
	readonly port: number;
	/** From flow port to return port. */
	readonly path: Path;
	readonly pattern: "serpentine" | "spiral";
	readonly spacing: number;
	/** m */
	readonly length: number;
}

export interface RoutedZones {
	/** One entry a zone, in the order of the cells; undefined where no loop could be laid. */
	readonly loops: readonly (RoutedLoop | undefined)[];
	/** Length of all tails up to their zones, mm. */
	readonly tails: number;
	readonly bundles: readonly Bundle[];
}

/** Zones that begin this near to the manifold are reached from their ports without a tail, mm. */
const AT_PORTS = 80;
const STUB_STEP = 60;
const STUB_REACH = 1200;
/** For zones that begin this near, both are tried. */
const NEAR_MANIFOLD = 600;
/** From a passing tail to the field, as a share of the spacing: the tail warms its own strip. */
const TAIL_GAP = 0.8;
/** Zones follow the arcs of passing tails this closely, mm. */
const COARSE = 6;
const COARSE_STEP = 40;
/** A zone's rim is simplified by this much, mm: straight runs are worth more than the last millimetres of floor. */
const SMOOTH = 3;
const MAX_DIRECTIONS = 6;
/** Cells of the map that fields are compared on, per spacing. */
const MAP_DETAIL = 3;
/** Fields tried before a zone is given up. */
const MAX_FIELDS = 8;
const MAX_HURRIED_FIELDS = 3;
const MAX_FAR_FIELDS = 2;
/** The same for one whose loop goes on to other rooms: every field has several ways there. */
const MAX_LED_ON = 3;
/** Between other tails, a tail goes straight on for this long before it turns along the wall, mm. */
const STRAIGHT_IN = Array.from({ length: 13 }, (_, i) => 100 * i);
/** Parts of a zone narrower than this share of the spacing are left to their neighbours. */
const SLIVER = 0.8;
/** Where the whole zone does not serve, bays and spikes narrower than twice this share of the spacing are left out too. */
const PLAIN = 0.9;
/** A field that lacks more than this is compared with one in the plainer zone. */
const ROUGH = 0.06;

interface Tails {
	/** The nearest places first; the next are tried when these do not serve. */
	readonly reaches: readonly Reach[];
	readonly paths: readonly Path[];
}

const direct = (port: Pose): TailEnd => ({ path: [port.at, port.at], pose: port });

/** The pipe straight on from its port, cut off at several depths: between two bundles it cannot turn at once. */
function straightOn(port: Pose, rules: ClearanceRules): TailEnd[] {
	const ends: TailEnd[] = [];
	for (let depth = STUB_STEP; depth <= STUB_REACH; depth += STUB_STEP) {
		const at: Point = [port.at[0] + depth * Math.cos(port.heading), port.at[1] + depth * Math.sin(port.heading)];
		const path = [port.at, at];
		if (!staysOnFloor(path, rules)) break;
		ends.push({ path, pose: { at, heading: port.heading } });
	}
	return ends;
}

/** The tracks along the walls of a room, the first as near as its edge distance and the manifold allow. */
export function tracksOf({
	room,
	floor,
	entrance,
	system,
}: Pick<RoomSetting, "room" | "floor" | "entrance" | "system">): TrackSource {
	const { minBendRadius } = system.pipe;
	const depth = nearestOnRing(floor.outer, entrance.at).distance;
	const first = Math.max(room.edgeDistance, depth + minBendRadius + 2);
	return trackSource(floor, entrance.at, first, tailPitch(system), minBendRadius);
}

/** What tails along the walls of a room keep to. */
export const wallSetting = (setting: Omit<WallSetting, "edgeDistance"> & Pick<RoomSetting, "room">): WallSetting => ({
	...setting,
	edgeDistance: setting.room.edgeDistance,
});

/** Lays both tails of every zone, the nearest zones of either side last; undefined for zones whose tails do not fit. */
function layTails(
	setting: RoomSetting,
	order: readonly Assignment[],
	ports: readonly PortPair[],
): (Tails | undefined)[] {
	const { rules } = setting;
	const n = order.length;
	const goingLeft = order.filter(({ entry }) => entry.way === -1).length;
	const count = 2 * Math.max(goingLeft, n - goingLeft);
	const needed = order.some(({ entry }) => entry.along >= AT_PORTS) && n > 1;
	const tracks = needed ? setting.tracks(count) : [];
	const laid: Path[] = [...setting.others];
	const tails: (Tails | undefined)[] = order.map(() => undefined);
	const outermostFirst = order.map((_, i) => i).sort((a, b) => Math.min(a, n - 1 - a) - Math.min(b, n - 1 - b));
	for (const i of outermostFirst) {
		const { entry } = order[i]!;
		const pair = ports[i]!;
		const straight: Tails = {
			reaches: [
				{ left: [direct(pair.return)], right: [direct(pair.flow)] },
				{ left: straightOn(pair.return, rules), right: straightOn(pair.flow, rules) },
			],
			paths: [],
		};
		if (n === 1 || entry.along < AT_PORTS) {
			tails[i] = straight;
			continue;
		}
		const rank = entry.way === -1 ? i : n - 1 - i;
		const both: Tail[] = [];
		for (const [k, port] of (entry.way === -1 ? [pair.return, pair.flow] : [pair.flow, pair.return]).entries()) {
			const track = tracks[2 * rank + k];
			const others = [...laid, ...both.map((tail) => tail.path)];
			const tail = track && layTail({ port, track, way: entry.way, entry: entry.point, others, rules });
			if (tail) both.push(tail);
		}
		if (both.length < 2) {
			both.length = 0;
			for (const wall of wallTailsOf(wallSetting(setting), pair, entry.way === -1 ? "left" : "right", rank)) {
				const others = [...laid, ...both.map(({ path }) => path)];
				const tail = layWallTail({ ...wall, entry: entry.point, others, rules });
				if (tail) both.push(tail);
			}
		}
		const [outer, inner] = both;
		if (!outer || !inner) {
			if (entry.along < NEAR_MANIFOLD) tails[i] = straight;
			continue;
		}
		laid.push(outer.path, inner.path);
		const reach = (ends: (tail: Tail) => readonly TailEnd[]): Reach =>
			entry.way === -1 ? { left: ends(outer), right: ends(inner) } : { left: ends(inner), right: ends(outer) };
		const near = entry.along < NEAR_MANIFOLD ? straight.reaches : [];
		tails[i] = {
			reaches: [...near, reach((tail) => tail.ends), reach((tail) => tail.later)],
			paths: [outer.path, inner.path],
		};
	}
	return tails;
}

/** Takes small steps and arcs out of a zone's rim without ever leaving it; a rim without any stays as it is. */
function smooth(zone: readonly Region[], tolerance: number): readonly Region[] {
	const simplified = (regions: readonly Region[]): Region[] =>
		regions.map(({ outer, holes }) => ({
			outer: simplifyRing(outer, tolerance),
			holes: holes.map((hole) => simplifyRing(hole, tolerance)),
		}));
	const corners = (regions: readonly Region[]): number =>
		regions.flatMap((region) => ringsOf(region)).reduce((sum, ring) => sum + ring.length, 0);
	if (corners(simplified(zone)) === corners(zone)) return zone;
	return union(simplified(offset(zone, -tolerance)));
}

/** A zone without its bays and spikes and with a rim of few corners: on jagged floors it holds fields that the whole does not. */
function plainer(zone: readonly Region[], spacing: number): readonly Region[] {
	return smooth(intersect(openRegions(zone, PLAIN * spacing), zone), spacing / 8);
}

/** Where one zone's pipe may lie: off walls, half a spacing off its neighbours, clear of passing tails. */
export function zoneFloor(
	setting: Pick<RoomSetting, "room" | "floor" | "system" | "spacing">,
	cell: Region,
	others: readonly Region[],
	passing: readonly Path[],
): readonly Region[] {
	const { spacing, system } = setting;
	// Returns that swell need a little more between two fields.
	const swell = Math.max(0, system.pipe.minBendRadius - spacing / 2);
	let zone = intersect(offset([setting.floor], -setting.room.edgeDistance), [cell]);
	if (others.length > 0) zone = difference(zone, offset(others, spacing / 2 + swell / 2));
	const gap = Math.max(TAIL_GAP * spacing, system.tailSpacing + swell);
	const [minX, minY, maxX, maxY] = boundingBox(cell.outer);
	const near = stretchesIn(passing, [minX - gap, minY - gap, maxX + gap, maxY + gap]).map((path) =>
		coarse(path, COARSE_STEP),
	);
	if (near.length > 0) {
		zone = difference(zone, thicken(near, gap, { join: "round", arcTolerance: COARSE }));
	}
	const half = (SLIVER * spacing) / 2;
	return smooth(intersect(offset(offset(zone, -half), half), zone), SMOOTH);
}

/** Joins a field to its tails by the first of their places that serves. */
function joinByAny(setting: RoomSetting, tails: Tails, ring: Ring, others: readonly Path[]): JoinedLoop | undefined {
	const { spacing, rules } = setting;
	const reach = Math.max(6 * spacing, 10 * rules.minBendRadius);
	for (const ends of tails.reaches) {
		const joined = joinLoop({ ...ends, ring, others, spacing, rules, reach });
		if (joined && clearOfPipes(joined.path, others, rules)) return joined;
	}
	return undefined;
}

/** Joins a field that begins far from its entrance, by tails along the wall on either side. */
function joinAlongWall(
	setting: RoomSetting,
	pair: PortPair,
	ring: Ring,
	others: readonly Path[],
): JoinedLoop | undefined {
	const { spacing, rules } = setting;
	for (const straight of STRAIGHT_IN)
		for (const side of ["left", "right"] as const) {
			if (setting.expired() && straight > 0) return undefined;
			const ways = setting.wallWays(pair, side, straight);
			const reach = endsAlongWall({ ways, side, ring, spacing, rules, others });
			if (reach.left.length === 0 || reach.right.length === 0) continue;
			const joined = joinByAny(setting, { reaches: [reach], paths: [] }, ring, others);
			if (joined) return joined;
		}
	return undefined;
}

interface Served {
	readonly field: FilledField;
	readonly path: Path;
}

/** The place by which a spiral had best be opened. */
const gateOf = (tails: Tails, entrance: Entrance): Point =>
	tails.reaches.findLast(({ right }) => right.length > 0)?.right[0]?.pose.at ?? entrance.at;

/** Fills a zone with the best field that can be joined to its tails; on a rough floor in the plainer zone too. */
function serve(
	setting: RoomSetting,
	zone: readonly Region[],
	pair: PortPair,
	tails: Tails,
	directions: readonly number[],
	others: readonly Path[],
): Served | "no field" | undefined {
	const { spacing, rules, system } = setting;
	const { minBendRadius, outerDiameter } = system.pipe;
	const map = mapFloor(zone, spacing / MAP_DETAIL);
	const longest =
		system.maxLoopLength * 1000 -
		setting.entrance.spent -
		(setting.onward?.length ?? 0) -
		tails.paths.reduce((sum, path) => sum + pathLength(path), 0);
	/** What tails are joined to: the field's outline, or ways to lead that on. */
	const outlinesOf = ({ ring }: FilledField): readonly Ring[] => {
		if (!setting.onward) return [ring];
		return pathLength(ring) > longest ? [] : setting.onward.rings(ring, others);
	};
	let tried = 0;
	/** The best in a floor, if it costs less than `least`. */
	const bestIn = (floor: readonly Region[], least: number, thorough: boolean): Served | undefined => {
		const fields = fillField({
			floor,
			map,
			spacing,
			minBendRadius,
			pattern: setting.pattern,
			care: thorough ? "thorough" : setting.expired() ? "hurried" : "usual",
			directions,
			gate: gateOf(tails, setting.entrance),
			rim: Math.max(0, setting.room.edgeDistance - outerDiameter / 2 - 1),
			apart: rules.apart,
			longest,
		});
		tried += fields.length;
		const most = setting.onward ? MAX_LED_ON : setting.expired() ? MAX_HURRIED_FIELDS : MAX_FIELDS;
		const usable = fields.slice(0, most).filter(({ cost }) => cost < least);
		for (const field of usable)
			for (const ring of outlinesOf(field)) {
				const joined = joinByAny(setting, tails, ring, others);
				if (joined) return { field, path: joined.path };
			}
		// Where other tails pass, the field may begin far from where its own come in.
		if (tails.paths.length > 0) return undefined;
		for (const field of usable.slice(0, MAX_FAR_FIELDS))
			for (const ring of outlinesOf(field)) {
				const joined = joinAlongWall(setting, pair, ring, others);
				if (joined) return { field, path: joined.path };
			}
		return undefined;
	};
	const whole = bestIn(zone, Infinity, false);
	if (whole && (whole.field.lack <= ROUGH || setting.expired())) return whole;
	const best = bestIn(plainer(zone, spacing), whole?.field.cost ?? Infinity, true) ?? whole;
	return tried === 0 ? "no field" : best;
}

/** A zone's largest piece, grown so far that the wall which its tails may come along is in it. */
function bodyOf(setting: RoomSetting, zone: readonly Region[], cell: Region, count: number): Region {
	const body = [...zone].sort((a, b) => regionArea(b) - regionArea(a))[0];
	const toWall = setting.room.edgeDistance + count * tailPitch(setting.system) + TAIL_GAP * setting.spacing;
	return body ? (offset([body], toWall)[0] ?? cell) : cell;
}

/**
 * Routes one loop to each zone; undefined when the tails cannot be laid at all, or when more than `mostMissing` zones
 * stay without a loop. Zones that are cut up by the tails of others may have most of their floor far from where they
 * come to the wall: where loops are missing, tails are laid once more, to the largest piece of every zone.
 */
export function routeZones(
	setting: RoomSetting,
	cells: readonly Region[],
	mostMissing = Infinity,
): RoutedZones | undefined {
	const missing = ({ loops }: RoutedZones): number => loops.filter((loop) => !loop).length;
	const first = routeTo(setting, cells, cells, mostMissing);
	if (!first || missing(first) === 0) return first;
	if (!first.isFillable) return missing(first) > mostMissing ? undefined : first;
	const bodies = first.zones.map((zone, i) => bodyOf(setting, zone, cells[i]!, cells.length));
	const second = routeTo(setting, cells, bodies, Math.min(mostMissing, missing(first) - 1));
	const better = second && missing(second) < missing(first) ? second : first;
	return missing(better) > mostMissing ? undefined : better;
}

interface FilledZones extends RoutedZones {
	/** The floor of every zone, as it was to be filled. */
	readonly zones: readonly (readonly Region[])[];
	/** Whether every zone that was tried holds a field, joined or not. */
	readonly isFillable: boolean;
}

/**
 * One loop to each zone, by tails that lead to where its `body` comes to the wall. When more than `mostMissing` cannot
 * be served, the others are not either.
 */
function routeTo(
	setting: RoomSetting,
	cells: readonly Region[],
	bodies: readonly Region[],
	mostMissing: number,
): FilledZones | undefined {
	const { floor, entrance, system, spacing } = setting;
	const ports = entrance.pairs(cells.length);
	let order: readonly Assignment[] = [];
	let tails: readonly (Tails | undefined)[] = [];
	const laidIn = (all: readonly (Tails | undefined)[]): number => all.filter((own) => own !== undefined).length;
	for (const next of zoneOrders(floor, bodies, entrance.at)) {
		const found = layTails(setting, next, ports);
		if (laidIn(found) > laidIn(tails)) [order, tails] = [next, found];
		if (laidIn(tails) === cells.length) break;
	}
	if (order.length === 0) return undefined;
	const pathsOf = (own: Tails | undefined): readonly Path[] => own?.paths ?? [];
	const directions = wallDirections(ringsOf(floor), MAX_DIRECTIONS);
	const loops: (RoutedLoop | undefined)[] = cells.map(() => undefined);
	const zones: (readonly Region[])[] = cells.map(() => []);
	const done: Path[] = [];
	let missing = 0;
	let isFillable = true;
	// Zones at the manifold have the least choice of ways, so they come first.
	const nearestFirst = order.map((_, i) => i).sort((a, b) => order[a]!.entry.along - order[b]!.entry.along || a - b);
	for (const i of nearestFirst) {
		const { cell: index } = order[i]!;
		const cell = cells[index]!;
		const own = tails[i];
		const passing = tails.flatMap((tail, k) => (k === i ? [] : pathsOf(tail)));
		const zone = zoneFloor(
			setting,
			cell,
			cells.filter((_, k) => k !== index),
			passing,
		);
		zones[index] = zone;
		if (missing > mostMissing) continue;
		const found =
			own && zone.length > 0
				? serve(setting, zone, ports[i]!, own, directions, [...setting.others, ...passing, ...done])
				: undefined;
		if (!found || found === "no field") {
			missing++;
			if (found) isFillable = false;
			continue;
		}
		done.push(found.path);
		const length = pathLength(found.path) / 1000;
		loops[index] = { port: ports[i]!.number, path: found.path, pattern: found.field.pattern, spacing, length };
	}
	const laid = tails.flatMap(pathsOf).reduce((sum, path) => sum + pathLength(path), 0);
	const bundles = bundlesOf(order, tails.map(pathsOf), tailPitch(system));
	return { loops, tails: laid, bundles, zones, isFillable };
}
