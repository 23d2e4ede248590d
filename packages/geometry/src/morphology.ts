import { offset } from "./boolean.ts";
import type { Region } from "./types.ts";

/**
 * Rounds every corner of regions, inwards and outwards, to at least `radius` mm; parts and gaps narrower than twice
 * the radius vanish. Arcs are flattened to `tolerance` mm.
 */
export function roundRegions(regions: readonly Region[], radius: number, tolerance = 0.25): Region[] {
	const round = { join: "round", arcTolerance: tolerance } as const;
	return roundOutwardCorners(offset(offset(regions, radius), -radius, round), radius, tolerance);
}

/** Rounds only the corners that point outwards; the result lies within the regions. */
export function roundOutwardCorners(regions: readonly Region[], radius: number, tolerance = 0.25): Region[] {
	return offset(offset(regions, -radius), radius, { join: "round", arcTolerance: tolerance });
}

/** Takes away what is narrower than twice `radius` mm; corners stay sharp. */
export function openRegions(regions: readonly Region[], radius: number): Region[] {
	return offset(offset(regions, -radius), radius);
}
