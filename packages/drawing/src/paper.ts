import type { Point, Region, Ring } from "@oxturn/geometry";
import { paperNumber } from "./xml.ts";

/** An axis-parallel box, mm on paper: y grows downwards. */
export interface Box {
	readonly left: number;
	readonly top: number;
	readonly right: number;
	readonly bottom: number;
}

/** mm on paper */
export interface Size {
	readonly width: number;
	readonly height: number;
}

/** Takes floor coordinates (mm, y up) to paper (mm, y down). */
export interface View {
	/** Floor mm to one paper mm. */
	readonly scale: number;
	/** Where the floor's origin falls on paper. */
	readonly origin: Point;
}

export function toPaper(view: View, [x, y]: Point): Point {
	return [view.origin[0] + x / view.scale, view.origin[1] - y / view.scale];
}

export function regionToPaper(view: View, region: Region): Region {
	const ring = (points: Ring): Ring => points.map((p) => toPaper(view, p));
	return { outer: ring(region.outer), holes: region.holes.map(ring) };
}

export function boxAround(points: readonly Point[], margin = 0): Box {
	let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
	for (const [x, y] of points) {
		left = Math.min(left, x);
		right = Math.max(right, x);
		top = Math.min(top, y);
		bottom = Math.max(bottom, y);
	}
	return { left: left - margin, top: top - margin, right: right + margin, bottom: bottom + margin };
}

export function boxAt([x, y]: Point, width: number, height: number): Box {
	return { left: x - width / 2, top: y - height / 2, right: x + width / 2, bottom: y + height / 2 };
}

export function sizeOf({ left, right, top, bottom }: Box): Size {
	return { width: right - left, height: bottom - top };
}

export function middleOf({ left, top, right, bottom }: Box): Point {
	return [(left + right) / 2, (top + bottom) / 2];
}

export function middleBetween(a: Point, b: Point): Point {
	return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
}

/** Attributes of a rectangle as large as the box. */
export function rectOf(box: Box): Size & { readonly x: number; readonly y: number } {
	return { x: box.left, y: box.top, ...sizeOf(box) };
}

export function unionOfBoxes(boxes: readonly Box[]): Box {
	return boxAround(
		boxes.flatMap(({ left, top, right, bottom }): Point[] => [
			[left, top],
			[right, bottom],
		]),
	);
}

export function boxesOverlap(a: Box, b: Box): boolean {
	return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

/** Shoelace area of a ring, positive anticlockwise in a y-up frame. */
export function ringArea(ring: Ring): number {
	let twice = 0;
	for (let i = 0; i < ring.length; i++) {
		const [ax, ay] = ring[i]!;
		const [bx, by] = ring[(i + 1) % ring.length]!;
		twice += ax * by - bx * ay;
	}
	return twice / 2;
}

/** Floor area of a region, its holes off, in the square of its unit. */
export function regionArea(region: Region): number {
	return region.holes.reduce((sum, hole) => sum - Math.abs(ringArea(hole)), Math.abs(ringArea(region.outer)));
}

/** Centre of gravity of the outer ring; it may lie outside of a bent room. */
export function centroid(ring: Ring): Point {
	const area = ringArea(ring);
	let [x, y] = [0, 0];
	for (let i = 0; i < ring.length; i++) {
		const [ax, ay] = ring[i]!;
		const [bx, by] = ring[(i + 1) % ring.length]!;
		const cross = ax * by - bx * ay;
		x += (ax + bx) * cross;
		y += (ay + by) * cross;
	}
	return area === 0 ? ring[0]! : [x / (6 * area), y / (6 * area)];
}

function ringHolds(ring: Ring, [x, y]: Point): boolean {
	let inside = false;
	for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
		const [ax, ay] = ring[i]!;
		const [bx, by] = ring[j]!;
		if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
	}
	return inside;
}

/** Label placing only: a point on the very edge may count either way. */
export function regionHolds(region: Region, point: Point): boolean {
	return ringHolds(region.outer, point) && !region.holes.some((hole) => ringHolds(hole, point));
}

/** Whether any of the segment lies in the box (clipping after Liang and Barsky). */
export function segmentMeetsBox([ax, ay]: Point, [bx, by]: Point, box: Box): boolean {
	let [from, to] = [0, 1];
	const sides: readonly (readonly [number, number])[] = [
		[ax - bx, ax - box.left],
		[bx - ax, box.right - ax],
		[ay - by, ay - box.top],
		[by - ay, box.bottom - ay],
	];
	for (const [p, q] of sides) {
		if (p === 0) {
			if (q < 0) return false;
			continue;
		}
		if (p < 0) from = Math.max(from, q / p);
		else to = Math.min(to, q / p);
		if (from > to) return false;
	}
	return true;
}

function edgeMeetsBox(region: Region, box: Box): boolean {
	return [region.outer, ...region.holes].some((ring) =>
		ring.some((p, i) => segmentMeetsBox(p, ring[(i + 1) % ring.length]!, box)),
	);
}

export function boxInside(region: Region, box: Box): boolean {
	return regionHolds(region, middleOf(box)) && !edgeMeetsBox(region, box);
}

export function regionMeetsBox(region: Region, box: Box): boolean {
	return edgeMeetsBox(region, box) || regionHolds(region, middleOf(box));
}

export function distanceToSegment([px, py]: Point, [ax, ay]: Point, [bx, by]: Point): number {
	const [dx, dy] = [bx - ax, by - ay];
	const length = dx * dx + dy * dy;
	const t = length === 0 ? 0 : Math.min(1, Math.max(0, ((px - ax) * dx + (py - ay) * dy) / length));
	return Math.hypot(px - ax - t * dx, py - ay - t * dy);
}

/** Path data of an open polyline or, with `closed`, of a ring; points that round to the same place are written once. */
export function pathData(points: readonly Point[], closed = false): string {
	let data = "";
	let last = "";
	for (const [x, y] of points) {
		const place = `${paperNumber(x)} ${paperNumber(y)}`;
		if (place === last) continue;
		data += data === "" ? `M${place}` : `L${place}`;
		last = place;
	}
	return closed ? `${data}Z` : data;
}

export function regionData(region: Region): string {
	return [region.outer, ...region.holes].map((ring) => pathData(ring, true)).join("");
}
