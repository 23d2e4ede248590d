import {
	distance,
	nearestOnRing,
	type Path,
	type Point,
	type Region,
	ringsOf,
	roundRegions,
	simplifyRing,
	union,
} from "@oxturn/geometry";
import { ahead, EASE, positionOf, stretch, type Track, trackOf, type Way } from "./tracks.ts";

/** A lane lies on its strip's edge, but for rounding, mm. */
const ON_EDGE = 0.3;
const LEAN = 0.08;

/** The rounded edge of regions that passes through all of some places. */
export function edgeThrough(regions: readonly Region[], places: readonly Point[], radius: number): Track | undefined {
	const ring = roundRegions(union(regions), EASE * radius)
		.flatMap(ringsOf)
		.find((each) => places.every((place) => nearestOnRing(each, place).distance < ON_EDGE));
	return ring && trackOf(simplifyRing(ring, LEAN));
}

/** The edge of a rounded region from one place on it to another. */
export function alongEdge(
	regions: readonly Region[],
	from: Point,
	to: Point,
	way: Way,
	radius: number,
): Path | undefined {
	const track = edgeThrough(regions, [from, to], radius);
	if (!track) return undefined;
	const start = positionOf(track, from);
	const path = stretch(track, start, ahead(track, start, positionOf(track, to), way), way);
	return path.filter((p, i) => i === 0 || distance(p, path[i - 1]!) > ON_EDGE / 10);
}
