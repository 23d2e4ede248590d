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

/** The parts of such a way: the senses of its arcs (1 is anticlockwise), their angles in radians and the straight in mm. */
export interface CurvePlan {
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

/** The way by arcs round `a` first and round `b` last, and the straight between them. */
function plan(
	from: Pose,
	to: Pose,
	radius: number,
	firstSense: 1 | -1,
	lastSense: 1 | -1,
	a: Point,
	b: Point,
): CurvePlan | undefined {
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

/** A way from one pose to another by an arc, a straight and an arc, not yet flattened. */
export interface Curve {
	readonly from: Pose;
	readonly to: Pose;
	/** Of both arcs, mm. */
	readonly radius: number;
	readonly plan: CurvePlan;
	/** mm */
	readonly length: number;
	/** Radians turned in all, whichever way. */
	readonly turning: number;
}

const SENSES = [1, -1] as const;

/** The ways from one pose to another by an arc, a straight and an arc of `radius` mm, up to four, the shortest first. */
export function curvesBetween(from: Pose, to: Pose, radius: number): Curve[] {
	const curves: Curve[] = [];
	const leftLast = centreOf(to, radius, 1);
	const rightLast = centreOf(to, radius, -1);
	for (const firstSense of SENSES) {
		const first = centreOf(from, radius, firstSense);
		for (const lastSense of SENSES) {
			const p = plan(from, to, radius, firstSense, lastSense, first, lastSense === 1 ? leftLast : rightLast);
			if (!p) continue;
			const turning = p.first + p.last;
			const length = radius * turning + p.straight;
			let place = curves.length;
			for (; place > 0 && curves[place - 1]!.length > length; place--) curves[place] = curves[place - 1]!;
			curves[place] = { from, to, radius, plan: p, length, turning };
		}
	}
	return curves;
}

/** Points of a curve, its two tangent points among them, no chord farther than `tolerance` mm from its arc. */
export function flattenCurve({ from, to, radius, plan: p }: Curve, tolerance = 0.4): Point[] {
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
	return points;
}

/**
 * The ways from one pose to another by an arc, a straight and an arc, each arc of exactly `radius` mm: up to four,
 * the shortest first (Dubins 1957, without his three-arc paths). Arcs are flattened to `tolerance` mm.
 */
export function curvedPaths(from: Pose, to: Pose, radius: number, tolerance = 0.4): CurvedPath[] {
	return curvesBetween(from, to, radius).map((curve) => ({
		points: flattenCurve(curve, tolerance),
		length: curve.length,
		turning: curve.turning,
	}));
}
