import type { Point, Ring } from "./types.ts";
import { cross, direction, dot, subtract } from "./vector.ts";

/*
 * Offsets of plain rings, where every corner only moves along the line that halves it. Most outlines of rooms and zones
 * are plain, and moving their corners is far less work than clearing an outline of the loops that it does not have.
 * Coordinates are whole steps of a grid.
 */

/** Every pair of sides is looked at, so that rings of many corners are not worth it. */
const MOST_CORNERS = 32;
/** Sides and areas no longer or larger than this are gone. */
const NOTHING = 2;

/** The direction of the side that leaves every corner. */
const sidesOf = (ring: Ring): Point[] => ring.map((at, i) => direction(at, ring[(i + 1) % ring.length]!));

/** Whether a ring turns left at every corner, and goes round once. */
function isConvex(sides: readonly Point[]): boolean {
	let changes = 0;
	for (let i = 0; i < sides.length; i++) {
		const [before, after] = [sides.at(i - 1)!, sides[i]!];
		if (cross(before, after) <= 0) return false;
		if (before[1] > 0 !== after[1] > 0) changes++;
	}
	return changes === 2;
}

/**
 * A ring, anticlockwise and in whole steps, with all its sides moved outwards by `distance` steps, or inwards where that is
 * negative; empty when nothing is left, and undefined when sides vanish or meet others, so that it takes more than moving
 * them. No corner reaches farther than `limit` times the distance.
 */
export function shiftedSides(ring: Ring, distance: number, limit: number): Ring | undefined {
	if (ring.length < 3 || ring.length > MOST_CORNERS) return undefined;
	const sides = sidesOf(ring);
	const convex = isConvex(sides);
	const corners = movedCorners(ring, sides, distance, limit);
	if (!corners) return undefined;
	const keepsSides = corners.every(
		(at, i) => dot(subtract(corners[(i + 1) % corners.length]!, at), sides[i]!) > NOTHING,
	);
	if (keepsSides) return convex || isSimple(corners) ? fromLowest(corners) : undefined;
	return convex && distance < 0 ? insideOf(ring, sides, distance) : undefined;
}

/** Where the corners come to lie; undefined where one is too flat or too sharp to tell. */
function movedCorners(ring: Ring, sides: readonly Point[], distance: number, limit: number): Point[] | undefined {
	const corners: Point[] = [];
	for (let i = 0; i < ring.length; i++) {
		const [at, before, after] = [ring[i]!, sides.at(i - 1)!, sides[i]!];
		const [sine, cosine] = [cross(before, after), dot(before, after)];
		const isMitre = sine * distance > 0;
		if (Math.abs(sine * distance) < 1 || (isMitre && 1 + cosine < 2 / limit ** 2)) return undefined;
		const reach = distance / (1 + cosine);
		corners.push([
			Math.round(at[0] + (before[1] + after[1]) * reach),
			Math.round(at[1] - (before[0] + after[0]) * reach),
		]);
	}
	return corners;
}

/** Whether no two sides that are not neighbours meet, and the ring runs anticlockwise. */
function isSimple(ring: Ring): boolean {
	const n = ring.length;
	let area = 0;
	for (let i = 0; i < n; i++) {
		const [a, b] = [ring[i]!, ring[(i + 1) % n]!];
		area += cross(a, b);
		for (let k = i + 2; k < n; k++) if ((k + 1) % n !== i && meet(a, b, ring[k]!, ring[(k + 1) % n]!)) return false;
	}
	return area > NOTHING;
}

/** Whether two stretches cross or touch, or so nearly that rounding may decide it. */
function meet(a: Point, b: Point, c: Point, d: Point): boolean {
	for (const axis of [0, 1] as const) {
		if (Math.max(a[axis], b[axis]) + NOTHING < Math.min(c[axis], d[axis])) return false;
		if (Math.max(c[axis], d[axis]) + NOTHING < Math.min(a[axis], b[axis])) return false;
	}
	return !liesBeside(a, b, c, d) && !liesBeside(c, d, a, b);
}

/** Whether c-d lies wholly on one side of the line through a and b. */
function liesBeside(a: Point, b: Point, c: Point, d: Point): boolean {
	const u = direction(a, b);
	const [atC, atD] = [cross(u, subtract(c, a)), cross(u, subtract(d, a))];
	return Math.min(atC, atD) > NOTHING || Math.max(atC, atD) < -NOTHING;
}

/** What of a convex ring lies at least as far inside of all its sides: cut along one after the other. */
function insideOf(ring: Ring, sides: readonly Point[], distance: number): Ring {
	let left: readonly Point[] = ring;
	for (let i = 0; i < sides.length && left.length > 0; i++) left = beyond(left, ring[i]!, sides[i]!, -distance);
	const corners: Point[] = [];
	for (const [x, y] of left) {
		const at: Point = [Math.round(x), Math.round(y)];
		const last = corners.at(-1) ?? [Infinity, Infinity];
		if (Math.abs(at[0] - last[0]) + Math.abs(at[1] - last[1]) > NOTHING) corners.push(at);
	}
	return corners.length > 2 && isSimple(corners) ? fromLowest(corners) : [];
}

/** The part of a convex ring that lies at least `depth` to the left of a line. */
function beyond(ring: readonly Point[], on: Point, along: Point, depth: number): Point[] {
	const kept: Point[] = [];
	let before = ring.at(-1)!;
	let last = cross(along, subtract(before, on)) - depth;
	for (const at of ring) {
		const here = cross(along, subtract(at, on)) - depth;
		if (here >= 0 !== last >= 0) {
			const t = last / (last - here);
			kept.push([before[0] + t * (at[0] - before[0]), before[1] + t * (at[1] - before[1])]);
		}
		if (here >= 0) kept.push(at);
		[before, last] = [at, here];
	}
	return kept;
}

/** A ring from the corner after its lowest one on, the rightmost of those: where clipper begins its rings. */
export function fromLowest(ring: readonly Point[]): Ring {
	let lowest = 0;
	for (let i = 1; i < ring.length; i++) {
		const [at, least] = [ring[i]!, ring[lowest]!];
		if (at[1] < least[1] || (at[1] === least[1] && at[0] > least[0])) lowest = i;
	}
	return [...ring.slice(lowest + 1), ...ring.slice(0, lowest + 1)];
}
