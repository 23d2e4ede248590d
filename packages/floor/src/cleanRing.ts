import type { Point, Ring } from "@oxturn/geometry";
import { lineString, simplify } from "@turf/turf";
import { cornerAt, distance, signedArea } from "./rings.ts";
import { distanceToSegment } from "./segments.ts";

/** Corners nearer to each other than this are one corner, mm: finer than anybody measures a floor. */
export const DUPLICATE = 0.01;

/** A corner this near to the chord between its neighbours is no corner, and a tongue this narrow no floor, mm. */
export const COLLINEAR = 0.05;

/** How far an outline with very many corners may move when it is drawn with fewer, mm. */
export const SIMPLIFY = 1;

/** An outline with more corners than this is drawn with fewer: a scanned wall, not a planned one. */
export const MANY_CORNERS = 500;

/** The thinning works on stretches of this many points, which bounds its time and the depth of its recursion. */
const STRETCH = 500;

/** A ring in good order, and the spikes that had to go for it. */
export interface CleanRing {
	/** Fewer than three points when the ring encloses nothing. */
	readonly ring: Ring;
	readonly spikes: number;
	/** Length of the longest spike, mm; 0 without spikes. */
	readonly longestSpike: number;
}

/** Whether the way from `a` over `b` to `c` goes out and back on itself. */
function turnsBack(a: Point, b: Point, c: Point): boolean {
	if ((b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]) >= 0) return false;
	return Math.min(distanceToSegment(a, b, c), distanceToSegment(c, a, b)) <= COLLINEAR;
}

/**
 * Drops repeated points and out-and-back spikes, those with corners on their way too: when a tip goes, what is left
 * of its spike may be a tip again.
 */
function dropSpikes(ring: Ring): CleanRing {
	const kept: Point[] = [];
	/** The farthest tip that has already been taken off at a point which is still there. */
	const tips = new Map<Point, Point>();
	let spikes = 0;
	let longestSpike = 0;

	const takeOff = (a: Point, tip: Point, c: Point): Point => {
		const farthest = tips.get(tip) ?? tip;
		if (farthest === tip) spikes++;
		const root = distance(a, tip) < distance(c, tip) ? a : c;
		longestSpike = Math.max(longestSpike, distance(root, farthest));
		return farthest;
	};

	for (const point of ring) {
		let farthest: Point | undefined;
		let last = kept.at(-1);
		let beforeLast = kept.at(-2);
		while (last && beforeLast && distance(last, point) >= DUPLICATE && turnsBack(beforeLast, last, point)) {
			farthest = takeOff(beforeLast, last, point);
			kept.pop();
			last = beforeLast;
			beforeLast = kept.at(-2);
		}
		if (!last || distance(last, point) >= DUPLICATE) kept.push(point);
		if (farthest) tips.set(kept.at(-1)!, farthest);
	}

	let first = 0;
	while (kept.length - first >= 3) {
		const [beforeLast, last] = [kept.at(-2)!, kept.at(-1)!];
		const [start, next] = [kept[first]!, kept[first + 1]!];
		if (distance(last, start) < DUPLICATE) {
			const tip = tips.get(last);
			if (tip) tips.set(start, tip);
			kept.pop();
		} else if (turnsBack(beforeLast, last, start)) {
			tips.set(beforeLast, takeOff(beforeLast, last, start));
			kept.pop();
		} else if (turnsBack(last, start, next)) {
			tips.set(next, takeOff(last, start, next));
			first++;
		} else break;
	}
	return { ring: kept.slice(first), spikes, longestSpike };
}

/**
 * The ring without the corners that lie within `tolerance` mm of the line through the others. It is cut at its first
 * corner and at the one farthest from it, since a line needs two ends to be thinned between.
 */
function thin(ring: Ring, tolerance: number): Ring {
	const first = ring[0];
	if (!first || ring.length < 3) return ring;
	let far = 1;
	for (let i = 2; i < ring.length; i++) if (distance(first, ring[i]!) > distance(first, ring[far]!)) far = i;

	const closed = [...ring, first];
	const thinned: Point[] = [];
	for (const [from, to] of [
		[0, far],
		[far, ring.length],
	] as const) {
		for (let start = from; start < to; start += STRETCH) {
			const stretch = closed.slice(start, Math.min(start + STRETCH, to) + 1).map(([x, y]) => [x, y]);
			const line = simplify(lineString(stretch), { tolerance, highQuality: true, mutate: true });
			for (const [x, y] of line.geometry.coordinates.slice(0, -1)) thinned.push([x!, y!]);
		}
	}
	const firstIsCorner = distanceToSegment(first, cornerAt(thinned, -1), cornerAt(thinned, 1)) > tolerance;
	return firstIsCorner ? thinned : thinned.slice(1);
}

/**
 * The ring in good order: turned anticlockwise (clockwise with `clockwise`), without repeated points, corners on a
 * straight line and spikes without width. `ring` does not repeat its first point. Cleaning a clean ring changes
 * nothing.
 */
export function cleanRing(ring: Ring, clockwise: boolean): CleanRing {
	const [first, ...rest] = ring;
	const isTurned = first && signedArea(ring) > 0 === clockwise;
	let cleaned: Ring = isTurned ? [first, ...rest.reverse()] : ring;
	let spikes = 0;
	let longestSpike = 0;
	for (let before = -1; before !== cleaned.length && cleaned.length >= 3; ) {
		before = cleaned.length;
		const result = dropSpikes(cleaned);
		spikes += result.spikes;
		longestSpike = Math.max(longestSpike, result.longestSpike);
		cleaned = thin(result.ring, COLLINEAR);
	}
	return { ring: cleaned, spikes, longestSpike };
}

/**
 * A clean ring with fewer corners, to within about 1 mm. The result may cross itself where the ring nearly touched
 * itself; simplifying it again changes nothing.
 */
export function simplifyRing(ring: Ring, clockwise: boolean): Ring {
	let simplified = ring;
	for (let before = -1; before !== simplified.length && simplified.length > MANY_CORNERS; ) {
		before = simplified.length;
		simplified = cleanRing(thin(simplified, SIMPLIFY), clockwise).ring;
	}
	return simplified;
}
