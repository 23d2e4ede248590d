import { MOST_PIECES, STRETCH } from "./limits.ts";
import type { Trace } from "./trace.ts";

/** Every straight piece of every loop, in the loops' order, mm. */
export interface Segments {
	readonly count: number;
	readonly ax: Float64Array;
	readonly ay: Float64Array;
	readonly bx: Float64Array;
	readonly by: Float64Array;
	/** Pipe from the flow port to the piece's start. */
	readonly from: Float64Array;
	readonly length: Float64Array;
	/** Turning of either sense from the flow port to the piece's start, rad. */
	readonly turned: Float64Array;
	/** Index of the loop. */
	readonly loop: Int32Array;
	/** Longest stretch in which a piece is looked at more closely. */
	readonly stretch: number;
	/** The pieces of each loop and the box round them. */
	readonly loops: readonly LoopRange[];
}

/** Pieces `start` up to `end - 1`, and the box round them, mm. */
export interface LoopRange {
	readonly start: number;
	readonly end: number;
	readonly minX: number;
	readonly minY: number;
	readonly maxX: number;
	readonly maxY: number;
}

/** Lays the straight pieces of all traces side by side. */
export function segmentsOf(traces: readonly Trace[]): Segments {
	let count = 0;
	for (const trace of traces) count += trace.x.length - 1;
	const numbers = new Float64Array(7 * count);
	const part = (i: number): Float64Array => numbers.subarray(i * count, (i + 1) * count);
	const ax = part(0);
	const ay = part(1);
	const bx = part(2);
	const by = part(3);
	const from = part(4);
	const length = part(5);
	const turned = part(6);
	const loop = new Int32Array(count);
	let k = 0;
	const loops = traces.map(({ x, y, along, turn }, index): LoopRange => {
		const start = k;
		let minX = x[0]!;
		let minY = y[0]!;
		let maxX = minX;
		let maxY = minY;
		let turning = 0;
		for (let i = 1; i < x.length; i++, k++) {
			turning += Math.abs(turn[i - 1]!);
			ax[k] = x[i - 1]!;
			ay[k] = y[i - 1]!;
			bx[k] = x[i]!;
			by[k] = y[i]!;
			from[k] = along[i - 1]!;
			length[k] = along[i]! - along[i - 1]!;
			turned[k] = turning;
			loop[k] = index;
			minX = Math.min(minX, x[i]!);
			minY = Math.min(minY, y[i]!);
			maxX = Math.max(maxX, x[i]!);
			maxY = Math.max(maxY, y[i]!);
		}
		return { start, end: k, minX, minY, maxX, maxY };
	});
	const total = traces.reduce((sum, { length }) => sum + length, 0);
	const stretch = Math.max(STRETCH, total / MOST_PIECES);
	return { count, ax, ay, bx, by, from, length, turned, loop, stretch, loops };
}

/** Equal stretches that a segment is cut into. */
export const stretchCount = ({ length, stretch }: Segments, i: number): number =>
	Math.max(1, Math.ceil(length[i]! / stretch - 1e-9));

/** Squared distance of the point (px, py) from the segment a-b, mm2. */
export function pointToSegment2(px: number, py: number, ax: number, ay: number, bx: number, by: number): number {
	const ux = bx - ax;
	const uy = by - ay;
	const wx = px - ax;
	const wy = py - ay;
	const along = wx * ux + wy * uy;
	if (along <= 0) return wx * wx + wy * wy;
	const length2 = ux * ux + uy * uy;
	if (along >= length2) return (px - bx) ** 2 + (py - by) ** 2;
	const across = ux * wy - uy * wx;
	return (across * across) / length2;
}

/** Squared distance of the segments a-b and c-d, mm2; 0 where they cross. */
export function segmentToSegment2(
	ax: number,
	ay: number,
	bx: number,
	by: number,
	cx: number,
	cy: number,
	dx: number,
	dy: number,
): number {
	if (crossingOf(ax, ay, bx, by, cx, cy, dx, dy) >= 0) return 0;
	return Math.min(
		pointToSegment2(ax, ay, cx, cy, dx, dy),
		pointToSegment2(bx, by, cx, cy, dx, dy),
		pointToSegment2(cx, cy, ax, ay, bx, by),
		pointToSegment2(dx, dy, ax, ay, bx, by),
	);
}

/** How far along a-b (0 to 1) the segment c-d crosses it; -1 where it does not, or where they are parallel. */
export function crossingOf(
	ax: number,
	ay: number,
	bx: number,
	by: number,
	cx: number,
	cy: number,
	dx: number,
	dy: number,
): number {
	const ux = bx - ax;
	const uy = by - ay;
	const vx = dx - cx;
	const vy = dy - cy;
	const turn = ux * vy - uy * vx;
	if (turn === 0) return -1;
	const wx = cx - ax;
	const wy = cy - ay;
	const t = (wx * vy - wy * vx) / turn;
	if (!(t >= 0 && t <= 1)) return -1;
	const u = (wx * uy - wy * ux) / turn;
	return u >= 0 && u <= 1 ? t : -1;
}

/** Where two segments are nearest: their distance and the midpoint of the nearest approach, mm. */
export interface Approach {
	readonly distance: number;
	readonly x: number;
	readonly y: number;
}

/** The nearest approach of the segments a-b and c-d. */
export function approachOf(
	ax: number,
	ay: number,
	bx: number,
	by: number,
	cx: number,
	cy: number,
	dx: number,
	dy: number,
): Approach {
	const t = crossingOf(ax, ay, bx, by, cx, cy, dx, dy);
	if (t >= 0) return { distance: 0, x: ax + t * (bx - ax), y: ay + t * (by - ay) };
	let best: Approach = { distance: Infinity, x: ax, y: ay };
	const consider = (px: number, py: number, qx: number, qy: number, rx: number, ry: number): void => {
		const ux = rx - qx;
		const uy = ry - qy;
		const length2 = ux * ux + uy * uy;
		const share = length2 > 0 ? Math.min(1, Math.max(0, ((px - qx) * ux + (py - qy) * uy) / length2)) : 0;
		const fx = qx + share * ux;
		const fy = qy + share * uy;
		const distance = Math.sqrt((fx - px) ** 2 + (fy - py) ** 2);
		if (distance < best.distance) best = { distance, x: (px + fx) / 2, y: (py + fy) / 2 };
	};
	consider(ax, ay, cx, cy, dx, dy);
	consider(bx, by, cx, cy, dx, dy);
	consider(cx, cy, ax, ay, bx, by);
	consider(dx, dy, ax, ay, bx, by);
	return best;
}
