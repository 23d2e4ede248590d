import type { Point, Region, Ring } from "@oxturn/geometry";
import fc from "fast-check";

/** Plain shapes in mm, all anticlockwise, and arbitraries of them. */

export const solid = (outer: Ring): Region => ({ outer, holes: [] });

export const rectangle = (x0: number, y0: number, x1: number, y1: number): Ring => [
	[x0, y0],
	[x1, y0],
	[x1, y1],
	[x0, y1],
];

/** Two rooms of 4 m2 with a neck 200 mm wide between them. */
export const dumbbell: Ring = [
	[0, 0],
	[2000, 0],
	[2000, 900],
	[3000, 900],
	[3000, 0],
	[5000, 0],
	[5000, 2000],
	[3000, 2000],
	[3000, 1100],
	[2000, 1100],
	[2000, 2000],
	[0, 2000],
];

/** Corners at `radius` mm round the origin, the first on the x axis. */
export const regularPolygon = (corners: number, radius: number): Ring =>
	Array.from({ length: corners }, (_, i): Point => {
		const angle = (2 * Math.PI * i) / corners;
		return [radius * Math.cos(angle), radius * Math.sin(angle)];
	});

/** Turns about the origin by `angle` rad, then shifts. */
export const moved =
	(angle: number, dx: number, dy: number) =>
	([x, y]: Point): Point => [
		x * Math.cos(angle) - y * Math.sin(angle) + dx,
		x * Math.sin(angle) + y * Math.cos(angle) + dy,
	];

export const perimeter = (ring: Ring): number =>
	ring.reduce((sum, [x, y], i) => {
		const [ax, ay] = ring.at(i - 1)!;
		return sum + Math.hypot(x - ax, y - ay);
	}, 0);

/** Star-shaped outlines round `centre`, convex or not, corners on whole mm. */
export const starRing = (centre: Point = [0, 0]): fc.Arbitrary<Ring> =>
	fc.array(fc.integer({ min: 800, max: 5000 }), { minLength: 5, maxLength: 20 }).map((radii) =>
		radii.map((radius, i): Point => {
			const angle = (2 * Math.PI * i) / radii.length;
			return [Math.round(centre[0] + radius * Math.cos(angle)), Math.round(centre[1] + radius * Math.sin(angle))];
		}),
	);

/** Outlines with walls along x and y only: a row of bays of their own depth, at least `smallest` mm wide and deep. */
export const orthogonalRing = (smallest: number): fc.Arbitrary<Ring> =>
	fc
		.array(
			fc.record({
				width: fc.integer({ min: smallest, max: 3000 }),
				steps: fc.integer({ min: 1, max: 6 }),
			}),
			{ minLength: 1, maxLength: 5 },
		)
		.map((bays) => {
			const ring: Point[] = [[0, 0]];
			const total = bays.reduce((sum, { width }) => sum + width, 0);
			ring.push([total, 0]);
			let x = total;
			for (const [i, { width, steps }] of bays.entries()) {
				const depth = smallest * steps;
				if (i === 0 || bays[i - 1]!.steps !== steps) {
					if (i > 0) ring.push([x, smallest * bays[i - 1]!.steps]);
					ring.push([x, depth]);
				}
				x -= width;
			}
			ring.push([0, smallest * bays.at(-1)!.steps]);
			return ring;
		});

interface Vertex {
	/** Turning at the vertex, rad, either sense. */
	readonly turn: number;
	/** What a curve of the smallest radius may turn there, rad. */
	readonly allowed: number;
}

/**
 * What a flattened curve turns at each vertex, and what it may. A chord of a circle of radius r turns by
 * asin(chord / 2r) at either end, and no chord within `tolerance` mm of its arc is longer than
 * 2 sqrt(tolerance (2r - tolerance)); longer sides are straights that lead into the bend.
 */
function verticesOf(path: readonly Point[], radius: number, tolerance: number, isClosed: boolean): Vertex[] {
	const longest = 2 * Math.sqrt(tolerance * (2 * radius - tolerance));
	const half = (length: number): number => Math.asin(Math.min(1, Math.min(length, longest) / (2 * radius)));
	// Where one arc ends and the next begins a point may come twice, and twice the same place has no direction.
	const apart = path.filter(([x, y], i) => {
		const previous = i > 0 || isClosed ? path.at(i - 1)! : undefined;
		return !previous || Math.hypot(x - previous[0], y - previous[1]) > 0.01;
	});
	const vertices: Vertex[] = [];
	for (let i = isClosed ? 0 : 1; i < apart.length - (isClosed ? 0 : 1); i++) {
		const [ax, ay] = apart.at(i - 1)!;
		const [bx, by] = apart[i]!;
		const [cx, cy] = apart[(i + 1) % apart.length]!;
		const [ux, uy, vx, vy] = [bx - ax, by - ay, cx - bx, cy - by];
		vertices.push({
			turn: Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)),
			allowed: half(Math.hypot(ux, uy)) + half(Math.hypot(vx, vy)),
		});
	}
	return vertices;
}

/** How much tighter than `radius` mm a flattened curve turns anywhere, as a factor: 1 is that radius, 2 half of it. */
export const tightness = (path: readonly Point[], radius: number, tolerance: number, isClosed: boolean): number =>
	verticesOf(path, radius, tolerance, isClosed).reduce(
		(worst, { turn, allowed }) => Math.max(worst, turn / allowed),
		0,
	);

/** The most that any stretch of a flattened curve turns beyond what a bend of `radius` mm could, rad. */
export function surplusTurning(path: readonly Point[], radius: number, tolerance: number): number {
	let [surplus, worst] = [0, 0];
	for (const { turn, allowed } of verticesOf(path, radius, tolerance, false)) {
		surplus = Math.max(0, surplus + turn - 1.002 * allowed);
		worst = Math.max(worst, surplus);
	}
	return worst;
}
