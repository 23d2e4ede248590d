import { type Ledge, type Scan, widthsAt } from "./scan.ts";

/*
 * Where the runs lie. The runs come in pairs: lines 0-1, 2-3, ... bound the lanes of the tree, the strips between
 * them are the gaps. A small dynamic programme over heights finds the even number of lines with the least floor
 * left farther from a run than it should be. Cost is in mm2 of floor, weighted.
 */

/** Floor farther than this from a run, as a share of the spacing, counts as uncovered. */
const COVERED = 0.55;
/** Weight of pipe laid closer than wanted, against floor left uncovered. */
const CLOSE_WEIGHT = 0.12;
const STRETCH_WEIGHT = 0.06;
/** Heights tried per spacing. */
const RESOLUTION = 16;
const LOWEST = 0.8;
/** The same on floors for four runs or two, where two leave much of it cold between them. */
const NARROWEST = 0.65;
const WIDEST = 1.35;

export interface LanePlacementOptions {
	/** Centre to centre, mm. */
	readonly spacing: number;
	/** No two neighbouring runs come nearer than this, mm. */
	readonly minGap: number;
	/** The outermost runs keep this far from the lowest and the highest point, mm. */
	readonly margin: number;
}

/**
 * What a gap between two runs costs per mm of its width. It is asked for at every pair of heights, and products are sooner
 * had than quotients: `perOver` is one by 0.2 spacings, in which floor out of reach counts double, and `perOff` is one by
 * 20 spacings.
 */
function gapCost(gap: number, spacing: number, perOver: number, perOff: number): number {
	const off = gap - spacing;
	const over = gap - 2 * COVERED * spacing;
	const uncovered = over > 0 ? over + over * over * perOver : 0;
	return uncovered + (off < 0 ? -off * CLOSE_WEIGHT : off * STRETCH_WEIGHT) + off * off * perOff;
}

function edgeCost(beyond: number, spacing: number, width: number): number {
	const uncovered = beyond - (COVERED - 0.5) * spacing;
	return uncovered > 0 ? width * (uncovered + (uncovered * uncovered) / (0.5 * spacing)) : 0;
}

/** Heights that a run may lie at, ascending: those that the floor suggests, and even steps between them. */
function heightsOf(scan: Scan, bottom: number, top: number, spacing: number): Float64Array {
	const suggested = [bottom, top];
	for (const ledge of scan.ledges) if (ledge.y > bottom && ledge.y < top) suggested.push(ledge.y);
	// Even divisions of the whole height into an odd number of gaps: in narrow floors nothing else may fit.
	const odd = 2 * Math.floor((top - bottom) / spacing / 2) + 1;
	for (const count of [odd - 2, odd, odd + 2])
		for (let k = 1; k < count; k++) suggested.push(bottom + ((top - bottom) * k) / count);
	const fixed = new Float64Array(suggested).sort();
	const step = spacing / RESOLUTION;
	const ys = new Float64Array(fixed.length + Math.max(0, Math.ceil((top - bottom) / step)));
	let count = 0;
	let next = 0;
	const take = (y: number): void => {
		if (count === 0 || ys[count - 1] !== y) ys[count++] = y;
	};
	for (let k = 1; k * step < top - bottom; k++) {
		const y = bottom + k * step;
		while (next < fixed.length && fixed[next]! < y - step / 3) take(fixed[next++]!);
		// Those within reach of the step are taken in its place.
		if (next === fixed.length || fixed[next]! > y + step / 3) take(y);
	}
	while (next < fixed.length) take(fixed[next++]!);
	return ys.subarray(0, count);
}

/** So near beneath a run, a ledge with the floor above it counts as above the run, and the other way round, mm. */
const AT_RUN = 0.5;

/** How many ledges lie below each of some heights. */
function ledgesUnder(ledges: readonly Ledge[], ys: Float64Array): Int32Array {
	const sorted = ledges.map(({ y, floorAbove }) => (floorAbove ? y - AT_RUN : y + AT_RUN)).sort((a, b) => a - b);
	const counts = new Int32Array(ys.length);
	let count = 0;
	for (let i = 0; i < ys.length; i++) {
		while (count < sorted.length && sorted[count]! <= ys[i]!) count++;
		counts[i] = count;
	}
	return counts;
}

/** A floor cut by lines at the heights that a run may lie at. */
interface Sections {
	readonly ys: Float64Array;
	readonly bottom: number;
	readonly top: number;
	readonly spacing: number;
	/** Floor below each height, from the lowest on, mm2. */
	readonly areaBelow: Float64Array;
	/** Ledges with the floor above them, and beneath them. */
	readonly bottomLedges: readonly Ledge[];
	readonly topLedges: readonly Ledge[];
	/** How many of both lie below each height. */
	readonly ledgesBelow: Int32Array;
}

function sectionsOf(scan: Scan, bottom: number, top: number, spacing: number): Sections {
	const ys = heightsOf(scan, bottom, top, spacing);
	const bottomLedges = scan.ledges.filter((ledge) => ledge.floorAbove);
	const topLedges = scan.ledges.filter((ledge) => !ledge.floorAbove);
	// Off the lowest and the highest point.
	const areaBelow = widthsAt(scan, ys, scan.minY + 1, scan.maxY - 1);
	let area = 0;
	let before = areaBelow[0]!;
	for (let i = 0; i < ys.length; i++) {
		const width = areaBelow[i]!;
		if (i > 0) area += ((before + width) / 2) * (ys[i]! - ys[i - 1]!);
		before = width;
		areaBelow[i] = area;
	}
	return {
		ys,
		bottom,
		top,
		spacing,
		areaBelow,
		bottomLedges,
		topLedges,
		ledgesBelow: ledgesUnder(scan.ledges, ys),
	};
}

/** What ledges between two runs cost, with a lane or a gap between them. */
function ledgeCost({ bottomLedges, topLedges, spacing }: Sections, from: number, to: number, isLane: boolean): number {
	const extra = isLane ? spacing : 0;
	let cost = 0;
	for (const { y, length } of bottomLedges)
		if (y > from + AT_RUN && y <= to + AT_RUN) cost += edgeCost(to - y + extra, spacing, length);
	for (const { y, length } of topLedges)
		if (y >= from - AT_RUN && y < to - AT_RUN) cost += edgeCost(y - from + extra, spacing, length);
	return cost;
}

/** Floor beyond an outermost run, `depth` mm deep. */
const outside = (area: number, depth: number, spacing: number): number =>
	depth <= 0.5 ? 0 : edgeCost(depth, spacing, area / depth);

/** The cheapest ways up to a run at each height, as the runs before it tell, and the last run of the cheapest of all. */
interface CheapestLines {
	/** The run before, where what lies above a run is a gap, or a lane; -1 where it is the first. */
	readonly gapFrom: Int32Array;
	readonly laneFrom: Int32Array;
	/** -1 where no lines will do. */
	readonly last: number;
}

/** Goes up from height to height; gaps and lanes are from `low` to `high` mm. */
function cheapestLines(sections: Sections, low: number, high: number): CheapestLines {
	const { ys, bottom, top, spacing, areaBelow, ledgesBelow } = sections;
	const n = ys.length;
	const perOver = 1 / (0.2 * spacing);
	const perOff = 1 / (20 * spacing);
	/** Least cost up to a run at each height, with a gap above it or a lane. */
	const belowGap = new Float64Array(n);
	const belowLane = new Float64Array(n);
	const gapFrom = new Int32Array(n);
	const laneFrom = new Int32Array(n);
	let answer = Infinity;
	let last = -1;
	/** The highest height that is at least `low` beneath the one looked at. */
	let below = -1;
	for (let i = 0; i < n; i++) {
		const y = ys[i]!;
		const area = areaBelow[i]!;
		const ledges = ledgesBelow[i]!;
		let laneNext = y - bottom <= 1.5 * spacing ? outside(area, y - bottom, spacing) : Infinity;
		let gapNext = Infinity;
		let laneBefore = -1;
		let gapBefore = -1;
		while (below + 1 < i && y - ys[below + 1]! >= low - 1e-6) below++;
		for (let j = below; j >= 0; j--) {
			const gap = y - ys[j]!;
			if (gap > high) break;
			const afterLane = belowGap[j]!;
			const afterGap = belowLane[j]!;
			// What lies between costs nothing at least.
			if (afterLane >= laneNext && afterGap >= gapNext) continue;
			const between = Math.max((area - areaBelow[j]!) / gap, 1) * gapCost(gap, spacing, perOver, perOff);
			let asGap = afterLane + between;
			let asLane = afterGap + between;
			// Between most heights there is no ledge.
			if (ledges !== ledgesBelow[j]) {
				if (afterLane < Infinity) asGap += ledgeCost(sections, ys[j]!, y, false);
				if (afterGap < Infinity) asLane += ledgeCost(sections, ys[j]!, y, true);
			}
			if (asGap < laneNext - 1e-9) {
				laneNext = asGap;
				laneBefore = j;
			}
			if (asLane < gapNext - 1e-9) {
				gapNext = asLane;
				gapBefore = j;
			}
		}
		belowLane[i] = laneNext;
		belowGap[i] = gapNext;
		laneFrom[i] = laneBefore;
		gapFrom[i] = gapBefore;
		const end = gapNext + outside(areaBelow[n - 1]! - area, top - y, spacing);
		if (end < answer) {
			answer = end;
			last = i;
		}
	}
	return { gapFrom, laneFrom, last };
}

/** Heights of the runs, ascending and even in number; empty when not even one lane fits. */
export function placeLanes(scan: Scan, options: LanePlacementOptions): number[] {
	const { spacing, minGap } = options;
	const bottom = scan.minY + options.margin;
	const top = scan.maxY - options.margin;
	if (top - bottom < minGap) return [];
	const third = Math.max((top - bottom) / 3, NARROWEST * spacing);
	const low = Math.max(Math.min(LOWEST * spacing, third), minGap);
	const high = Math.max(WIDEST * spacing, low * 1.1);
	const sections = sectionsOf(scan, bottom, top, spacing);
	const { gapFrom, laneFrom, last } = cheapestLines(sections, low, high);
	const lines: number[] = [];
	let isLane = true;
	for (let i = last; i >= 0; isLane = !isLane) {
		lines.push(sections.ys[i]!);
		i = isLane ? gapFrom[i]! : laneFrom[i]!;
	}
	return lines.reverse();
}
