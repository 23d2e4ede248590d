import type { Room, System } from "@oxturn/floor";
import {
	boundingBox,
	difference,
	intersect,
	largestFirst,
	nearestOnRing,
	offset,
	openedWithin,
	type Path,
	type Point,
	type Region,
	regionContains,
	ringsOf,
	thicken,
} from "@oxturn/geometry";
import { type Box, stretchesIn } from "../boxes.ts";
import { coarse } from "../field/coverage.ts";
import { type Nook, nooksOf } from "../field/nooks.ts";
import { smooth } from "../smooth.ts";
import type { RoomSetting } from "./roomSetting.ts";

/** From a passing tail to the field, as a share of the spacing: the tail warms its own strip. */
export const TAIL_GAP = 0.8;
/** Zones follow the arcs of passing tails this closely, mm. */
const COARSE = 6;
const COARSE_STEP = 40;
/** A zone's rim is simplified by this much, mm: straight runs are worth more than the last millimetres of floor. */
const SMOOTH = 3;
/** Parts of a zone narrower than this share of the spacing are left to their neighbours. */
const SLIVER = 0.8;
/** Where the whole zone does not serve, bays and spikes narrower than twice this share of the spacing are left out too. */
const PLAIN = 0.9;

type Pipes = Pick<RoomSetting, "system" | "spacing">;

/** Returns that swell need so much more between two fields, mm. */
const swellOf = ({ spacing, system }: Pipes): number => Math.max(0, system.pipe.minBendRadius - spacing / 2);

/** From the last run of one zone to the first of the next, mm. */
export const betweenZones = (pipes: Pipes): number => pipes.spacing + swellOf(pipes);

/** From a tail to the field, mm. */
export const tailGap = (pipes: Pipes): number =>
	Math.max(TAIL_GAP * pipes.spacing, pipes.system.tailSpacing + swellOf(pipes));

/** Floor less the strips that tails warm. */
const clearOfTails = (zone: readonly Region[], tails: readonly Path[], pipes: Pipes): Region[] =>
	difference(
		zone,
		thicken(
			tails.map((path) => coarse(path, COARSE_STEP)),
			tailGap(pipes),
			{ join: "round", arcTolerance: COARSE },
		),
	);

/** Floor narrower than this between the edges is left out of zones, mm. */
const narrowIn = ({ spacing }: Pick<RoomSetting, "spacing">): number => SLIVER * spacing;

/** Where a room's pipes may go in and come back besides its zones. */
export const roomNooks = ({ room, floor, system, rules, others }: NookSetting): Nook[] =>
	nooksOf(floor, {
		spacing: room.spacing,
		edge: room.edgeDistance,
		narrow: narrowIn(room),
		minBendRadius: rules.minBendRadius,
		outerDiameter: system.pipe.outerDiameter,
		apart: rules.apart,
		others,
	});

type NookSetting = Pick<RoomSetting, "room" | "floor" | "system" | "rules" | "others">;

/** A place nearer than this to a floor has come to it, in spacings. */
const ARRIVED = 2.5;

/** Whether a way has come to a piece of floor. */
export const isAt = (piece: Region, place: Point, spacing: number): boolean =>
	regionContains(piece, place) ||
	ringsOf(piece).some((ring) => nearestOnRing(ring, place).distance < ARRIVED * spacing);

/** A zone without its bays and spikes and with a rim of few corners: on jagged floors it holds fields that the whole does not. */
export function plainer(zone: readonly Region[], spacing: number): readonly Region[] {
	return smooth(openedWithin(zone, PLAIN * spacing), spacing / 8);
}

/** A zone's largest piece beside some pipes; none where they leave nothing. */
export function besidePipes(zone: readonly Region[], paths: readonly Path[], setting: Pipes): readonly Region[] {
	// Along arcs a field's outline can hardly be opened.
	return largestFirst(plainer(clearOfTails(zone, paths, setting), setting.spacing)).slice(0, 1);
}

/** How far a pipe may swell out of a zone's floor at its rim, mm: up to the walls, or nearly. */
export const beyondRim = ({ edgeDistance }: Room, { pipe }: System): number =>
	Math.max(0, edgeDistance - pipe.outerDiameter / 2 - 1);

/** Whether the box round a region comes within `reach` of another box. */
function boxComesNear({ outer }: Region, [minX, minY, maxX, maxY]: Box, reach: number): boolean {
	const [x0, y0, x1, y1] = boundingBox(outer);
	return x0 - reach <= maxX && x1 + reach >= minX && y0 - reach <= maxY && y1 + reach >= minY;
}

/** Where one zone's pipe may lie: off walls, half a spacing off its neighbours, clear of passing tails. */
export function zoneFloor(
	setting: Pick<RoomSetting, "room" | "floor" | "system" | "spacing">,
	cell: Region,
	others: readonly Region[],
	passing: readonly Path[],
): readonly Region[] {
	const inside = offset([setting.floor], -setting.room.edgeDistance);
	// A single zone is the whole floor.
	let zone: readonly Region[] = cell === setting.floor ? inside : intersect(inside, [cell]);
	const box = boundingBox(cell.outer);
	const [minX, minY, maxX, maxY] = box;
	const apart = betweenZones(setting) / 2;
	// Each is grown on its own: for plain zones that takes no clipping. Mitres may reach farther than the boxes tell, but
	// there the floor is clear of its neighbours all the same.
	const strips = others.filter((other) => boxComesNear(other, box, apart)).flatMap((other) => offset([other], apart));
	zone = difference(zone, strips);
	const gap = tailGap(setting);
	const near = stretchesIn(passing, [minX - gap, minY - gap, maxX + gap, maxY + gap]);
	if (near.length > 0) zone = clearOfTails(zone, near, setting);
	return smooth(openedWithin(zone, narrowIn(setting) / 2), SMOOTH);
}
