import { arcPoints } from "./fillet.ts";
import type { Point } from "./types.ts";
import { distance } from "./vector.ts";

/** A place and the way a path runs through it, radians from +x. */
export interface Pose {
	readonly at: Point;
	readonly heading: number;
}

/** A path of two arcs of one radius with a straight between them, flattened. */
export interface CurvedPath {
	readonly points: readonly Point[];
	/** mm, measured on the arcs. */
	readonly length: number;
	/** Radians turned in all, whichever way. */
	readonly turning: number;
}

const FULL = 2 * Math.PI;
const positive = (angle: number): number => {
	const wrapped = angle % FULL;
	const turn = wrapped < 0 ? wrapped + FULL : wrapped;
	// A full turn that is only rounding is no turn.
	return FULL - turn < 1e-9 ? 0 : turn;
};

interface Plan {
	readonly firstSense: 1 | -1;
	readonly lastSense: 1 | -1;
	readonly first: number;
	readonly straight: number;
	readonly last: number;
	/** Heading on the straight. */
	readonly heading: number;
}

const centreOf = (pose: Pose, radius: number, sense: 1 | -1): Point => [
	pose.at[0] - sense * radius * Math.sin(pose.heading),
	pose.at[1] + sense * radius * Math.cos(pose.heading),
];

function plan(from: Pose, to: Pose, radius: number, firstSense: 1 | -1, lastSense: 1 | -1): Plan | undefined {
	const a = centreOf(from, radius, firstSense);
	const b = centreOf(to, radius, lastSense);
	const apart = distance(a, b);
	const bearing = Math.atan2(b[1] - a[1], b[0] - a[0]);
	let heading = bearing;
	let straight = apart;
	if (firstSense !== lastSense) {
		if (apart < 2 * radius) return undefined;
		straight = Math.sqrt(Math.max(0, apart * apart - 4 * radius * radius));
		heading = bearing + firstSense * Math.atan2(2 * radius, straight);
	}
	if (apart < 1e-9) heading = from.heading;
	return {
		firstSense,
		lastSense,
		first: positive(firstSense * (heading - from.heading)),
		straight,
		last: positive(lastSense * (to.heading - heading)),
		heading,
	};
}

const lengthOf = (p: Plan, radius: number): number => radius * (p.first + p.last) + p.straight;

/**
 * The ways from one pose to another by an arc, a straight and an arc, each arc of exactly `radius` mm: up to four,
 * the shortest first (Dubins 1957, without his three-arc paths). Arcs are flattened to `tolerance` mm.
 */
export function curvedPaths(from: Pose, to: Pose, radius: number, tolerance = 0.4): CurvedPath[] {
	const plans: Plan[] = [];
	for (const firstSense of [1, -1] as const)
		for (const lastSense of [1, -1] as const) {
			const p = plan(from, to, radius, firstSense, lastSense);
			if (p) plans.push(p);
		}
	plans.sort((a, b) => lengthOf(a, radius) - lengthOf(b, radius));
	return plans.map((p) => {
		const points: Point[] = [from.at];
		if (p.first > 1e-6) {
			const c = centreOf(from, radius, p.firstSense);
			const start = from.heading - (p.firstSense * Math.PI) / 2;
			points.push(...arcPoints(c, radius, start, p.firstSense * p.first, tolerance).slice(1));
		}
		if (p.last > 1e-6) {
			const c = centreOf(to, radius, p.lastSense);
			const end = to.heading - (p.lastSense * Math.PI) / 2;
			const arc = arcPoints(c, radius, end - p.lastSense * p.last, p.lastSense * p.last, tolerance);
			if (p.straight > 1e-6) points.push(arc[0]!);
			points.push(...arc.slice(1, -1));
		}
		points.push(to.at);
		return { points, length: lengthOf(p, radius), turning: p.first + p.last };
	});
}
