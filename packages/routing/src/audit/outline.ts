import type { Region } from "@oxturn/geometry";
import { pointToSegment2, segmentToSegment2 } from "./segments.ts";

/** A region prepared for many questions: its edges, hole edges among them, in flat arrays, mm. */
export interface Outline {
	readonly ax: Float64Array;
	readonly ay: Float64Array;
	readonly bx: Float64Array;
	readonly by: Float64Array;
	readonly minX: number;
	readonly minY: number;
	readonly maxX: number;
	readonly maxY: number;
	/** Holes off, mm2. */
	readonly area: number;
}

/** Lays the edges of a region side by side. */
export function outlineOf(region: Region): Outline {
	const rings = [region.outer, ...region.holes];
	const count = rings.reduce((sum, ring) => sum + ring.length, 0);
	const ax = new Float64Array(count);
	const ay = new Float64Array(count);
	const bx = new Float64Array(count);
	const by = new Float64Array(count);
	let k = 0;
	let area = 0;
	rings.forEach((ring, index) => {
		const first = ring[0];
		let doubled = 0;
		for (let i = 0; i < ring.length; i++, k++) {
			const [x, y] = ring[i]!;
			const [nextX, nextY] = ring[(i + 1) % ring.length]!;
			ax[k] = x;
			ay[k] = y;
			bx[k] = nextX;
			by[k] = nextY;
			if (first) doubled += (x - first[0]) * (nextY - first[1]) - (nextX - first[0]) * (y - first[1]);
		}
		area += (index === 0 ? 1 : -1) * Math.abs(doubled / 2);
	});
	let minX = Infinity;
	let minY = Infinity;
	let maxX = -Infinity;
	let maxY = -Infinity;
	for (let i = 0; i < count; i++) {
		minX = Math.min(minX, ax[i]!);
		minY = Math.min(minY, ay[i]!);
		maxX = Math.max(maxX, ax[i]!);
		maxY = Math.max(maxY, ay[i]!);
	}
	return { ax, ay, bx, by, minX, minY, maxX, maxY, area };
}

/** Whether a point lies in the outline's box grown by `margin` mm. */
export function isInBox(outline: Outline, x: number, y: number, margin: number): boolean {
	return (
		x >= outline.minX - margin && x <= outline.maxX + margin && y >= outline.minY - margin && y <= outline.maxY + margin
	);
}

/** Whether a point lies in the outline and in none of its holes: it is circled an odd number of times. */
export function contains(outline: Outline, x: number, y: number): boolean {
	if (!isInBox(outline, x, y, 0)) return false;
	const { ax, ay, bx, by } = outline;
	let inside = false;
	for (let i = 0; i < ax.length; i++) {
		const ey = ay[i]!;
		const fy = by[i]!;
		if (ey > y === fy > y) continue;
		const ex = ax[i]!;
		// the edge passes to the right of the point when the point is on its left going up, on its right going down
		const side = (bx[i]! - ex) * (y - ey) - (fy - ey) * (x - ex);
		if (side > 0 === fy > ey) inside = !inside;
	}
	return inside;
}

/** Distance of a point from the nearest edge, mm; infinite for an outline without edges. */
export function edgeDistance(outline: Outline, x: number, y: number): number {
	const { ax, ay, bx, by } = outline;
	let nearest = Infinity;
	for (let i = 0; i < ax.length; i++) {
		const distance2 = pointToSegment2(x, y, ax[i]!, ay[i]!, bx[i]!, by[i]!);
		if (distance2 < nearest) nearest = distance2;
	}
	return Math.sqrt(nearest);
}

/** Whether a point lies in the outline or at most `slack` mm outside it. */
export function isWithin(outline: Outline, x: number, y: number, slack: number): boolean {
	if (!isInBox(outline, x, y, slack)) return false;
	return contains(outline, x, y) || edgeDistance(outline, x, y) <= slack;
}

/** Whether edge i may come into a box: one that slants past a corner of it is taken to. */
function mayComeIn(
	{ ax, ay, bx, by }: Outline,
	i: number,
	left: number,
	right: number,
	bottom: number,
	top: number,
): boolean {
	const cx = ax[i]!;
	const dx = bx[i]!;
	if ((cx > right && dx > right) || (cx < left && dx < left)) return false;
	const cy = ay[i]!;
	const dy = by[i]!;
	return !((cy > top && dy > top) || (cy < bottom && dy < bottom));
}

/** Whether some edge may come into a box. */
export function hasEdgeIn(outline: Outline, left: number, right: number, bottom: number, top: number): boolean {
	for (let i = 0; i < outline.ax.length; i++) if (mayComeIn(outline, i, left, right, bottom, top)) return true;
	return false;
}

/** Whether the segment a-b stays farther than `margin` mm from every edge: all of it is inside, or all of it outside. */
export function isClear(outline: Outline, ax: number, ay: number, bx: number, by: number, margin: number): boolean {
	const left = Math.min(ax, bx) - margin;
	const right = Math.max(ax, bx) + margin;
	const bottom = Math.min(ay, by) - margin;
	const top = Math.max(ay, by) + margin;
	if (outline.minX > right || outline.maxX < left || outline.minY > top || outline.maxY < bottom) return true;
	const { ax: ex, ay: ey, bx: fx, by: fy } = outline;
	for (let i = 0; i < ex.length; i++)
		if (
			mayComeIn(outline, i, left, right, bottom, top) &&
			segmentToSegment2(ax, ay, bx, by, ex[i]!, ey[i]!, fx[i]!, fy[i]!) <= margin * margin
		)
			return false;
	return true;
}
