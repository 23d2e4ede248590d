import {
	boundingBox,
	intersect,
	largestFirst,
	offset,
	type Point,
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
	const kept: Point[] = [];
	for (let i = 0; i < ring.length; i++) {
		const a = ring[i]!;
		const b = ring[(i + 1) % ring.length]!;
		if (a[1] <= y) kept.push(a);
		if (a[1] <= y !== b[1] <= y) kept.push([a[0] + ((y - a[1]) * (b[0] - a[0])) / (b[1] - a[1]), y]);
	}
	return signedArea(kept);
}

const turnRing = (ring: Ring, cos: number, sin: number): Ring => ring.map((p) => rotate(p, cos, sin));

/** Area of a region's rings below the line y, mm2. */
export const areaBelow = (rings: readonly Ring[], y: number): number =>
	sum(rings.map((ring) => ringAreaBelow(ring, y)));

/** The height below which a share of the area of some regions' rings lies. */
export function heightOfShare(rings: readonly Ring[], share: number): number {
	const area = sum(rings.map(signedArea));
	const heights = rings.flatMap((ring) => ring.map(([, y]) => y));
	let [low, high] = [Math.min(...heights), Math.max(...heights)];
	for (let k = 0; k < 40; k++) {
		const y = (low + high) / 2;
		if (areaBelow(rings, y) < share * area) low = y;
		else high = y;
	}
	return (low + high) / 2;
}

/** Heights, in the frame turned by -direction, below which the given shares of the region lie. */
function heightsAtShares(region: Region, direction: number, shares: readonly number[]): number[] {
	const rings = ringsOf(region).map((ring) => turnRing(ring, Math.cos(-direction), Math.sin(-direction)));
	return shares.map((share) => heightOfShare(rings, share));
}

/** The part of a region between two parallel lines, heights in the frame turned by -direction. */
function band(region: Region, direction: number, from: number, to: number): Region[] {
	const [minX, minY, maxX, maxY] = boundingBox(region.outer);
	const far = 2 * (Math.abs(minX) + Math.abs(minY) + Math.abs(maxX) + Math.abs(maxY) + 1000);
	const low = Math.max(from, -far);
	const high = Math.min(to, far);
	const corners: Ring = [
		[-far, low],
		[far, low],
		[far, high],
		[-far, high],
	];
	return intersect([region], [{ outer: turnRing(corners, Math.cos(direction), Math.sin(direction)), holes: [] }]);
}

/** The parts of a region to the left of a line along a direction, at a height in the frame turned by -direction. */
export const beyond = (region: Region, direction: number, height: number): Region[] =>
	band(region, direction, height, Infinity);

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
	return adoptScraps(shares.map((_, i) => band(region, direction, bounds[i]!, bounds[i + 1]!)));
}
