import {
	boundingBox,
	difference,
	distance,
	intersect,
	offset,
	openRegions,
	type Path,
	type Point,
	type Region,
	regionArea,
	regionContains,
} from "@oxturn/geometry";
import { stretchesIn } from "../boxes.ts";
import { sum } from "../sum.ts";
import { mapFloor, shortfall } from "./coverage.ts";
import { mayBeNarrow } from "./narrowParts.ts";

/*
 * Nooks are parts of a floor too narrow to be filled, such as the strip beside a bath tub between it and the corner: a
 * pipe finds room there to go in and to come back.
 */

/** A part of a floor that a pipe goes into and comes back from. */
export interface Nook {
	/** What the pipe's centreline goes round. */
	readonly region: Region;
	/** What is to be warmed by it. */
	readonly floor: readonly Region[];
	/** The side by which it is entered: the nook lies to the left of it. */
	readonly mouth: readonly [Point, Point];
	/** From there to the floor that a field fills, mm. */
	readonly depth: number;
}

export interface NookOptions {
	/** Centre to centre, mm. */
	readonly spacing: number;
	/** From walls to the field, mm. */
	readonly edge: number;
	/** Floor narrower than this between the edges is left out of fields, mm. */
	readonly narrow: number;
	readonly minBendRadius: number;
	readonly outerDiameter: number;
	/** No two stretches of pipe come nearer than this, mm. */
	readonly apart: number;
	/** Pipes that lie already. */
	readonly others: readonly Path[];
}

/** From a pipe to the wall of a nook that it turns in, mm. */
const OFF_WALL = 2.5;
/** What lies this near to each other touches, mm. */
const TOUCHING = 1;
/** The largest so many nooks are looked at. */
const MOST_NOOKS = 4;
/** A nook is worth a look where so much of it lies farther than one spacing from a field and from other pipes, in squares of that. */
const COLD = 0.1;
/** Cells of the map that this is measured on, per spacing. */
const MAP_DETAIL = 4;

/**
 * The nooks of a floor that stay cold, the largest first: the pipe keeps the wanted distance from walls in them, or where
 * that is too much as much as it can.
 */
export function nooksOf(floor: Region, options: NookOptions): Nook[] {
	const { edge, narrow, apart } = options;
	if (!mayBeNarrow(floor, 2 * edge + narrow + TOUCHING)) return [];
	const turning = turningRoom(options);
	const body = offset([floor], -(edge + narrow / 2));
	const centres = offset([floor], -turning);
	const narrowing: Narrowing = { floor, centres, fieldAnd: (by) => offset(body, narrow / 2 + by) };
	const least = Math.min(edge, turning - apart / 2);
	const closest = nooksAt(narrowing, least, options);
	if (closest.length === 0 || least === edge) return closest;
	const wanted = nooksAt(narrowing, edge, options);
	const isElse = (nook: Nook): boolean =>
		wanted.every((other) => intersect([other.region], offset([nook.region], TOUCHING)).length === 0);
	return largestNooks([...wanted, ...closest.filter(isElse)]);
}

const largestNooks = (nooks: readonly Nook[]): Nook[] =>
	[...nooks].sort((a, b) => regionArea(b.region) - regionArea(a.region)).slice(0, MOST_NOOKS);

/** From the walls to the centre of a pipe's tightest turn, mm. */
const turningRoom = ({ minBendRadius, outerDiameter }: NookOptions): number =>
	minBendRadius + outerDiameter / 2 + OFF_WALL;

/** A floor, where on it a pipe may turn, and what of it is filled anyway, with so much around it, mm. */
interface Narrowing {
	readonly floor: Region;
	readonly centres: readonly Region[];
	readonly fieldAnd: (by: number) => Region[];
}

/** Nooks in which the pipe lies so far off the walls, mm. */
function nooksAt({ floor, centres, fieldAnd }: Narrowing, off: number, options: NookOptions): Nook[] {
	const { edge, apart, spacing } = options;
	const depth = Math.max(0, edge - off) + TOUCHING;
	const least = apart - TOUCHING;
	const beyond = difference(offset(centres, turningRoom(options) - off), fieldAnd(depth));
	const pieces = openRegions(
		beyond.filter((piece) => regionArea(piece) > least * least),
		least / 2,
	);
	if (pieces.length === 0) return [];
	const reached = fieldAnd(depth + TOUCHING);
	const left = difference([floor], fieldAnd(edge));
	const warmed = fieldAnd(spacing);
	return largestNooks(
		pieces.flatMap((region) => {
			const mouth = mouthOf(region, reached);
			if (region.holes.length > 0 || !mouth || distance(...mouth) < least - TOUCHING) return [];
			const own = intersect(left, offset([region], off));
			return isCold(difference(own, warmed), options) ? [{ region, floor: own, mouth, depth }] : [];
		}),
	);
}

/** Whether so much of a floor is left cold by other pipes that it is worth a look. */
function isCold(floor: readonly Region[], { spacing, others }: NookOptions): boolean {
	const area = sum(floor.map(regionArea));
	if (area < COLD * spacing ** 2) return false;
	const [minX, minY, maxX, maxY] = boundingBox(floor.flatMap(({ outer }) => outer));
	const near = stretchesIn(others, [minX - spacing, minY - spacing, maxX + spacing, maxY + spacing]);
	if (near.length === 0) return true;
	return area * shortfall(mapFloor(floor, spacing / MAP_DETAIL), near, spacing).beyond100 > COLD * spacing ** 2;
}

/** The longest side of a nook that lies in what is reached from the field. */
function mouthOf({ outer }: Region, reached: readonly Region[]): Nook["mouth"] | undefined {
	const isReached = (p: Point): boolean => reached.some((piece) => regionContains(piece, p));
	return outer
		.map((p, i): Nook["mouth"] => [p, outer[(i + 1) % outer.length]!])
		.filter((side) => side.every(isReached))
		.sort((a, b) => distance(...b) - distance(...a))[0];
}
