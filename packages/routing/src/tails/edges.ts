import {
	distance,
	nearestOnRing,
	type Path,
	type Point,
	type Region,
	type Ring,
	ringsOf,
	roundPath,
	roundRegions,
	simplifyRing,
	union,
} from "@oxturn/geometry";
import { ahead, EASE, positionOf, stretch, type Track, trackOf, type Way } from "./tracks.ts";

/** A lane lies on its strip's edge, but for rounding, mm. */
const ON_EDGE = 0.3;
const LEAN = 0.08;
/** Largest gap between the arcs of a rounded edge and their chords, mm: where arcs meet, a corner between them may be lost. */
const FINE = 0.15;
/** Arcs are a hair wider than the pipe's limit. */
const BARELY = 1.01;

/** The rounded edge of regions that passes through all of some places. */
export function edgeThrough(regions: readonly Region[], places: readonly Point[], radius: number): Track | undefined {
	const ring = ringThrough(roundRegions(union(regions), EASE * radius, FINE).flatMap(ringsOf), places);
	return ring && trackOf(simplifyRing(ring, LEAN));
}

/** Corners nearer than this to an end would make a kink of what the end lies beside the edge, mm. */
const AT_END = 3;
/** Corners nearer than this to the line between their neighbours are none, mm. */
const STRAIGHT = 0.05;

/** The ring of a region whose edge passes through some places. */
const ringThrough = (rings: readonly Ring[], places: readonly Point[]): Ring | undefined =>
	rings.find((each) => places.every((place) => nearestOnRing(each, place).distance < ON_EDGE));

/** The part of a ring between two places on it. The pipe begins and ends at the very places, whatever rounding did to the edge. */
function between(ring: Ring, from: Point, to: Point, way: Way): Path {
	const track = trackOf(ring);
	const start = positionOf(track, from);
	const path = stretch(track, start, ahead(track, start, positionOf(track, to), way), way);
	return [from, ...path.slice(1, -1).filter((p) => distance(p, from) > AT_END && distance(p, to) > AT_END), to];
}

/**
 * The edge of regions from one place on it to another, every corner an arc. Where sides are too short for that the
 * regions are rounded as a whole.
 */
export function alongEdge(
	regions: readonly Region[],
	from: Point,
	to: Point,
	way: Way,
	radius: number,
): Path | undefined {
	const sharp = union(regions);
	const edge = ringThrough(sharp.flatMap(ringsOf), [from, to]);
	const bent = edge && roundPath(between(simplifyRing(edge, STRAIGHT), from, to, way), BARELY * radius);
	if (bent) return bent;
	const rounded = ringThrough(roundRegions(sharp, EASE * radius, FINE).flatMap(ringsOf), [from, to]);
	return rounded && between(simplifyRing(rounded, LEAN), from, to, way);
}
