import { curvedPaths, type Point, type Pose, pathLength } from "@oxturn/geometry";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { tightness } from "../support/shapes.ts";

const pose = (x: number, y: number, degrees: number): Pose => ({ at: [x, y], heading: (degrees * Math.PI) / 180 });
const R = 100;

const anyPose: fc.Arbitrary<Pose> = fc
	.tuple(fc.integer({ min: -2000, max: 2000 }), fc.integer({ min: -2000, max: 2000 }), fc.integer({ min: 0, max: 359 }))
	.map(([x, y, degrees]) => pose(x, y, degrees));

const headingOf = (a: Point, b: Point): number => Math.atan2(b[1] - a[1], b[0] - a[0]);
const between = (a: number, b: number): number => Math.abs(Math.atan2(Math.sin(a - b), Math.cos(a - b)));

describe("curvedPaths", () => {
	// Lengths worked by hand from the figures: arcs of radius 100 and the straight between their tangent points.
	it.each([
		["straight on", pose(0, 0, 0), pose(1000, 0, 0), 1000],
		["a quarter turn left", pose(0, 0, 0), pose(R, R, 90), (Math.PI / 2) * R],
		["a quarter turn right", pose(0, 0, 0), pose(R, -R, -90), (Math.PI / 2) * R],
		["a half turn back", pose(0, 0, 0), pose(0, 2 * R, 180), Math.PI * R],
		["a half turn of two quarters and 300 between", pose(0, 0, 0), pose(0, 500, 180), Math.PI * R + 300],
		["a jog aside by two radii: two quarters of opposite sense", pose(0, 0, 0), pose(2 * R, 2 * R, 0), Math.PI * R],
		// centres (0, 100) and (400, 800): the straight is as long as they are apart, the turns make a quarter
		["a corner cut", pose(0, 0, 0), pose(500, 800, 90), (Math.PI / 2) * R + Math.hypot(400, 700)],
		// centres (0, 100) and (0, -100): three quarters, 200 straight, three quarters
		["back where it stands", pose(0, 0, 0), pose(0, 0, 180), 3 * Math.PI * R + 2 * R],
	])("is as short as drawn by hand: %s", (_, from, to, length) => {
		expect(curvedPaths(from, to, R)[0]!.length).toBeCloseTo(length, 6);
	});

	it("makes no turn at all when the way is straight on", () => {
		const [shortest] = curvedPaths(pose(0, 0, 30), pose(1000 * Math.cos(Math.PI / 6), 500, 30), R);
		expect(shortest!.turning).toBeCloseTo(0, 6);
		expect(shortest!.points).toHaveLength(2);
	});

	it("runs from pose to pose, bends at the radius and is as long as it says", () => {
		const tolerance = 0.4;
		fc.assert(
			fc.property(anyPose, anyPose, fc.integer({ min: 40, max: 300 }), (from, to, radius) => {
				const step = 2 * Math.acos(1 - tolerance / radius);
				for (const path of curvedPaths(from, to, radius, tolerance)) {
					const { points, length, turning } = path;
					expect(points[0]).toEqual(from.at);
					expect(points.at(-1)).toEqual(to.at);
					if (points.length > 1 && length > 1) {
						expect(between(headingOf(points[0]!, points[1]!), from.heading)).toBeLessThan(step / 2 + 1e-6);
						expect(between(headingOf(points.at(-2)!, points.at(-1)!), to.heading)).toBeLessThan(step / 2 + 1e-6);
					}
					expect(tightness(points, radius, tolerance, false)).toBeLessThan(1.001);
					// A chord of an arc through a is short of it by about a^2 / 24 of its length, and always short.
					const flat = pathLength(points);
					expect(flat).toBeLessThan(length + 1e-6);
					expect(flat).toBeGreaterThan(length - (radius * turning * step ** 2) / 23 - 1e-6);
				}
			}),
			{ seed: 141, numRuns: 150 },
		);
	});

	it("gives the shortest first, none shorter than the straight line and always one that turns the same way twice", () => {
		fc.assert(
			fc.property(anyPose, anyPose, (from, to) => {
				const lengths = curvedPaths(from, to, R).map(({ length }) => length);
				expect(lengths.length).toBeGreaterThanOrEqual(2);
				expect(lengths).toEqual(lengths.toSorted((a, b) => a - b));
				expect(lengths[0]!).toBeGreaterThanOrEqual(Math.hypot(to.at[0] - from.at[0], to.at[1] - from.at[1]) - 1e-6);
			}),
			{ seed: 142, numRuns: 150 },
		);
	});

	it("is as long one way as the other", () => {
		// Turned round, every path from pose to pose is a path back: a symmetry of the figure.
		fc.assert(
			fc.property(anyPose, anyPose, (from, to) => {
				const back = ({ at, heading }: Pose): Pose => ({ at, heading: heading + Math.PI });
				const there = curvedPaths(from, to, R).map(({ length }) => length);
				const again = curvedPaths(back(to), back(from), R).map(({ length }) => length);
				expect(again).toHaveLength(there.length);
				for (const [i, length] of there.entries()) expect(again[i]).toBeCloseTo(length, 5);
			}),
			{ seed: 143, numRuns: 150 },
		);
	});
});
