import {
	nearestOnRing,
	offset,
	type Path,
	type Point,
	pathLength,
	type Region,
	regionArea,
	regionContains,
	ringsOf,
} from "@oxturn/geometry";
import { wallDirections } from "./field/wallDirections.ts";
import type { RoomSetting } from "./roomSetting.ts";
import { serveZone } from "./serveZone.ts";
import { type Bundle, bundlesOf } from "./tails/bundles.ts";
import { tailPitch } from "./tails/pitch.ts";
import { TAIL_GAP, zoneFloor } from "./zoneFloor.ts";
import { type Assignment, zoneOrders } from "./zones/entries.ts";
import { layTails, type Tails } from "./zoneTails.ts";

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

const MAX_DIRECTIONS = 6;

const largestOf = (zone: readonly Region[]): Region | undefined =>
	[...zone].sort((a, b) => regionArea(b) - regionArea(a))[0];

/** A zone's largest piece, grown so far that the wall which its tails may come along is in it. */
function bodyOf(setting: RoomSetting, zone: readonly Region[], cell: Region, count: number): Region {
	const body = largestOf(zone);
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

/** A place nearer than this to a floor has come to it, in spacings. */
const ARRIVED = 2.5;

const isAt = (piece: Region, place: Point, spacing: number): boolean =>
	regionContains(piece, place) ||
	ringsOf(piece).some((ring) => nearestOnRing(ring, place).distance < ARRIVED * spacing);

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
	/** The floor of every zone in the order, clear of the tails of all others. */
	const floorsBeside = (paths: readonly (readonly Path[])[]): (readonly Region[])[] =>
		order.map(({ cell: index }, i) =>
			zoneFloor(
				setting,
				cells[index]!,
				cells.filter((_, k) => k !== index),
				paths.flatMap((own, k) => (k === i ? [] : own)),
			),
		);
	const pathsOf = (all: readonly (Tails | undefined)[]): (readonly Path[])[] => all.map((own) => own?.paths ?? []);
	// Where a bundle passes, a zone's floor may begin well behind the place where the zone comes to the wall.
	const cramped = floorsBeside(pathsOf(tails));
	const continued = tails.map((own, i) => {
		const body = largestOf(cramped[i]!);
		return body ? own?.continued((place) => isAt(body, place, spacing)) : own;
	});
	const paths = pathsOf(continued);
	const floors = continued.some((own, i) => own !== tails[i]) ? floorsBeside(paths) : cramped;
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
		const own = continued[i];
		const passing = paths.flatMap((path, k) => (k === i ? [] : path));
		const zone = floors[i]!;
		zones[index] = zone;
		if (missing > mostMissing) continue;
		const found =
			own && zone.length > 0
				? serveZone(setting, zone, ports[i]!, own, directions, [...setting.others, ...passing, ...done])
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
	const laid = paths.flat().reduce((sum, path) => sum + pathLength(path), 0);
	const bundles = bundlesOf(order, paths, tailPitch(system));
	return { loops, tails: laid, bundles, zones, isFillable };
}
