import {
	difference,
	distance,
	intersect,
	inwardCorners,
	offset,
	openedWithin,
	openRegions,
	type Point,
	type Region,
	regionArea,
	regionContains,
} from "@oxturn/geometry";

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
	/** From walls to the field, mm. */
	readonly edge: number;
	/** Floor narrower than this between the edges is left out of fields, mm. */
	readonly narrow: number;
	readonly minBendRadius: number;
	readonly outerDiameter: number;
	/** No two stretches of pipe come nearer than this, mm. */
	readonly apart: number;
}

/** From a pipe to the wall of a nook that it turns in, mm. */
const OFF_WALL = 2.5;
/** What lies this near to each other touches, mm. */
const TOUCHING = 1;
/** The largest so many nooks are looked at. */
const MOST_NOOKS = 4;

/** The nooks of a floor, the largest first: the pipe keeps the wanted distance from walls in them, or where that is too much as much as it can. */
export function nooksOf(floor: Region, options: NookOptions): Nook[] {
	if (floor.holes.length === 0 && inwardCorners(floor.outer).length === 0) return [];
	const { edge, narrow, apart } = options;
	const turning = turningRoom(options);
	const field = openedWithin(offset([floor], -edge), narrow / 2);
	const centres = offset([floor], -turning);
	const at = (off: number): Nook[] => nooksAt({ floor, centres, field }, off, options);
	const wanted = at(edge);
	const least = turning - apart / 2;
	const closer = least < edge ? at(least) : [];
	const isNew = (nook: Nook): boolean =>
		wanted.every((other) => intersect([other.region], offset([nook.region], TOUCHING)).length === 0);
	return [...wanted, ...closer.filter(isNew)]
		.sort((a, b) => regionArea(b.region) - regionArea(a.region))
		.slice(0, MOST_NOOKS);
}

/** From the walls to the centre of a pipe's tightest turn, mm. */
const turningRoom = ({ minBendRadius, outerDiameter }: NookOptions): number =>
	minBendRadius + outerDiameter / 2 + OFF_WALL;

/** A floor, where on it a pipe may turn, and what of it is filled anyway. */
interface Narrowing {
	readonly floor: Region;
	readonly centres: readonly Region[];
	readonly field: readonly Region[];
}

/** Nooks in which the pipe lies so far off the walls, mm. */
function nooksAt({ floor, centres, field }: Narrowing, off: number, options: NookOptions): Nook[] {
	const { edge, apart } = options;
	const within = openRegions(offset(centres, turningRoom(options) - off), (apart - TOUCHING) / 2);
	const depth = Math.max(0, edge - off) + TOUCHING;
	const beyond = difference(within, offset(field, depth));
	if (beyond.length === 0) return [];
	const left = difference([floor], offset(field, edge));
	const reached = offset(field, depth + TOUCHING);
	return beyond.flatMap((region) => {
		if (region.holes.length > 0) return [];
		const mouth = mouthOf(region, reached);
		if (!mouth || distance(...mouth) < apart - 2 * TOUCHING) return [];
		return [{ region, floor: intersect(left, offset([region], off)), mouth, depth }];
	});
}

/** The longest side of a nook that lies in what is reached from the field. */
function mouthOf({ outer }: Region, reached: readonly Region[]): Nook["mouth"] | undefined {
	const isReached = (p: Point): boolean => reached.some((piece) => regionContains(piece, p));
	return outer
		.map((p, i): Nook["mouth"] => [p, outer[(i + 1) % outer.length]!])
		.filter((side) => side.every(isReached))
		.sort((a, b) => distance(...b) - distance(...a))[0];
}
