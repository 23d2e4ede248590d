import { cross, distance, fillet, type Point, type Ring, subtract, turnBetween } from "@oxturn/geometry";

export interface RoundOutlineOptions {
	readonly minRadius: number;
	/** Wanted where there is room, mm. */
	readonly radius: number;
}

/** Points nearer than this are one, mm. */
const SAME = 0.5;
const STRAIGHT = 0.002;
const MAX_MENDS = 60;
/** Sides shorter than this share of the pipe's radius are taken out before rounding. */
const JOG = 0.3;

/** Drops repeated points, points on a straight side and ways out and straight back. */
export function tidyRing(ring: Ring): Point[] {
	let points = ring.filter((p, i) => distance(p, ring[(i + ring.length - 1) % ring.length]!) > SAME);
	for (;;) {
		const kept = points.filter((p, i) => {
			const a = points[(i + points.length - 1) % points.length]!;
			const b = points[(i + 1) % points.length]!;
			return Math.abs(turnBetween(subtract(p, a), subtract(b, p))) > STRAIGHT;
		});
		if (kept.length === points.length || kept.length < 3) return kept as Point[];
		points = kept.filter((p, i) => distance(p, kept[(i + kept.length - 1) % kept.length]!) > SAME);
	}
}

function triangle(a: Point, b: Point, c: Point): number {
	return cross(subtract(b, a), subtract(c, a)) / 2;
}

/** Removes whichever end of each side that is too short costs the least floor; floor added outside costs double. */
function mend(ring: readonly Point[], sides: readonly number[]): Point[] {
	const n = ring.length;
	const cost = (i: number): number => {
		const change = triangle(ring[(i + n - 1) % n]!, ring[i]!, ring[(i + 1) % n]!);
		return change >= 0 ? change : -2 * change;
	};
	const dropped = new Set(sides.map((i) => (cost(i) <= cost((i + 1) % n) ? i : (i + 1) % n)));
	return ring.filter((_, k) => !dropped.has(k));
}

/** Takes out sides far shorter than the pipe can follow, the shortest first. */
function dropJogs(ring: readonly Point[], limit: number): Point[] {
	let points = [...ring];
	for (let k = 0; k < 4 * ring.length && points.length > 4; k++) {
		let shortest = -1;
		let length = limit;
		for (let i = 0; i < points.length; i++) {
			const side = distance(points[i]!, points[(i + 1) % points.length]!);
			if (side < length) {
				length = side;
				shortest = i;
			}
		}
		if (shortest < 0) break;
		points = tidyRing(mend(points, [shortest]));
	}
	return points;
}

/**
 * Rounds an outline so that a pipe can follow it; jogs and steps too short for the pipe are straightened first.
 * Undefined when no outline of any size is left.
 */
export function roundOutline(outline: Ring, options: RoundOutlineOptions): Ring | undefined {
	let ring = dropJogs(tidyRing(outline), options.minRadius * JOG);
	for (let k = 0; k < MAX_MENDS && ring.length >= 3; k++) {
		const result = fillet(ring, options);
		if ("ring" in result) return result.ring;
		ring = tidyRing(mend(ring, result.conflicts));
	}
	return undefined;
}
