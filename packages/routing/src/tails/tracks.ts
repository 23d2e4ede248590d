import {
	distance,
	nearestOnRing,
	offset,
	openedWithin,
	type Path,
	type Point,
	type Pose,
	pointBetween,
	type Region,
	type Ring,
	regionArea,
	roundInwardCorners,
	roundOutwardCorners,
	SPECK,
	simplifyRing,
} from "@oxturn/geometry";

/*
 * Tails follow tracks: curves at fixed distances from the wall, already rounded to the pipe's radius. Each track is
 * the one before shrunk by the tail spacing, so bundles are parallel by construction.
 */

/** A closed curve anticlockwise round the floor, with the distance along it at each vertex, mm. */
export interface Track {
	readonly ring: Ring;
	readonly positions: readonly number[];
	readonly length: number;
}

/** Tracks turn a little wider than they must: where two arcs meet in a jagged corner, they need not be quite tangent. */
export const EASE = 1.08;

/** Vertices nearer to the curve than this are left out, mm. */
const LEAN = 0.08;

export function trackOf(ring: Ring): Track {
	const positions: number[] = [];
	let length = 0;
	for (let i = 0; i < ring.length; i++) {
		positions.push(length);
		length += distance(ring[i]!, ring[(i + 1) % ring.length]!);
	}
	return { ring, positions, length };
}

/** Niches narrower than twice this are passed by, the widest first that leaves the way open, mm. */
const NICHES = [400, 250, 120];

/** The floor that bundles follow: niches too small for a field are bridged. */
function withoutNiches(floor: Region, near: Point): Region {
	for (const niche of NICHES) {
		const opened = openedWithin([floor], niche);
		const home = opened.find((region) => nearestOnRing(region.outer, near).distance < BRIDGED_AT_MANIFOLD);
		if (home && regionArea(home) > STILL_OPEN * regionArea(floor)) return home;
	}
	return floor;
}

/** The manifold itself must not hang in a niche that is passed by, mm. */
const BRIDGED_AT_MANIFOLD = 80;
const STILL_OPEN = 0.85;

/** Gives the first tracks along the walls of a floor, as many as are asked for or as it is wide enough for. */
export type TrackSource = (count: number) => readonly Track[];

/** Tracks from `first` mm off the wall inwards, each made when it is first asked for. */
export function trackSource(
	floor: Region,
	near: Point,
	first: number,
	spacing: number,
	minBendRadius: number,
): TrackSource {
	const radius = EASE * minBendRadius;
	const tracks: Track[] = [];
	/** What the next track goes round inside of, before its corners are rounded. */
	let within: readonly Region[] | undefined;
	let isFull = false;
	const addTrack = (): void => {
		// Only the first track may fill in corners: a later one would come too near the one before.
		within = within
			? offset(within, -spacing, { speck: SPECK })
			: roundInwardCorners(offset([withoutNiches(floor, near)], -first, { speck: SPECK }), radius);
		const rounded = roundOutwardCorners(within, radius);
		const nearest = rounded
			.map((region) => ({ region, away: nearestOnRing(region.outer, near).distance }))
			.sort((a, b) => a.away - b.away)[0];
		if (!nearest) {
			isFull = true;
			return;
		}
		// Arcs of arcs would double their vertices with every track.
		const lean = {
			outer: simplifyRing(nearest.region.outer, LEAN),
			holes: nearest.region.holes.map((hole) => simplifyRing(hole, LEAN)),
		};
		tracks.push(trackOf(lean.outer));
		// Whether corners are rounded before the floor is shrunk or after is the same; sharp ones take less work.
		if (within.length > 1 || rounded.length > 1) within = [lean];
	};
	return (count) => {
		while (tracks.length < count && !isFull) addTrack();
		return tracks.slice(0, count);
	};
}

/** Distance along a track of its point nearest to `p`, mm. */
export function positionOf(track: Track, p: Point): number {
	const { index, t } = nearestOnRing(track.ring, p);
	const a = track.ring[index]!;
	const b = track.ring[(index + 1) % track.ring.length]!;
	return track.positions[index]! + t * distance(a, b);
}

/** 1 follows the track anticlockwise, -1 clockwise. */
export type Way = 1 | -1;

const wrap = (position: number, length: number): number => ((position % length) + length) % length;

/** The last vertex at a position or before it. */
function vertexBefore({ positions }: Track, position: number): number {
	let [low, high] = [0, positions.length];
	while (high - low > 1) {
		const middle = (low + high) >> 1;
		if (positions[middle]! <= position) low = middle;
		else high = middle;
	}
	return low;
}

/** No chord of a track's arcs is longer, mm. */
const LONG_SIDE = 160;
const SHORT_CHORD = 32;
/** A chord has its arc's direction in its middle, this far to either side of it at most, as a share of its length. */
const MID_CHORD = 0.15;

/** Place and direction at a position; `exact` tells whether the track has that direction there, arcs considered. */
export function poseAt(track: Track, position: number, way: Way): Pose & { readonly exact: boolean } {
	const at = wrap(position, track.length);
	const i = vertexBefore(track, at);
	const a = track.ring[i]!;
	const b = track.ring[(i + 1) % track.ring.length]!;
	const side = distance(a, b);
	const t = side > 0 ? (at - track.positions[i]!) / side : 0;
	const heading = Math.atan2(b[1] - a[1], b[0] - a[0]) + (way === 1 ? 0 : Math.PI);
	const exact = side > LONG_SIDE || (side > SHORT_CHORD && Math.abs(t - 0.5) < MID_CHORD);
	return { at: pointBetween(a, b, t), heading, exact };
}

/** The stretch of a track from one position on for `length` mm. */
export function stretch(track: Track, from: number, length: number, way: Way): Path {
	const points: Point[] = [poseAt(track, from, way).at];
	const n = track.ring.length;
	const start = wrap(from, track.length);
	const ahead = (i: number): number =>
		wrap(way === 1 ? track.positions[i]! - start : start - track.positions[i]!, track.length);
	// The vertices in their order, beginning with the one behind the start.
	const behind = vertexBefore(track, start);
	for (let k = 0; k < n; k++) {
		const i = (behind + way * k + (way === 1 ? 1 : 0) + n) % n;
		const at = ahead(i);
		if (at >= length - 1e-6) break;
		if (at > 1e-6) points.push(track.ring[i]!);
	}
	points.push(poseAt(track, from + way * length, way).at);
	return points;
}

/** How far it is from one position to another, going `way`, mm. */
export const ahead = (track: Track, from: number, to: number, way: Way): number =>
	wrap(way === 1 ? to - from : from - to, track.length);
