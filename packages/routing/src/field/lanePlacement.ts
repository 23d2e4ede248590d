import { type Ledge, type Scan, widthAt } from "./scan.ts";

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
const WIDEST = 1.35;

export interface LanePlacementOptions {
	/** Centre to centre, mm. */
	readonly spacing: number;
	/** No two neighbouring runs come nearer than this, mm. */
	readonly minGap: number;
	/** The outermost runs keep this far from the lowest and the highest point, mm. */
	readonly margin: number;
}

function gapCost(gap: number, spacing: number, width: number): number {
	const over = gap - 2 * COVERED * spacing;
	const uncovered = over > 0 ? over + (over * over) / (0.2 * spacing) : 0;
	const close = gap < spacing ? (spacing - gap) * CLOSE_WEIGHT : (gap - spacing) * STRETCH_WEIGHT;
	return width * (uncovered + close + (gap - spacing) ** 2 / (20 * spacing));
}

function edgeCost(beyond: number, spacing: number, width: number): number {
	const uncovered = beyond - (COVERED - 0.5) * spacing;
	return uncovered > 0 ? width * (uncovered + (uncovered * uncovered) / (0.5 * spacing)) : 0;
}

/** Heights of the runs, ascending and even in number; empty when not even one lane fits. */
export function placeLanes(scan: Scan, options: LanePlacementOptions): number[] {
	const { spacing, minGap } = options;
	const bottom = scan.minY + options.margin;
	const top = scan.maxY - options.margin;
	if (top - bottom < minGap) return [];
	const step = spacing / RESOLUTION;
	const slots = new Set<number>([bottom, top]);
	for (const ledge of scan.ledges) if (ledge.y > bottom && ledge.y < top) slots.add(ledge.y);
	// Even divisions of the whole height into an odd number of gaps: in narrow floors nothing else may fit.
	const odd = 2 * Math.floor((top - bottom) / spacing / 2) + 1;
	for (const count of [odd - 2, odd, odd + 2])
		for (let k = 1; k < count; k++) slots.add(bottom + ((top - bottom) * k) / count);
	const fixed = [...slots].sort((a, b) => a - b);
	let next = 0;
	for (let k = 1; k * step < top - bottom; k++) {
		const y = bottom + k * step;
		while (next < fixed.length && fixed[next]! < y - step / 3) next++;
		if (next === fixed.length || fixed[next]! > y + step / 3) slots.add(y);
	}
	const ys = [...slots].sort((a, b) => a - b);
	const widths = ys.map((y) => widthAt(scan, Math.min(Math.max(y, scan.minY + 1), scan.maxY - 1)));
	const low = Math.max(LOWEST * spacing, minGap);
	const high = Math.max(WIDEST * spacing, low * 1.1);
	const bottomLedges = scan.ledges.filter((ledge) => ledge.floorAbove);
	const topLedges = scan.ledges.filter((ledge) => !ledge.floorAbove);
	const ledgeCost = (from: number, to: number, lane: boolean): number => {
		let cost = 0;
		for (const { y, length } of bottomLedges) {
			if (y <= from + 0.5 || y > to + 0.5) continue;
			cost += edgeCost(lane ? to - y + spacing : to - y, spacing, length);
		}
		for (const { y, length } of topLedges) {
			if (y < from - 0.5 || y >= to - 0.5) continue;
			cost += edgeCost(lane ? y - from + spacing : y - from, spacing, length);
		}
		return cost;
	};
	const n = ys.length;
	// How many ledges lie below each height: between most heights there is none.
	const ledgesBelow = (ledges: readonly Ledge[], above: number): Int32Array =>
		Int32Array.from(ys, (y) => ledges.reduce((count, ledge) => count + (ledge.y <= y + above ? 1 : 0), 0));
	const bottomsBelow = ledgesBelow(bottomLedges, 0.5);
	const topsBelow = ledgesBelow(topLedges, -0.5);
	const best = [new Float64Array(n).fill(Infinity), new Float64Array(n).fill(Infinity)] as const;
	const from = [new Int32Array(n).fill(-1), new Int32Array(n).fill(-1)] as const;
	let answer = Infinity;
	let last = -1;
	const areaBelow = new Float64Array(n);
	for (let i = 1; i < n; i++)
		areaBelow[i] = areaBelow[i - 1]! + ((widths[i - 1]! + widths[i]!) / 2) * (ys[i]! - ys[i - 1]!);
	const total = areaBelow[n - 1]!;
	const outside = (area: number, depth: number): number => (depth <= 0.5 ? 0 : edgeCost(depth, spacing, area / depth));
	/** The highest height that is at least `low` beneath the one looked at. */
	let below = -1;
	for (let i = 0; i < n; i++) {
		const start = outside(areaBelow[i]!, ys[i]! - bottom);
		if (ys[i]! - bottom <= 1.5 * spacing) best[0][i] = start;
		while (below + 1 < i && ys[i]! - ys[below + 1]! >= low - 1e-6) below++;
		for (let j = below; j >= 0; j--) {
			const gap = ys[i]! - ys[j]!;
			if (gap > high) break;
			if (best[0][j] === Infinity && best[1][j] === Infinity) continue;
			const between = gapCost(gap, spacing, Math.max((areaBelow[i]! - areaBelow[j]!) / gap, 1));
			const hasLedge = bottomsBelow[i] !== bottomsBelow[j] || topsBelow[i] !== topsBelow[j];
			for (let parity = 0 as 0 | 1; ; parity = 1) {
				const before = best[parity === 0 ? 1 : 0][j]!;
				const cost = before + between + (hasLedge && before < Infinity ? ledgeCost(ys[j]!, ys[i]!, parity === 1) : 0);
				if (cost < best[parity][i]! - 1e-9) {
					best[parity][i] = cost;
					from[parity][i] = j;
				}
				if (parity === 1) break;
			}
		}
		const end = best[1][i]! + outside(total - areaBelow[i]!, top - ys[i]!);
		if (end < answer) {
			answer = end;
			last = i;
		}
	}
	const lines: number[] = [];
	let parity: 0 | 1 = 1;
	for (let i = last; i >= 0; ) {
		lines.push(ys[i]!);
		i = from[parity][i]!;
		parity = parity === 1 ? 0 : 1;
	}
	return lines.reverse();
}
