import {
	betweenLines,
	intersect,
	largestFirst,
	offset,
	type Region,
	type Ring,
	regionArea,
	ringsOf,
	rotate,
	signedArea,
	union,
} from "@oxturn/geometry";
import { sum } from "../sum.ts";

/** Area of a ring below the line y, mm2, for rings of either sense. */
function ringAreaBelow(ring: Ring, y: number): number {
	const last = ring.at(-1);
	if (!last) return 0;
	let twice = 0;
	let ax = last[0];
	let ay = last[1] - y;
	for (const p of ring) {
		const bx = p[0];
		const by = p[1] - y;
		if (ay <= 0 && by <= 0) twice += ax * by - bx * ay;
		else if (ay <= 0 !== by <= 0) {
			// From the line to a corner, or from a corner to the line: sides along the line add nothing.
			const x = ax - (ay * (bx - ax)) / (by - ay);
			twice += by <= 0 ? x * by : -x * ay;
		}
		ax = bx;
		ay = by;
	}
	return twice / 2;
}

const turnRing = (ring: Ring, cos: number, sin: number): Ring => ring.map((p) => rotate(p, cos, sin));

/** Area of a region's rings below the line y, mm2. */
export const areaBelow = (rings: readonly Ring[], y: number): number =>
	sum(rings.map((ring) => ringAreaBelow(ring, y)));

/** The height below which a share of the area of some regions' rings lies; 0 where there are none. */
export function heightOfShare(rings: readonly Ring[], share: number): number {
	const wanted = share * sum(rings.map(signedArea));
	const heights = Float64Array.from(rings.flatMap((ring) => ring.map(([, y]) => y))).sort();
	if (heights.length === 0) return 0;
	let low = 0;
	let high = heights.length - 1;
	while (high - low > 1) {
		const middle = (low + high) >> 1;
		if (areaBelow(rings, heights[middle]!) < wanted) low = middle;
		else high = middle;
	}
	const bottom = heights[low]!;
	const rise = heights[high]! - bottom;
	if (rise === 0) return bottom;
	// Between two corners the width changes evenly: up to a share t of the rise, growth t + bend t2 is added.
	const below = areaBelow(rings, bottom);
	const half = areaBelow(rings, bottom + rise / 2) - below;
	const whole = areaBelow(rings, bottom + rise) - below;
	const growth = 4 * half - whole;
	const bend = whole - growth;
	const added = Math.max(0, wanted - below);
	const divisor = growth + Math.sqrt(Math.max(0, growth * growth + 4 * bend * added));
	return divisor > 0 ? bottom + rise * Math.min(1, (2 * added) / divisor) : bottom;
}

/** Heights, in the frame turned by -direction, below which the given shares of the region lie. */
function heightsAtShares(region: Region, direction: number, shares: readonly number[]): number[] {
	const rings = ringsOf(region).map((ring) => turnRing(ring, Math.cos(-direction), Math.sin(-direction)));
	return shares.map((share) => heightOfShare(rings, share));
}

/** The parts of a region to the left of a line along a direction, at a height in the frame turned by -direction. */
export const beyond = (region: Region, direction: number, height: number): Region[] =>
	betweenLines(region, { direction, from: height, to: Infinity });

/** Pieces that a cut leaves over go to the neighbour with which they share the longest border. */
export function adoptScraps(cells: Region[][]): Region[] | undefined {
	const main: Region[] = [];
	const scraps: Region[] = [];
	for (const pieces of cells) {
		const [largest, ...others] = largestFirst(pieces);
		if (!largest) return undefined;
		main.push(largest);
		scraps.push(...others);
	}
	for (const scrap of largestFirst(scraps)) {
		const near = offset([scrap], 2);
		const borders = main.map((cell) => sum(intersect(near, [cell]).map(regionArea)));
		const home = borders.indexOf(Math.max(...borders));
		const joined = union([offset([main[home]!], 0.05), offset([scrap], 0.05)].flat());
		if (joined.length !== 1) return undefined;
		main[home] = joined[0]!;
	}
	return main;
}

/** Cuts a region by parallel lines into parts with the given shares of its area, in order across the lines. */
export function cutIntoBands(region: Region, direction: number, shares: readonly number[]): Region[] | undefined {
	const below = shares.slice(0, -1).map((_, i) => sum(shares.slice(0, i + 1)));
	const heights = heightsAtShares(region, direction, below);
	const bounds = [-Infinity, ...heights, Infinity];
	return adoptScraps(shares.map((_, i) => betweenLines(region, { direction, from: bounds[i]!, to: bounds[i + 1]! })));
}
