import { type Region, ringsOf } from "@oxturn/geometry";

/** A stretch of a horizontal line that lies inside a region, mm. */
export interface Interval {
	readonly from: number;
	readonly to: number;
}

/** A region prepared for horizontal section lines. */
export interface Scan {
	readonly minY: number;
	readonly maxY: number;
	/** Heights of the vertices, ascending. */
	readonly vertexHeights: readonly number[];
	/** Sides that lie along the lines: height, length, and whether the floor lies above. */
	readonly ledges: readonly Ledge[];
	readonly edges: Float64Array;
	/** Room for the places where one line crosses the edges. */
	readonly crossings: Float64Array;
}

export interface Ledge {
	readonly y: number;
	readonly length: number;
	readonly floorAbove: boolean;
}

/** A side counts as lying along the lines when it rises by less than this over its length (about 3 degrees). */
const LEVEL_SLOPE = 0.05;

/** Prepares regions (all seen as one floor) for section lines along x. */
export function scanOf(regions: readonly Region[]): Scan {
	const edges: number[] = [];
	const heights = new Set<number>();
	const ledges: Ledge[] = [];
	let minY = Infinity;
	let maxY = -Infinity;
	for (const region of regions)
		for (const ring of ringsOf(region))
			for (let i = 0; i < ring.length; i++) {
				const a = ring[i]!;
				const b = ring[(i + 1) % ring.length]!;
				edges.push(a[0], a[1], b[0], b[1]);
				heights.add(a[1]);
				minY = Math.min(minY, a[1]);
				maxY = Math.max(maxY, a[1]);
				const run = b[0] - a[0];
				if (Math.abs(b[1] - a[1]) <= LEVEL_SLOPE * Math.abs(run))
					ledges.push({ y: (a[1] + b[1]) / 2, length: Math.abs(run), floorAbove: run > 0 });
			}
	return {
		minY,
		maxY,
		vertexHeights: [...heights].sort((a, b) => a - b),
		ledges,
		edges: new Float64Array(edges),
		crossings: new Float64Array(edges.length / 4),
	};
}

/** Puts where the line at height `y` crosses the rim into the scan's crossings, from left to right; returns their number. */
function crossAt({ edges, crossings }: Scan, y: number): number {
	let count = 0;
	for (let i = 0; i < edges.length; i += 4) {
		const ay = edges[i + 1]!;
		const by = edges[i + 3]!;
		if (ay > y === by > y) continue;
		const x = edges[i]! + ((y - ay) * (edges[i + 2]! - edges[i]!)) / (by - ay);
		let k = count++;
		for (; k > 0 && crossings[k - 1]! > x; k--) crossings[k] = crossings[k - 1]!;
		crossings[k] = x;
	}
	return count;
}

/** Where the line at height `y` runs inside, from left to right. */
export function intervalsAt(scan: Scan, y: number): Interval[] {
	const count = crossAt(scan, y);
	const intervals: Interval[] = [];
	for (let i = 0; i + 1 < count; i += 2) intervals.push({ from: scan.crossings[i]!, to: scan.crossings[i + 1]! });
	return intervals;
}

/** Total length of the section at height `y`, mm. */
function widthAt(scan: Scan, y: number): number {
	const count = crossAt(scan, y);
	let width = 0;
	for (let i = 0; i + 1 < count; i += 2) width += scan.crossings[i + 1]! - scan.crossings[i]!;
	return width;
}

/**
 * The same at each of some heights, ascending, none lower than `low` nor higher than `high`: between two vertices widths
 * grow evenly, so few sections tell them all.
 */
export function widthsAt(scan: Scan, ys: Float64Array, low: number, high: number): Float64Array {
	const widthNear = (y: number): number => widthAt(scan, Math.min(Math.max(y, low), high));
	const widths = new Float64Array(ys.length);
	const { vertexHeights } = scan;
	let next = 0;
	for (let first = 0, last = 0; first < ys.length; first = last + 1) {
		while (next < vertexHeights.length && vertexHeights[next]! <= ys[first]!) next++;
		const end = vertexHeights[next] ?? Infinity;
		last = first;
		while (last + 1 < ys.length && ys[last + 1]! < end) last++;
		widths[first] = widthNear(ys[first]!);
		if (last === first) continue;
		widths[last] = widthNear(ys[last]!);
		const growth = (widths[last]! - widths[first]!) / Math.max(ys[last]! - ys[first]!, Number.EPSILON);
		for (let i = first + 1; i < last; i++) widths[i] = widths[first]! + growth * (ys[i]! - ys[first]!);
	}
	return widths;
}
