import { MERGE } from "./limits.ts";

/**
 * One loop as the audit follows it. Points nearer than 1 mm to the one before are merged, both ends kept,
 * so every piece of a trace has a direction.
 */
export interface Trace {
	readonly id: string;
	/** As stated; `undefined` where the document names none. */
	readonly manifold: string | undefined;
	readonly port: number | undefined;
	/** Rooms it heats, by id or name; `undefined` stands for every heated room. */
	readonly rooms: readonly string[] | undefined;
	/** Stated length, m. */
	readonly statedLength: number | undefined;
	/** Measured on the points as given, mm. */
	readonly length: number;
	/** Vertices, mm. */
	readonly x: Float64Array;
	readonly y: Float64Array;
	/** Pipe from the flow port to each vertex, mm. */
	readonly along: Float64Array;
	/** Turning at each vertex, rad, positive anticlockwise; 0 at both ends. */
	readonly turn: Float64Array;
}

/** What a loop says of itself. */
export type TraceLabel = Pick<Trace, "id" | "manifold" | "port" | "rooms" | "statedLength">;

/** Follows `points` (at least two, finite, mm). */
export function traceLoop(label: TraceLabel, points: readonly (readonly number[])[]): Trace {
	const x = new Float64Array(points.length);
	const y = new Float64Array(points.length);
	let count = 0;
	let length = 0;
	let px = 0;
	let py = 0;
	for (let i = 0; i < points.length; i++) {
		const point = points[i]!;
		const qx = point[0]!;
		const qy = point[1]!;
		if (i > 0) length += Math.sqrt((qx - px) ** 2 + (qy - py) ** 2);
		px = qx;
		py = qy;
		if (count > 0) {
			const gap2 = (qx - x[count - 1]!) ** 2 + (qy - y[count - 1]!) ** 2;
			if (gap2 < MERGE * MERGE) {
				if (i < points.length - 1 || gap2 === 0) continue;
				if (count > 1) count--;
			}
		}
		x[count] = qx;
		y[count] = qy;
		count++;
	}
	const { id, manifold, port, rooms, statedLength } = label;
	const way = directionsOf(x.subarray(0, count), y.subarray(0, count));
	return { id, manifold, port, rooms, statedLength, length, x: way.x, y: way.y, along: way.along, turn: way.turn };
}

function directionsOf(x: Float64Array, y: Float64Array): Pick<Trace, "x" | "y" | "along" | "turn"> {
	const along = new Float64Array(x.length);
	const turn = new Float64Array(x.length);
	let ux = 0;
	let uy = 0;
	for (let i = 1; i < x.length; i++) {
		const vx = x[i]! - x[i - 1]!;
		const vy = y[i]! - y[i - 1]!;
		along[i] = along[i - 1]! + Math.sqrt(vx * vx + vy * vy);
		if (i > 1) turn[i - 1] = Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy);
		ux = vx;
		uy = vy;
	}
	return { x, y, along, turn };
}
