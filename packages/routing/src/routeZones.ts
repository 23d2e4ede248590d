import type { Manifold, Room, System } from "@oxturn/floor";
import {
	difference,
	intersect,
	nearestOnRing,
	offset,
	type Path,
	type Pose,
	pathLength,
	type Region,
	ringsOf,
	simplifyRing,
	thicken,
	union,
} from "@oxturn/geometry";
import { mapFloor } from "./field/coverage.ts";
import { fillField } from "./field/fillField.ts";
import { wallDirections } from "./field/wallDirections.ts";
import { type PortPair, portPairs } from "./tails/apron.ts";
import { type ClearanceRules, clearOfPipes } from "./tails/clearance.ts";
import { joinLoop, type TailEnd } from "./tails/joinLoop.ts";
import { layTail } from "./tails/layTail.ts";
import { tracksAlong } from "./tails/tracks.ts";
import { type Assignment, orderZones } from "./zones/entries.ts";

/** One room to be served from one manifold. */
export interface RoomSetting {
	readonly room: Room;
	/** Room less keep-outs: the piece that the manifold stands at. */
	readonly floor: Region;
	readonly manifold: Manifold;
	readonly system: System;
	readonly pattern: "serpentine" | "spiral" | "auto";
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
}

/** Zones that begin this near to the manifold are reached from their ports without a tail, mm. */
const AT_MANIFOLD = 400;
/** From a passing tail to the field, as a share of the spacing: the tail warms its own strip. */
const TAIL_GAP = 0.8;
/** Zones follow the arcs of passing tails this closely, mm. */
const COARSE = 6;
/** A zone's rim is simplified by this much, mm: straight runs are worth more than the last millimetres of floor. */
const SMOOTH = 3;
const MAX_DIRECTIONS = 6;
/** Fields tried before a zone is given up. */
const MAX_FIELDS = 8;
/** Parts of a zone narrower than this share of the spacing are left to their neighbours. */
const SLIVER = 0.8;

interface Tails {
	readonly left: readonly TailEnd[];
	readonly right: readonly TailEnd[];
	readonly paths: readonly Path[];
}

const direct = (port: Pose): TailEnd => ({ path: [port.at, port.at], pose: port });

/** Lays both tails of every zone, the nearest zones of either side last; undefined when they do not fit. */
function layTails(setting: RoomSetting, order: readonly Assignment[], ports: readonly PortPair[]): Tails[] | undefined {
	const { floor, manifold, system, rules } = setting;
	const n = order.length;
	const goingLeft = order.filter(({ entry }) => entry.way === -1).length;
	const depth = nearestOnRing(floor.outer, manifold.position).distance;
	const first = Math.max(setting.room.edgeDistance, depth + system.pipe.minBendRadius + 2);
	const count = 2 * Math.max(goingLeft, n - goingLeft);
	const needed = order.some(({ entry }) => entry.along >= AT_MANIFOLD) && n > 1;
	const pitch = Math.max(system.tailSpacing, system.pipe.outerDiameter + 2) + 0.5;
	const tracks = needed ? tracksAlong(floor, manifold.position, first, pitch, count, system.pipe.minBendRadius) : [];
	const laid: Path[] = [];
	const tails: Tails[] = [];
	const outermostFirst = order.map((_, i) => i).sort((a, b) => Math.min(a, n - 1 - a) - Math.min(b, n - 1 - b));
	for (const i of outermostFirst) {
		const { entry } = order[i]!;
		const pair = ports[i]!;
		if (n === 1 || entry.along < AT_MANIFOLD) {
			tails[i] = { left: [direct(pair.return)], right: [direct(pair.flow)], paths: [] };
			continue;
		}
		const rank = entry.way === -1 ? i : n - 1 - i;
		const [near, far] = entry.way === -1 ? [pair.return, pair.flow] : [pair.flow, pair.return];
		const both: TailEnd[][] = [];
		const paths: Path[] = [];
		for (const [k, port] of [near, far].entries()) {
			const track = tracks[2 * rank + k];
			const tail = track && layTail({ port, track, way: entry.way, entry: entry.point, others: laid, rules });
			if (!tail) return undefined;
			laid.push(tail.path);
			paths.push(tail.path);
			both.push([...tail.ends]);
		}
		const [outer, inner] = both as [TailEnd[], TailEnd[]];
		tails[i] = entry.way === -1 ? { left: outer, right: inner, paths } : { left: inner, right: outer, paths };
	}
	return tails;
}

/** Takes small steps and arcs out of a zone's rim without ever leaving it. */
function smooth(zone: readonly Region[]): Region[] {
	const simple = offset(zone, -SMOOTH).map(({ outer, holes }) => ({
		outer: simplifyRing(outer, SMOOTH),
		holes: holes.map((hole) => simplifyRing(hole, SMOOTH)),
	}));
	return union(simple);
}

/** Where one zone's pipe may lie: off walls, half a spacing off its neighbours, clear of passing tails. */
function zoneFloor(setting: RoomSetting, cell: Region, others: readonly Region[], passing: readonly Path[]): Region[] {
	const { spacing, system } = setting;
	// Returns that swell need a little more between two fields.
	const swell = Math.max(0, system.pipe.minBendRadius - spacing / 2);
	let zone = intersect(offset([setting.floor], -setting.room.edgeDistance), [cell]);
	if (others.length > 0) zone = difference(zone, offset(others, spacing / 2 + swell / 2));
	if (passing.length > 0) {
		const gap = Math.max(TAIL_GAP * spacing, system.tailSpacing + swell);
		zone = difference(zone, thicken(passing, gap, { join: "round", arcTolerance: COARSE }));
	}
	const half = (SLIVER * spacing) / 2;
	return smooth(intersect(offset(offset(zone, -half), half), zone));
}

/** Routes one loop to each zone; undefined when the tails cannot be laid at all. */
export function routeZones(setting: RoomSetting, cells: readonly Region[]): RoutedZones | undefined {
	const { floor, manifold, system, rules, spacing } = setting;
	const order = orderZones(floor, cells, manifold.position);
	if (!order) return undefined;
	// Ports are numbered by who looks at the wall; zones are in order of who looks from it.
	const ports = portPairs(manifold, order.length).reverse();
	const tails = layTails(setting, order, ports);
	if (!tails) return undefined;
	const directions = wallDirections(ringsOf(floor), MAX_DIRECTIONS);
	const { minBendRadius, outerDiameter } = system.pipe;
	const rim = Math.max(0, setting.room.edgeDistance - outerDiameter / 2 - 1);
	const loops: (RoutedLoop | undefined)[] = cells.map(() => undefined);
	const done: Path[] = [];
	for (const [i, { cell: index }] of order.entries()) {
		const cell = cells[index]!;
		const own = tails[i]!;
		const passing = tails.flatMap((tail, k) => (k === i ? [] : tail.paths));
		const zone = zoneFloor(
			setting,
			cell,
			cells.filter((_, k) => k !== index),
			passing,
		);
		if (zone.length === 0) continue;
		const gate = (own.right.at(-1) ?? own.left.at(-1))!.pose.at;
		const tailLength = own.paths.reduce((sum, path) => sum + pathLength(path), 0);
		const fields = fillField({
			floor: zone,
			map: mapFloor(zone, Math.max(40, spacing / 4)),
			spacing,
			minBendRadius,
			pattern: setting.pattern,
			directions,
			gate,
			rim,
			apart: rules.apart,
			longest: system.maxLoopLength * 1000 - tailLength,
		});
		for (const field of fields.slice(0, MAX_FIELDS)) {
			const joined = joinLoop({
				ring: field.ring,
				right: own.right,
				left: own.left,
				others: [...passing, ...done],
				spacing,
				rules,
				reach: Math.max(6 * spacing, 10 * minBendRadius),
			});
			if (!joined || !clearOfPipes(joined.path, [...passing, ...done], rules)) continue;
			done.push(joined.path);
			const length = pathLength(joined.path) / 1000;
			loops[index] = { port: ports[i]!.number, path: joined.path, pattern: field.pattern, spacing, length };
			break;
		}
	}
	const laid = tails.flatMap((tail) => tail.paths).reduce((sum, path) => sum + pathLength(path), 0);
	return { loops, tails: laid };
}
