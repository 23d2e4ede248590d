import type { PatternName, Room, System } from "@oxturn/floor";
import {
	boundingBox,
	largestFirst,
	type Path,
	type Point,
	pathLength,
	pointBetween,
	positionsAlong,
	type Region,
	type Ring,
	regionArea,
	ringsOf,
} from "@oxturn/geometry";
import { mapFloor } from "../field/coverage.ts";
import { type FilledField, fillField } from "../field/fillField.ts";
import { wallDirections } from "../field/wallDirections.ts";
import { beyondRim, zoneFloor } from "../room/zoneFloor.ts";
import { type ClearanceRules, clearOfPipes } from "../tails/clearance.ts";
import { joinLoop } from "../tails/joinLoop.ts";
import type { TailEnd } from "../tails/leads.ts";
import { bendCost, outlineCost } from "./guestRooms.ts";
import { awayFrom } from "./spaces.ts";

/*
 * A loop that passes a piece of floor on its way makes its runs there too: the piece has a field of its own, and the tail
 * beside it is opened, as the field's outline is, so that both become one pipe.
 */

export interface PieceFieldsOptions {
	/** The room that the piece of floor belongs to. */
	readonly room: Room;
	readonly piece: Region;
	/** The part of it that is to be heated, and what is heated otherwise. */
	readonly cell: Region;
	readonly rest: readonly Region[];
	readonly pattern: PatternName;
	/** Where loops come by, about. */
	readonly gate: Point;
	/** All pipes that are laid. */
	readonly pipes: readonly Path[];
	/** Pipe that the loop with most of it to spare has left, mm. */
	readonly longest: number;
	readonly rules: ClearanceRules;
	readonly system: System;
}

export interface RunsOnTheWayOptions {
	/** The part of a floor that is to be heated, its fields, the best first, and centre to centre in them, mm. */
	readonly cell: Region;
	readonly fields: readonly FilledField[];
	readonly spacing: number;
	/** The loop that passes, from its flow port to its return port. */
	readonly loop: Path;
	/** All other pipes. */
	readonly others: readonly Path[];
	readonly rules: ClearanceRules;
	/** mm */
	readonly maxLength: number;
}

/** A loop that makes runs on its way. */
export interface RunsOnTheWay {
	readonly path: Path;
	/** What the part is short of, and the bends there, the lower the better. */
	readonly cost: number;
}

/** A pipe comes by a piece of floor where it lies no farther off than the pipe whose clearance is the piece's rim, in clearances. */
const BESIDE = 1.2;
/** Fields that are tried, unless they cost so much more than the best, and places where the pipe that passes is opened for each. */
const MOST_FIELDS = 3;
const NEAR_BEST = 0.05;
const MOST_PLACES = 10;
/** Such places are no nearer to each other than this, mm. */
const BETWEEN_PLACES = 150;
/** At each, either end is tried in some positions, so far from the place, mm. */
const ASIDE = [0, 80, 160, 240];
/** A stretch beside the piece that is shorter than this will hardly do: at the ports, all pipes are near, mm. */
const LEAST_BESIDE = 400;
/** Pipes are looked at in steps of this, mm. */
const LOOK = 50;
/** So much of the pipe before and behind a place counts as the tails that are joined, mm. */
const NEAR = 2500;
/** The way that a pipe takes is only known on straights longer than this, mm: chords of arcs are shorter. */
const STRAIGHT = 32;
/** No more pipe than this is saved where two are joined, mm. */
const SAVED = 2000;
/** No field is so sparse that its area is more than this times spacing and length. */
const MOST_AREA = 1.3;
const MAP_DETAIL = 4;
const MAX_DIRECTIONS = 6;
/** A field is opened no farther from the pipe that passes than this, in spacings or in bend radii. */
const REACH = 3;
const REACH_BENDS = 6;

/** A pipe with the distance along it at each of its points, mm. */
interface Measured {
	readonly path: Path;
	readonly positions: Float64Array;
}

const lengthOf = ({ positions }: Measured): number => positions.at(-1)!;

/** The stretch of a pipe from one position to another. */
function stretch({ path, positions }: Measured, from: number, to: number): Point[] {
	const first = positions.findIndex((each) => each > from);
	const end = positions.findIndex((each) => each >= to);
	const place = (next: number, position: number): Point => {
		const before = positions[next - 1]!;
		return pointBetween(path[next - 1]!, path[next]!, (position - before) / (positions[next]! - before));
	};
	return [place(first, from), ...path.slice(first, end), place(end, to)];
}

/** The way that a pipe takes at a position, radians; undefined on an arc. */
function headingAt({ path, positions }: Measured, position: number): number | undefined {
	const next = positions.findIndex((each) => each > position);
	if (next < 1 || positions[next]! - positions[next - 1]! < STRAIGHT) return undefined;
	const [a, b] = [path[next - 1]!, path[next]!];
	return Math.atan2(b[1] - a[1], b[0] - a[0]);
}

/** Positions along a pipe where it comes by a piece of floor. */
function positionsBeside({ path, positions }: Measured, piece: Region, reach: number): number[] {
	const [minX, minY, maxX, maxY] = boundingBox(piece.outer);
	const isFar = ([ax, ay]: Point, [bx, by]: Point): boolean =>
		Math.max(ax, bx) < minX - reach ||
		Math.min(ax, bx) > maxX + reach ||
		Math.max(ay, by) < minY - reach ||
		Math.min(ay, by) > maxY + reach;
	const found: number[] = [];
	for (let i = 1; i < path.length; i++) {
		if (isFar(path[i - 1]!, path[i]!)) continue;
		const length = positions[i]! - positions[i - 1]!;
		const count = Math.ceil(length / LOOK);
		for (let k = 0; k < count; k++)
			if (awayFrom(piece, pointBetween(path[i - 1]!, path[i]!, k / count)) < reach)
				found.push(positions[i - 1]! + (length * k) / count);
	}
	return found;
}

/** Whether a pipe comes by a piece of floor, on a stretch that is worth it. */
export const comesBy = (path: Path, piece: Region, rules: ClearanceRules): boolean =>
	positionsBeside({ path, positions: positionsAlong(path) }, piece, BESIDE * rules.apart).length > LEAST_BESIDE / LOOK;

/** Some of the positions, evenly picked and not too near to each other. */
function picked(positions: readonly number[]): number[] {
	const apart: number[] = [];
	for (const position of positions)
		if (apart.length === 0 || position - apart.at(-1)! >= BETWEEN_PLACES) apart.push(position);
	if (apart.length <= MOST_PLACES) return apart;
	return Array.from({ length: MOST_PLACES }, (_, i) => apart[Math.floor(((i + 0.5) * apart.length) / MOST_PLACES)]!);
}

/** The best way in which a loop can make runs on a piece of floor that it passes; undefined where there is none. */
export function runsOnTheWay(options: RunsOnTheWayOptions): RunsOnTheWay | undefined {
	const { cell, fields, spacing, loop, others, rules, maxLength } = options;
	const out: Measured = { path: loop, positions: positionsAlong(loop) };
	const spare = maxLength - lengthOf(out) + SAVED;
	const fitting = fields.filter(({ ring }) => pathLength(ring) < spare);
	if (fitting.length === 0) return undefined;
	const places = picked(positionsBeside(out, cell, BESIDE * rules.apart));
	const map = mapFloor([cell], spacing / MAP_DETAIL);
	const before = bendCost(loop);
	let best: RunsOnTheWay | undefined;
	for (const { ring } of fitting.filter(({ cost }) => cost < fitting[0]!.cost + NEAR_BEST).slice(0, MOST_FIELDS))
		for (const place of places) {
			const path = openedAt(place, ring, out, options);
			if (!path || pathLength(path) > maxLength || !clearOfPipes(path, others, rules)) continue;
			const cost = outlineCost(path, [path, ...others], map, spacing) - before;
			if (!best || cost < best.cost) best = { path, cost };
		}
	return best;
}

/** The fields that a part of a piece of floor holds between the pipes that are laid, the best first. */
export function pieceFields(options: PieceFieldsOptions): FilledField[] {
	const { room, piece, cell, rest, pattern, gate, pipes, longest, rules, system } = options;
	const { spacing } = room;
	const zone = largestFirst(zoneFloor({ room, floor: piece, system, spacing }, cell, rest, pipes)).slice(0, 1);
	if (zone.length === 0 || regionArea(zone[0]!) > MOST_AREA * spacing * (longest + SAVED)) return [];
	return fillField({
		floor: zone,
		map: mapFloor(zone, spacing / MAP_DETAIL),
		spacing,
		minBendRadius: system.pipe.minBendRadius,
		pattern,
		directions: wallDirections(ringsOf(cell), MAX_DIRECTIONS),
		gate,
		rim: beyondRim(room, system),
		apart: rules.apart,
		others: pipes,
		longest: longest + SAVED,
		care: "usual",
	}).filter((field) => pattern === "auto" || field.pattern === pattern);
}

/** A loop that is opened at a place, and led round a field's outline from there; undefined where that cannot be. */
function openedAt(
	place: number,
	ring: Ring,
	out: Measured,
	{ spacing, others, rules }: RunsOnTheWayOptions,
): Path | undefined {
	const [from, to] = [Math.max(0, place - NEAR), Math.min(lengthOf(out), place + NEAR)];
	const before = from > 0 ? stretch(out, 0, from) : [];
	const after = to < lengthOf(out) ? stretch(out, to, lengthOf(out)) : [];
	const endAt = (position: number, side: "right" | "left"): TailEnd[] => {
		const heading = headingAt(out, position);
		if (heading === undefined || position <= from || position >= to) return [];
		const path = side === "right" ? stretch(out, from, position) : stretch(out, position, to).reverse();
		return [{ path, pose: { at: path.at(-1)!, heading: side === "right" ? heading : heading + Math.PI } }];
	};
	const joined = joinLoop({
		ring,
		right: ASIDE.flatMap((aside) => endAt(place - aside, "right")),
		left: ASIDE.flatMap((aside) => endAt(place + aside, "left")),
		others: [...others, before, after].filter((path) => path.length > 1),
		spacing,
		rules,
		reach: Math.max(REACH * spacing, REACH_BENDS * rules.minBendRadius),
	});
	return joined && [...before.slice(0, -1), ...joined.path, ...after.slice(1)];
}
