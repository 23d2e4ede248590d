import type { Floor, Manifold } from "@oxturn/floor";
import type { AuditFinding } from "../types.ts";
import { CLEARANCE_SHARE, CLEARANCE_SLACK, MANIFOLD_ZONE } from "./limits.ts";
import { everyNearPair } from "./nearPairs.ts";
import { isNearManifold, placeText } from "./plan.ts";
import { approachOf, type Segments, segmentToSegment2, stretchCount } from "./segments.ts";
import type { Trace } from "./trace.ts";

/** Pipes nearer than this touch, mm. */
const TOUCH = 1e-6;

/** Crossings of the same two loops nearer than this are one, mm. */
const SAME_CROSSING = 5;

/** Cell of the raster in which too-close spots that touch become one place, mm. */
const PLACE = 100;

/** Two stretches nearer than they may be. */
interface Spot {
	readonly x: number;
	readonly y: number;
	readonly distance: number;
	/** Indices of the loops, the lower one first. */
	readonly a: number;
	readonly b: number;
}

/**
 * Finds where pipe crosses pipe and where it lies nearer than the tail spacing allows, or, round a manifold,
 * nearer than the skins allow. Whole straight pieces are compared first; only pairs that come too close
 * are looked at in stretches of 40 mm, which settles where the limit changes and how much pipe lies between.
 */
export function findCloseSpots(floor: Floor, traces: readonly Trace[], segments: Segments): AuditFinding[] {
	const { tailSpacing, pipe } = floor.system;
	const apart = CLEARANCE_SHARE * tailSpacing;
	const apartAtManifold = pipe.outerDiameter + 1;
	const reach = Math.max(apart, apartAtManifold);
	// on a curve no tighter than the bend radius, pipe comes back this near only after almost a full turn
	const sameBend = Math.PI * Math.max(pipe.minBendRadius, reach / 2) + segments.stretch;
	const limitAt = (x: number, y: number): number =>
		isNearManifold(floor.manifolds, x, y, MANIFOLD_ZONE) ? apartAtManifold : apart;
	/** Whether two segments that come so near, mm2, keep the limit wherever that is. */
	const isFine = (i: number, j: number, distance2: number): boolean =>
		distance2 >= apartAtManifold * apartAtManifold && areAtManifold(floor.manifolds, segments, i, j);

	const spots: Spot[] = [];
	for (const pair of suspectsAmong(segments, reach, sameBend, isFine)) {
		const i = Math.floor(pair / segments.count);
		const j = pair % segments.count;
		forEachClosePair(segments, i, j, reach, (distance, x, y, pipeBetween) => {
			if (distance >= TOUCH) {
				if (pipeBetween < sameBend) return;
				if (distance >= limitAt(x, y) - CLEARANCE_SLACK) return;
			}
			const first = segments.loop[i]!;
			const second = segments.loop[j]!;
			spots.push({ x, y, distance, a: Math.min(first, second), b: Math.max(first, second) });
		});
	}
	return spots.length === 0 ? [] : findingsOf(spots, traces, limitAt);
}

/** One finding for every crossing, and for every place where pipes lie too near. */
function findingsOf(
	spots: readonly Spot[],
	traces: readonly Trace[],
	limitAt: (x: number, y: number) => number,
): AuditFinding[] {
	const nameOf = (trace: number): string => `"${traces[trace]!.id}"`;
	const crossing = ({ a, b }: Spot): string =>
		a === b ? `Loop ${nameOf(a)} crosses itself` : `Loops ${nameOf(a)} and ${nameOf(b)} cross`;
	const nearness = ({ a, b, distance }: Spot): string =>
		a === b
			? `Loop ${nameOf(a)} comes within ${distance.toFixed(1)} mm of itself`
			: `Loops ${nameOf(a)} and ${nameOf(b)} are ${distance.toFixed(1)} mm apart`;
	const placeOf = ({ a, b, x, y }: Spot): Pick<AuditFinding, "subjects" | "at"> => ({
		subjects: [...new Set([a, b])].map((trace) => traces[trace]!.id),
		at: [x, y],
	});
	const crossings = distinctCrossings(spots).map(
		(spot): AuditFinding => ({
			rule: "crossing",
			message: `${crossing(spot)} at ${placeText(spot.x, spot.y)}.`,
			...placeOf(spot),
		}),
	);
	const tooNear = worstOfPlaces(spots).map((spot): AuditFinding => {
		const limit = limitAt(spot.x, spot.y);
		return {
			rule: "clearance",
			message: `${nearness(spot)} at ${placeText(spot.x, spot.y)}, at least ${limit.toFixed(1)} mm needed.`,
			...placeOf(spot),
			value: spot.distance,
			limit,
		};
	});
	return [...crossings, ...tooNear];
}

/** The pairs of segments i and j < i that might break a rule, as i times their number plus j, ascending. */
function suspectsAmong(
	segments: Segments,
	reach: number,
	sameBend: number,
	isFine: (i: number, j: number, distance2: number) => boolean,
): Float64Array {
	const { count, ax, ay, bx, by, from, length, turned, loop } = segments;
	/*
	 * Pipe that turns by T, less than half a turn, cannot cross itself, and the ends of s mm of it lie at least
	 * s cos(T / 2) apart. Up to this T, where it comes within reach of itself, that is on one bend.
	 */
	const openTurn = 1.99 * Math.acos(reach / (sameBend - segments.stretch));
	const isOpenBend = (first: number, last: number): boolean =>
		loop[first] === loop[last] && turned[last]! - turned[first]! < openTurn;
	const reach2 = reach * reach;
	const suspects: number[] = [];
	everyNearPair(segments, reach, isOpenBend, (i, j) => {
		if (isOpenBend(j, i)) return true;
		const isSameLoop = loop[i] === loop[j];
		const ux = bx[i]! - ax[i]!;
		const uy = by[i]! - ay[i]!;
		// joined pieces part for good unless the pipe folds back on itself
		if (isSameLoop && j === i - 1 && ux * (bx[j]! - ax[j]!) + uy * (by[j]! - ay[j]!) >= 0) return true;
		// on one bend nearness is no fault, crossing is
		const isSameBend = isSameLoop && from[i]! + length[i]! - from[j]! < sameBend;
		if (isSameBend && areBoxesApart(segments, i, j)) return true;
		const distance2 = segmentToSegment2(ax[i]!, ay[i]!, bx[i]!, by[i]!, ax[j]!, ay[j]!, bx[j]!, by[j]!);
		const isSuspect = isSameBend ? distance2 < TOUCH * TOUCH : distance2 < reach2 && !isFine(i, j, distance2);
		if (isSuspect) suspects.push(i * count + j);
		return true;
	});
	return Float64Array.from(suspects).sort();
}

/** Whether two segments lie round one manifold as a whole, and so what lies between them. */
function areAtManifold(manifolds: readonly Manifold[], { ax, ay, bx, by }: Segments, i: number, j: number): boolean {
	const reach2 = MANIFOLD_ZONE * MANIFOLD_ZONE;
	for (const { position } of manifolds) {
		const [x, y] = position;
		if ((ax[i]! - x) ** 2 + (ay[i]! - y) ** 2 > reach2 || (bx[i]! - x) ** 2 + (by[i]! - y) ** 2 > reach2) continue;
		if ((ax[j]! - x) ** 2 + (ay[j]! - y) ** 2 > reach2 || (bx[j]! - x) ** 2 + (by[j]! - y) ** 2 > reach2) continue;
		return true;
	}
	return false;
}

function areBoxesApart({ ax, ay, bx, by }: Segments, i: number, j: number): boolean {
	return (
		Math.min(ax[i]!, bx[i]!) > Math.max(ax[j]!, bx[j]!) ||
		Math.max(ax[i]!, bx[i]!) < Math.min(ax[j]!, bx[j]!) ||
		Math.min(ay[i]!, by[i]!) > Math.max(ay[j]!, by[j]!) ||
		Math.max(ay[i]!, by[i]!) < Math.min(ay[j]!, by[j]!)
	);
}

/**
 * Cuts segments i and j into equal stretches of at most 40 mm and calls `report` for those nearer than `reach`,
 * with the nearest approach and the pipe between their middles (infinite on different loops).
 */
function forEachClosePair(
	segments: Segments,
	i: number,
	j: number,
	reach: number,
	report: (distance: number, x: number, y: number, pipeBetween: number) => void,
): void {
	const { ax, ay, bx, by, from, length, loop } = segments;
	const countI = stretchCount(segments, i);
	const countJ = stretchCount(segments, j);
	const isSameLoop = loop[i] === loop[j];
	const [firstI, lastI] = stretchesBeside(segments, i, countI, ax[j]!, ay[j]!, bx[j]!, by[j]!, reach);
	for (let a = firstI; a <= lastI; a++) {
		const cx = ax[i]! + ((bx[i]! - ax[i]!) * a) / countI;
		const cy = ay[i]! + ((by[i]! - ay[i]!) * a) / countI;
		const dx = ax[i]! + ((bx[i]! - ax[i]!) * (a + 1)) / countI;
		const dy = ay[i]! + ((by[i]! - ay[i]!) * (a + 1)) / countI;
		const middle = from[i]! + (length[i]! * (a + 0.5)) / countI;
		const [firstJ, lastJ] = stretchesBeside(segments, j, countJ, cx, cy, dx, dy, reach);
		for (let b = firstJ; b <= lastJ; b++) {
			if (isSameLoop && j === i - 1 && a === 0 && b === countJ - 1) continue;
			const ex = ax[j]! + ((bx[j]! - ax[j]!) * b) / countJ;
			const ey = ay[j]! + ((by[j]! - ay[j]!) * b) / countJ;
			const fx = ax[j]! + ((bx[j]! - ax[j]!) * (b + 1)) / countJ;
			const fy = ay[j]! + ((by[j]! - ay[j]!) * (b + 1)) / countJ;
			const { distance, x, y } = approachOf(cx, cy, dx, dy, ex, ey, fx, fy);
			if (distance >= reach) continue;
			const pipeBetween = middle - from[j]! - (length[j]! * (b + 0.5)) / countJ;
			report(distance, x, y, isSameLoop ? pipeBetween : Infinity);
		}
	}
}

/** First and last stretch of segment i that may come within `reach` of the segment c-d, by projection. */
function stretchesBeside(
	{ ax, ay, bx, by, length }: Segments,
	i: number,
	count: number,
	cx: number,
	cy: number,
	dx: number,
	dy: number,
	reach: number,
): [first: number, last: number] {
	const ux = (bx[i]! - ax[i]!) / length[i]!;
	const uy = (by[i]! - ay[i]!) / length[i]!;
	const c = (cx - ax[i]!) * ux + (cy - ay[i]!) * uy;
	const d = (dx - ax[i]!) * ux + (dy - ay[i]!) * uy;
	const step = length[i]! / count;
	return [
		Math.max(0, Math.floor((Math.min(c, d) - reach) / step)),
		Math.min(count - 1, Math.floor((Math.max(c, d) + reach) / step)),
	];
}

function distinctCrossings(spots: readonly Spot[]): Spot[] {
	const distinct: Spot[] = [];
	for (const spot of spots) {
		if (spot.distance >= TOUCH) continue;
		const isKnown = distinct.some(
			({ a, b, x, y }) =>
				a === spot.a && b === spot.b && Math.abs(x - spot.x) <= SAME_CROSSING && Math.abs(y - spot.y) <= SAME_CROSSING,
		);
		if (!isKnown) distinct.push(spot);
	}
	return distinct;
}

/** The nearest spot of every place where two loops are too close without crossing there. */
function worstOfPlaces(spots: readonly Spot[]): Spot[] {
	const cells = new Map<string, Spot[]>();
	const keyOf = (a: number, b: number, column: number, row: number): string => `${a} ${b} ${column} ${row}`;
	for (const spot of spots) {
		const key = keyOf(spot.a, spot.b, Math.floor(spot.x / PLACE), Math.floor(spot.y / PLACE));
		const cell = cells.get(key);
		if (cell) cell.push(spot);
		else cells.set(key, [spot]);
	}
	const worst: Spot[] = [];
	for (const [key, start] of cells) {
		cells.delete(key);
		const queue = [start];
		let nearest = start[0]!;
		for (let cell = queue.pop(); cell; cell = queue.pop()) {
			for (const spot of cell) if (spot.distance < nearest.distance) nearest = spot;
			const { a, b, x, y } = cell[0]!;
			for (let side = 0; side < 9; side++) {
				const column = Math.floor(x / PLACE) + (side % 3) - 1;
				const row = Math.floor(y / PLACE) + Math.floor(side / 3) - 1;
				const beside = keyOf(a, b, column, row);
				const cellBeside = cells.get(beside);
				if (!cellBeside) continue;
				cells.delete(beside);
				queue.push(cellBeside);
			}
		}
		if (nearest.distance >= TOUCH) worst.push(nearest);
	}
	return worst;
}
