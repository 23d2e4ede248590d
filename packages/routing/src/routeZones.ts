import type { Room, System } from "@oxturn/floor";
import {
	boundingBox,
	difference,
	intersect,
	nearestOnRing,
	offset,
	type Path,
	type Point,
	type Pose,
	pathLength,
	type Region,
	type Ring,
	ringsOf,
	simplifyRing,
	thicken,
	union,
} from "@oxturn/geometry";
import { coarse, mapFloor } from "./field/coverage.ts";
import { fillField } from "./field/fillField.ts";
import { keepsClear } from "./field/keepsClear.ts";
import { wallDirections } from "./field/wallDirections.ts";
import type { Entrance, PortPair } from "./tails/apron.ts";
import { type Bundle, bundlesOf } from "./tails/bundles.ts";
import { type ClearanceRules, clearOfPipes, staysOnFloor, stretchesIn } from "./tails/clearance.ts";
import { type JoinedLoop, joinLoop, type TailEnd } from "./tails/joinLoop.ts";
import type { Side } from "./tails/lanes.ts";
import { layTail, type Tail } from "./tails/layTail.ts";
import { layWallTail, type WallTailOptions, type WallTrack, wallTrack } from "./tails/layWallTail.ts";
import { tailPitch } from "./tails/pitch.ts";
import { EASE, poseAt, stretch, tracksAlong } from "./tails/tracks.ts";
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
/** Where tails along a wall may leave it for a field: every so many mm, within so many spacings, and no more places than this. */
const WALL_STEP = 120;
const NEAR_FIELD = 2;
const MAX_WALL_ENDS = 24;
/** Between other tails, a tail goes straight on for this long before it turns along the wall, mm. */
const STRAIGHT_IN = [0, 300, 600, 900, 1300];
/** Parts of a zone narrower than this share of the spacing are left to their neighbours. */
const SLIVER = 0.8;

/** Where the two tails of a zone may leave for its field. */
interface Reach {
	readonly left: readonly TailEnd[];
	readonly right: readonly TailEnd[];
}

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

/** Both tails of a zone along the wall on one side, the one nearer to it first. `rank` zones lie between it and the wall. */
function wallTailsOf(setting: RoomSetting, pair: PortPair, side: Side, rank: number): WallTailOptions[] {
	const { floor, walls, entrance, system } = setting;
	const depth = nearestOnRing(floor.outer, entrance.at).distance;
	const { minBendRadius, outerDiameter } = system.pipe;
	const least = outerDiameter / 2 + 1;
	const first = Math.max(setting.room.edgeDistance, EASE * minBendRadius + 2 + depth);
	return (side === "left" ? [pair.return, pair.flow] : [pair.flow, pair.return]).map((port, k) => {
		const inward = (2 * rank + k) * tailPitch(system);
		const wallDistance = first + inward;
		return {
			floor,
			walls,
			port,
			side,
			wallDistance,
			edgeDistance: least + inward,
			least,
			depth,
			straight: 0,
			minBendRadius,
		};
	});
}

/** The places along a wall, wherever it comes near to a field, that a tail can be laid to clear of others. */
function endsAlong(
	{ track, start, way }: WallTrack,
	setting: RoomSetting,
	ring: Ring,
	others: readonly Path[],
): TailEnd[] {
	const { rules, spacing } = setting;
	const ends: TailEnd[] = [];
	for (let at = 2 * rules.minBendRadius; at < track.length / 2 && ends.length < MAX_WALL_ENDS; at += WALL_STEP) {
		const pose = poseAt(track, start + way * at, way);
		if (!pose.exact || nearestOnRing(ring, pose.at).distance > NEAR_FIELD * spacing) continue;
		ends.push({ path: stretch(track, start, at, way), pose });
	}
	const isClear = ({ path }: TailEnd): boolean => staysOnFloor(path, rules) && clearOfPipes(path, others, rules);
	// What bars the way to one place bars it to all that lie farther on.
	let clear = 0;
	let barred = ends.length;
	while (clear < barred) {
		const middle = (clear + barred) >> 1;
		if (isClear(ends[middle]!)) clear = middle + 1;
		else barred = middle;
	}
	return ends.slice(0, clear);
}

/** Ends of both tails all along the wall on one side; `straight` mm farther in they turn, where it is too narrow before. */
function endsAlongWall(
	setting: RoomSetting,
	pair: PortPair,
	side: Side,
	straight: number,
	ring: Ring,
	others: readonly Path[],
): Reach {
	const [outer, inner] = wallTailsOf(setting, pair, side, 0).map((wall): TailEnd[] => {
		const found = wallTrack({ ...wall, straight });
		return found ? endsAlong(found, setting, ring, others) : [];
	});
	return side === "left" ? { left: outer!, right: inner! } : { left: inner!, right: outer! };
}

/** Lays both tails of every zone, the nearest zones of either side last; undefined for zones whose tails do not fit. */
function layTails(
	setting: RoomSetting,
	order: readonly Assignment[],
	ports: readonly PortPair[],
): (Tails | undefined)[] {
	const { floor, entrance, system, rules } = setting;
	const n = order.length;
	const goingLeft = order.filter(({ entry }) => entry.way === -1).length;
	const depth = nearestOnRing(floor.outer, entrance.at).distance;
	const first = Math.max(setting.room.edgeDistance, depth + system.pipe.minBendRadius + 2);
	const count = 2 * Math.max(goingLeft, n - goingLeft);
	const needed = order.some(({ entry }) => entry.along >= AT_PORTS) && n > 1;
	const pitch = tailPitch(system);
	const tracks = needed ? tracksAlong(floor, entrance.at, first, pitch, count, system.pipe.minBendRadius) : [];
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
			const side = entry.way === -1 ? "left" : "right";
			both.length = 0;
			for (const wall of wallTailsOf(setting, pair, side, rank)) {
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
function smooth(zone: readonly Region[]): readonly Region[] {
	const simplified = (regions: readonly Region[]): Region[] =>
		regions.map(({ outer, holes }) => ({
			outer: simplifyRing(outer, SMOOTH),
			holes: holes.map((hole) => simplifyRing(hole, SMOOTH)),
		}));
	const corners = (regions: readonly Region[]): number =>
		regions.flatMap((region) => ringsOf(region)).reduce((sum, ring) => sum + ring.length, 0);
	if (corners(simplified(zone)) === corners(zone)) return zone;
	return union(simplified(offset(zone, -SMOOTH)));
}

/** Where one zone's pipe may lie: off walls, half a spacing off its neighbours, clear of passing tails. */
function zoneFloor(
	setting: RoomSetting,
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
	return smooth(intersect(offset(offset(zone, -half), half), zone));
}

/** Joins a field to its tails by the first of their places that serves. */
function joinByAny(setting: RoomSetting, tails: Tails, ring: Ring, others: readonly Path[]): JoinedLoop | undefined {
	const { spacing, rules } = setting;
	const far = Math.max(6 * spacing, 10 * rules.minBendRadius);
	for (const ends of tails.reaches)
		for (const reach of [far / 2, far]) {
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
	for (const straight of STRAIGHT_IN)
		for (const side of ["left", "right"] as const) {
			const reach = endsAlongWall(setting, pair, side, straight, ring, others);
			if (reach.left.length === 0 || reach.right.length === 0) continue;
			const joined = joinByAny(setting, { reaches: [reach], paths: [] }, ring, others);
			if (joined) return joined;
		}
	return undefined;
}

/** The place by which a spiral had best be opened. */
const gateOf = (tails: Tails, entrance: Entrance): Point =>
	tails.reaches.findLast(({ right }) => right.length > 0)?.right[0]?.pose.at ?? entrance.at;

/** Routes one loop to each zone; undefined when the tails cannot be laid at all. */
export function routeZones(setting: RoomSetting, cells: readonly Region[]): RoutedZones | undefined {
	const { floor, entrance, system, rules, spacing } = setting;
	const ports = entrance.pairs(cells.length);
	let order: readonly Assignment[] = [];
	let tails: readonly (Tails | undefined)[] = [];
	const laidIn = (all: readonly (Tails | undefined)[]): number => all.filter((own) => own !== undefined).length;
	for (const next of zoneOrders(floor, cells, entrance.at)) {
		const found = layTails(setting, next, ports);
		if (laidIn(found) > laidIn(tails)) [order, tails] = [next, found];
		if (laidIn(tails) === cells.length) break;
	}
	if (order.length === 0) return undefined;
	const pathsOf = (own: Tails | undefined): readonly Path[] => own?.paths ?? [];
	const directions = wallDirections(ringsOf(floor), MAX_DIRECTIONS);
	const { minBendRadius, outerDiameter } = system.pipe;
	const rim = Math.max(0, setting.room.edgeDistance - outerDiameter / 2 - 1);
	const loops: (RoutedLoop | undefined)[] = cells.map(() => undefined);
	const done: Path[] = [];
	// Zones at the manifold have the least choice of ways, so they come first.
	const nearestFirst = order.map((_, i) => i).sort((a, b) => order[a]!.entry.along - order[b]!.entry.along || a - b);
	for (const i of nearestFirst) {
		const { cell: index } = order[i]!;
		const cell = cells[index]!;
		const own = tails[i];
		if (!own) continue;
		const passing = tails.flatMap((tail, k) => (k === i ? [] : pathsOf(tail)));
		const zone = zoneFloor(
			setting,
			cell,
			cells.filter((_, k) => k !== index),
			passing,
		);
		if (zone.length === 0) continue;
		const gate = gateOf(own, entrance);
		const tailLength = own.paths.reduce((sum, path) => sum + pathLength(path), 0);
		const fields = fillField({
			floor: zone,
			map: mapFloor(zone, spacing / MAP_DETAIL),
			spacing,
			minBendRadius,
			pattern: setting.pattern,
			directions,
			gate,
			rim,
			apart: rules.apart,
			longest: system.maxLoopLength * 1000 - entrance.spent - tailLength,
		});
		for (const field of fields.slice(0, MAX_FIELDS)) {
			// Spirals are measured where they are made.
			if (field.pattern !== "spiral" && !keepsClear(field.ring, rules.apart)) continue;
			const others = [...setting.others, ...passing, ...done];
			const joined =
				joinByAny(setting, own, field.ring, others) ??
				(own.paths.length === 0 ? joinAlongWall(setting, ports[i]!, field.ring, others) : undefined);
			if (!joined) continue;
			done.push(joined.path);
			const length = pathLength(joined.path) / 1000;
			loops[index] = { port: ports[i]!.number, path: joined.path, pattern: field.pattern, spacing, length };
			break;
		}
	}
	const laid = tails.flatMap(pathsOf).reduce((sum, path) => sum + pathLength(path), 0);
	const bundles = bundlesOf(order, tails.map(pathsOf), tailPitch(system));
	return { loops, tails: laid, bundles };
}
