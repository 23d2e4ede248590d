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

/**
 * How much tighter than `radius` mm a flattened curve turns anywhere, as a factor: 1 is exactly that radius, 2 half of
 * it. A chord of a circle of radius r turns by asin(chord / 2r) at either end, and no chord within `tolerance` mm of
 * its arc is longer than 2 sqrt(tolerance (2r - tolerance)); longer sides are straights that lead into the bend.
 */
export function tightness(path: readonly Point[], radius: number, tolerance: number, isClosed: boolean): number {
	const longest = 2 * Math.sqrt(tolerance * (2 * radius - tolerance));
	const half = (length: number): number => Math.asin(Math.min(1, Math.min(length, longest) / (2 * radius)));
	// Where one arc ends and the next begins a point may come twice, and twice the same place has no direction.
	const apart = path.filter(([x, y], i) => {
		const previous = i > 0 || isClosed ? path.at(i - 1)! : undefined;
		return !previous || Math.hypot(x - previous[0], y - previous[1]) > 0.01;
	});
	let worst = 0;
	for (let i = isClosed ? 0 : 1; i < apart.length - (isClosed ? 0 : 1); i++) {
		const [ax, ay] = apart.at(i - 1)!;
		const [bx, by] = apart[i]!;
		const [cx, cy] = apart[(i + 1) % apart.length]!;
		const ux = bx - ax;
		const uy = by - ay;
		const vx = cx - bx;
		const vy = cy - by;
		const turn = Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy));
		worst = Math.max(worst, turn / (half(Math.hypot(ux, uy)) + half(Math.hypot(vx, vy))));
	}
	return worst;
}

/** Sum of all turning of a path, rad, either sense. */
export function turningOf(path: readonly Point[]): number {
	let sum = 0;
	for (let i = 1; i + 1 < path.length; i++) {
		const into = Math.atan2(path[i]![1] - path[i - 1]![1], path[i]![0] - path[i - 1]![0]);
		const out = Math.atan2(path[i + 1]![1] - path[i]![1], path[i + 1]![0] - path[i]![0]);
		sum += Math.abs(Math.atan2(Math.sin(out - into), Math.cos(out - into)));
	}
	return sum;
}
