import { intersect, offset } from "./boolean.ts";
import type { Point, Region, Ring } from "./types.ts";

/** Flattened arcs miss each other by as much where they meet, mm: corners nearer to each other are one. */
export const SPECK = 0.1;

/**
 * Rounds every corner of regions, inwards and outwards, to at least `radius` mm; parts and gaps narrower than twice
 * the radius vanish. Arcs are flattened to `tolerance` mm.
 */
export function roundRegions(regions: readonly Region[], radius: number, tolerance = 0.25): Region[] {
	return roundOutwardCorners(roundInwardCorners(regions, radius, tolerance), radius, tolerance);
}

/** Rounds only the corners that point inwards; the regions lie within the result. */
export function roundInwardCorners(regions: readonly Region[], radius: number, tolerance = 0.25): Region[] {
	return offset(offset(regions, radius, { speck: SPECK }), -radius, { join: "round", arcTolerance: tolerance });
}

/** Rounds only the corners that point outwards; the result lies within the regions. */
export function roundOutwardCorners(regions: readonly Region[], radius: number, tolerance = 0.25): Region[] {
	return offset(offset(regions, -radius, { speck: SPECK }), radius, { join: "round", arcTolerance: tolerance });
}

/** Takes away what is narrower than twice `radius` mm; corners stay sharp. */
export function openRegions(regions: readonly Region[], radius: number): Region[] {
	return offset(offset(regions, -radius), radius);
}

/** What is left of regions, and of nothing else, when parts narrower than twice `radius` mm are taken away; corners stay sharp. */
export function openedWithin(regions: readonly Region[], radius: number): readonly Region[] {
	const opened = openRegions(regions, radius);
	// Where nothing is that narrow, the same outline comes back, and there is nothing to clip.
	return isSameOutline(opened, regions) ? regions : intersect(opened, regions);
}

/** Whether both are one region without holes, with the same corners in the same order from whichever on. */
function isSameOutline(a: readonly Region[], b: readonly Region[]): boolean {
	if (a.length !== 1 || b.length !== 1 || a[0]!.holes.length + b[0]!.holes.length > 0) return false;
	return isSameRing(a[0]!.outer, b[0]!.outer);
}

function isSameRing(a: Ring, b: Ring): boolean {
	if (a.length !== b.length || a.length === 0) return false;
	const shift = b.findIndex((p) => isSamePoint(p, a[0]!));
	return shift >= 0 && a.every((p, i) => isSamePoint(p, b[(i + shift) % b.length]!));
}

const isSamePoint = (p: Point, q: Point): boolean => p[0] === q[0] && p[1] === q[1];
