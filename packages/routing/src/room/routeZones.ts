import {
	intersect,
	largestFirst,
	offset,
	type Path,
	pathLength,
	type Region,
	regionArea,
	regionContains,
	ringsOf,
} from "@oxturn/geometry";
import type { Nook } from "../field/nooks.ts";
import { wallDirections } from "../field/wallDirections.ts";
import { sum } from "../sum.ts";
import type { PortPair } from "../tails/apron.ts";
import { type Bundle, bundlesOf } from "../tails/bundles.ts";
import { tailPitch } from "../tails/pitch.ts";
import { type Assignment, zoneOrders } from "../zones/entries.ts";
import { expectedPipe, type ZonePipe } from "../zones/expectedPipe.ts";
import { MANY_LOOPS } from "../zones/zonePlan.ts";
import type { Tails } from "./ownTails.ts";
import type { RoomSetting } from "./roomSetting.ts";
import type { ServeZone } from "./serveZone.ts";
import { isAt, TAIL_GAP, zoneFloor } from "./zoneFloor.ts";
import { layTails, needsFan } from "./zoneTails.ts";

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
	/** Pipe that each loop would take more, if it did not keep within its length at the cost of cold floor, m. */
	readonly lacking: readonly number[];
	/** Length of all tails up to their zones, mm. */
	readonly tails: number;
	/** What the tails of some loops, one entry a zone, make up along the walls. */
	readonly bundles: (loops: readonly (RoutedLoop | undefined)[]) => Bundle[];
}

/** An attempt that is bound to pass these is given up. */
export interface Bounds {
	/** Zones without a loop. */
	readonly mostMissing: number;
	/** Of all loops together, mm. */
	readonly mostPipe: number;
}

const MAX_DIRECTIONS = 6;

const largestOf = (zone: readonly Region[]): Region | undefined => largestFirst(zone)[0];

/**
 * A zone's largest piece, grown so far that the wall which its tails may come along is in it; for many tails it would grow
 * beyond its neighbours, so it stays within the zone then.
 */
function bodyOf(setting: RoomSetting, zone: readonly Region[], cell: Region, count: number): Region {
	const body = largestOf(zone);
	const toWall = setting.room.edgeDistance + count * tailPitch(setting.system) + TAIL_GAP * setting.spacing;
	const grown = body ? offset([body], toWall) : [];
	return (count < MANY_LOOPS ? grown[0] : largestOf(intersect(grown, [cell]))) ?? cell;
}

const missingOf = ({ loops }: RoutedZones): number => loops.filter((loop) => !loop).length;

/** Where more loops than so many are missing, and more than this share of them, tails laid otherwise do not bring them all. */
const FEW_MISSING = 7;
const MOST_MISSING = 0.25;

const isFarOff = (zones: RoutedZones): boolean =>
	missingOf(zones) > Math.max(FEW_MISSING, MOST_MISSING * zones.loops.length);

/**
 * Routes one loop to each zone; undefined when the tails cannot be laid at all, or when more zones stay without a loop
 * than is allowed, and "too long" when so few loops will take too much pipe. Where loops are missing, tails that have
 * fanned out are laid once more in quarter circles: on jagged floors either may leave a way where the other does not.
 */
export function routeZones(
	setting: RoomSetting,
	cells: readonly Region[],
	serve: ServeZone,
	bounds: Bounds,
): RoutedZones | "too long" | undefined {
	const { mostMissing } = bounds;
	const found = routeToBodies(setting, cells, serve, bounds, true);
	if (!found || found === "too long" || missingOf(found) === 0) return found;
	if (isFarOff(found)) return missingOf(found) > mostMissing ? undefined : found;
	const fewer = Math.min(mostMissing, missingOf(found) - 1);
	const other = found.isFan
		? routeToBodies(setting, cells, serve, { ...bounds, mostMissing: fewer }, false)
		: undefined;
	if (other === "too long") return other;
	const better = other && missingOf(other) < missingOf(found) ? other : found;
	return missingOf(better) > mostMissing ? undefined : better;
}

/**
 * Zones that are cut up by the tails of others may have most of their floor far from where they come to the wall: where
 * loops are missing, tails are laid once more, to the largest piece of every zone.
 */
function routeToBodies(
	setting: RoomSetting,
	cells: readonly Region[],
	serve: ServeZone,
	bounds: Bounds,
	mayFan: boolean,
): FilledZones | "too long" | undefined {
	const first = routeTo(setting, cells, cells, serve, bounds, mayFan);
	if (!first || first === "too long" || missingOf(first) === 0 || !first.isFillable || isFarOff(first)) return first;
	const bodies = first.zones.map((zone, i) => bodyOf(setting, zone, cells[i]!, cells.length));
	const fewer = Math.min(bounds.mostMissing, missingOf(first) - 1);
	const second = routeTo(setting, cells, bodies, serve, { ...bounds, mostMissing: fewer }, mayFan);
	if (second === "too long") return second;
	return second && missingOf(second) < missingOf(first) ? second : first;
}

interface FilledZones extends RoutedZones {
	/** The floor of every zone, as it was to be filled. */
	readonly zones: readonly (readonly Region[])[];
	/** Whether every zone that was tried holds a field, joined or not. */
	readonly isFillable: boolean;
	/** Whether its tails fan out. */
	readonly isFan: boolean;
}

/** Zones in the order of their ports, with their tails. */
interface OrderedTails {
	readonly order: readonly Assignment[];
	readonly tails: readonly (Tails | undefined)[];
	/** Whether they fan out. */
	readonly isFan: boolean;
}

const laidIn = (tails: readonly (Tails | undefined)[]): number => tails.filter((own) => own !== undefined).length;
const pathsOf = (tails: readonly (Tails | undefined)[]): (readonly Path[])[] => tails.map((own) => own?.paths ?? []);

/** Laying tails close is slow: only in the likeliest orders is that worth it. */
const CLOSE_ORDERS = 1;

/** The first order of the zones in which most of them have tails; undefined when none has any. */
function tailsTo(
	setting: RoomSetting,
	bodies: readonly Region[],
	ports: readonly PortPair[],
	mayFan: boolean,
): OrderedTails | undefined {
	let best: OrderedTails | undefined;
	const orders = zoneOrders(bodies, setting.wall);
	for (const isClose of [false, true])
		for (const order of isClose ? orders.slice(0, CLOSE_ORDERS) : orders) {
			if (best && isClose && setting.isSparing()) return best;
			const isFan = mayFan && needsFan(setting, order, ports);
			const mostMissing = bodies.length - laidIn(best?.tails ?? []) - 1;
			const tails = layTails(setting, order, ports, { isClose, isFan, mostMissing });
			if (tails) best = { order, tails, isFan };
			if (best && laidIn(best.tails) === bodies.length) return best;
		}
	return best;
}

/** The floor of every zone in the order, clear of the tails of all others. */
const floorsBeside = (
	setting: RoomSetting,
	cells: readonly Region[],
	order: readonly Assignment[],
	paths: readonly (readonly Path[])[],
): (readonly Region[])[] =>
	order.map(({ cell: index }, i) =>
		zoneFloor(
			setting,
			cells[index]!,
			cells.filter((_, k) => k !== index),
			paths.flatMap((own, k) => (k === i ? [] : own)),
		),
	);

/** Zones with their tails, and the floor that these leave to each, in the order of their ports. */
interface ZonesToFill extends OrderedTails {
	readonly ports: readonly PortPair[];
	readonly paths: readonly (readonly Path[])[];
	readonly floors: readonly (readonly Region[])[];
}

/** Leads tails to where each zone's `body` comes to the wall, and on to the floor that the tails of the others leave it. */
function zonesToFill(
	setting: RoomSetting,
	cells: readonly Region[],
	bodies: readonly Region[],
	mayFan: boolean,
): ZonesToFill | undefined {
	const ports = setting.entrance.pairs(cells.length);
	const found = tailsTo(setting, bodies, ports, mayFan);
	if (!found) return undefined;
	const { order, isFan } = found;
	// Where a bundle passes, a zone's floor may begin well behind the place where the zone comes to the wall.
	const cramped = floorsBeside(setting, cells, order, pathsOf(found.tails));
	const tails = found.tails.map((own, i) => {
		const body = largestOf(cramped[i]!);
		return body ? own?.continued((place) => isAt(body, place, setting.spacing)) : own;
	});
	const paths = pathsOf(tails);
	const areAsFound = tails.every((own, i) => own === found.tails[i]);
	const floors = areAsFound ? cramped : floorsBeside(setting, cells, order, paths);
	return { order, tails, isFan, ports, paths, floors };
}

/** Whether a nook belongs to a zone. */
const isNookIn = (cell: Region, { region }: Nook): boolean => region.outer.every((p) => regionContains(cell, p));

/** The setting of a zone: with the nooks that belong to it. */
const settingOf = (setting: RoomSetting, cell: Region): RoomSetting =>
	cell === setting.floor ? setting : { ...setting, nooks: setting.nooks.filter((nook) => isNookIn(cell, nook)) };

/** Zones at the manifold have the least choice of ways, so they come first. */
const nearestFirst = (order: readonly Assignment[]): number[] =>
	order.map((_, i) => i).sort((a, b) => order[a]!.entry.along - order[b]!.entry.along || a - b);

/** Length of some pipes together, mm. */
const lengthOf = (paths: readonly Path[]): number => sum(paths.map(pathLength));

/** Loops in the order of the cells, and what came of them. */
type FilledCells = Pick<FilledZones, "loops" | "lacking" | "zones" | "isFillable">;

/** One loop to each zone, by its tails. When more than the bounds allow cannot be served, the others are not either. */
function fillZones(
	setting: RoomSetting,
	cells: readonly Region[],
	{ order, tails, ports, paths, floors }: ZonesToFill,
	serve: ServeZone,
	{ mostMissing, mostPipe }: Bounds,
): FilledCells | "too long" {
	const { walls, spacing } = setting;
	const directions = wallDirections(ringsOf(walls), MAX_DIRECTIONS);
	const loops: (RoutedLoop | undefined)[] = cells.map(() => undefined);
	const zones: (readonly Region[])[] = cells.map(() => []);
	const lacking = cells.map(() => 0);
	const done: Path[] = [];
	const pipes = order.map(
		({ cell }, i): ZonePipe => ({ area: regionArea(cells[cell]!), tails: lengthOf(paths[i]!), length: undefined }),
	);
	let missing = 0;
	let isFillable = true;
	for (const i of nearestFirst(order)) {
		const { cell: index } = order[i]!;
		const own = tails[i];
		const zone = floors[i]!;
		zones[index] = zone;
		if (missing > mostMissing) continue;
		const others = [...setting.others, ...paths.flatMap((path, k) => (k === i ? [] : path)), ...done];
		const zoneSetting = settingOf(setting, cells[index]!);
		const served = own && zone.length > 0 ? serve(zoneSetting, zone, ports[i]!, own, directions, others) : undefined;
		if (!served || served === "no field") {
			missing++;
			if (served) isFillable = false;
			continue;
		}
		const { path, field } = served;
		done.push(path);
		const length = pathLength(path);
		lacking[index] = served.lacking / 1000;
		loops[index] = { port: ports[i]!.number, path, pattern: field.pattern, spacing, length: length / 1000 };
		pipes[i] = { ...pipes[i]!, length };
		if (expectedPipe(pipes) > mostPipe) return "too long";
	}
	return { loops, lacking, zones, isFillable };
}

/** One loop to each zone, by tails that lead to where its `body` comes to the wall. */
function routeTo(
	setting: RoomSetting,
	cells: readonly Region[],
	bodies: readonly Region[],
	serve: ServeZone,
	bounds: Bounds,
	mayFan: boolean,
): FilledZones | "too long" | undefined {
	const found = zonesToFill(setting, cells, bodies, mayFan);
	if (!found) return undefined;
	const { order, paths, isFan } = found;
	const filled = fillZones(setting, cells, found, serve, bounds);
	if (filled === "too long") return filled;
	return {
		...filled,
		tails: sum(paths.map(lengthOf)),
		bundles: (kept) =>
			bundlesOf(
				order,
				paths.map((own, i) => (kept[order[i]!.cell] ? own : [])),
				tailPitch(setting.system),
			),
		isFan,
	};
}
