import {
	boundingBox,
	inwardCorners,
	largestFirst,
	nearestOnRing,
	type Point,
	pathLength,
	pointSegmentDistance2,
	regionArea,
	regionContains,
	ringContains,
	ringsOf,
	segmentDistance2,
	segmentsCross,
	signedArea,
} from "@oxturn/geometry";
import * as turf from "@turf/turf";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { rectangle, regularPolygon, solid, starRing } from "../support/shapes.ts";

const place: fc.Arbitrary<Point> = fc.tuple(
	fc.integer({ min: -5000, max: 5000 }),
	fc.integer({ min: -5000, max: 5000 }),
);

describe("corners that point inwards", () => {
	it("are those of an L's bend, and none of a rectangle", () => {
		const bend: Point = [2000, 1500];
		const l: Point[] = [[0, 0], [4000, 0], [4000, 1500], bend, [2000, 3000], [0, 3000]];
		expect(inwardCorners(l)).toEqual([bend]);
		expect(inwardCorners(rectangle(0, 0, 4000, 2500))).toEqual([]);
	});

	it("are left out where they are flatter than asked for", () => {
		const dented: Point[] = [
			[0, 0],
			[2000, 50],
			[4000, 0],
			[4000, 2500],
			[0, 2500],
		];
		expect(inwardCorners(dented)).toHaveLength(1);
		expect(inwardCorners(dented, 0.3)).toEqual([]);
	});
});

describe("areas", () => {
	it("put regions in order, holes considered", () => {
		const holed = { outer: rectangle(0, 0, 3000, 3000), holes: [[...rectangle(500, 500, 2500, 2500)].reverse()] };
		const [small, large] = [solid(rectangle(0, 0, 2000, 2000)), solid(rectangle(0, 0, 2400, 2400))];
		expect(largestFirst([small, holed, large])).toEqual([large, holed, small]);
	});

	it("are positive anticlockwise and negative clockwise", () => {
		expect(signedArea(rectangle(0, 0, 4000, 2500))).toBe(1e7);
		expect(signedArea([...rectangle(0, 0, 4000, 2500)].reverse())).toBe(-1e7);
		expect(signedArea([])).toBe(0);
	});

	it("of a regular polygon are n/2 R^2 sin(2 pi / n)", () => {
		// Textbook formula with the circumradius R.
		for (const n of [3, 5, 8, 24])
			expect(signedArea(regularPolygon(n, 1500))).toBeCloseTo((n / 2) * 1500 ** 2 * Math.sin((2 * Math.PI) / n), 5);
	});

	it("leave holes out, whichever way they run", () => {
		const hole = rectangle(1000, 1000, 1500, 1200);
		const outer = rectangle(0, 0, 4000, 2500);
		expect(regionArea({ outer, holes: [hole] })).toBe(1e7 - 1e5);
		expect(regionArea({ outer, holes: [[...hole].reverse()] })).toBe(1e7 - 1e5);
		expect(ringsOf({ outer, holes: [hole] })).toEqual([outer, hole]);
	});

	it("follow from the lattice points inside and on the outline", () => {
		// Pick's theorem (Pick 1899): A = inside + boundary / 2 - 1 for corners on a lattice.
		const corner = fc.tuple(fc.integer({ min: 4, max: 14 }), fc.integer({ min: 0, max: 6 }));
		fc.assert(
			fc.property(fc.array(corner, { minLength: 3, maxLength: 9 }), (corners) => {
				const ring = corners.map(([radius, wobble], i): Point => {
					const angle = (2 * Math.PI * (i + wobble / 20)) / corners.length;
					return [Math.round(radius * Math.cos(angle)), Math.round(radius * Math.sin(angle))];
				});
				fc.pre(new Set(ring.map(String)).size === ring.length);
				const outline = turf.polygon([[...ring, ring[0]!].map(([x, y]) => [x, y])]);
				fc.pre(turf.kinks(outline).features.length === 0 && signedArea(ring) > 0);
				const gcd = (a: number, b: number): number => (b === 0 ? Math.abs(a) : gcd(b, a % b));
				const boundary = ring.reduce((sum, [x, y], i) => sum + gcd(x - ring.at(i - 1)![0], y - ring.at(i - 1)![1]), 0);
				let inside = 0;
				for (let x = -15; x <= 15; x++)
					for (let y = -15; y <= 15; y++)
						if (nearestOnRing(ring, [x, y]).distance > 1e-9 && ringContains(ring, [x, y])) inside++;
				expect(signedArea(ring)).toBe(inside + boundary / 2 - 1);
			}),
			{ seed: 121, numRuns: 100 },
		);
	});
});

describe("lengths and boxes", () => {
	it("add up the stretches of an open path", () => {
		expect(
			pathLength([
				[0, 0],
				[300, 400],
				[300, 1400],
			]),
		).toBe(1500);
		expect(pathLength([[7, 7]])).toBe(0);
		expect(pathLength([])).toBe(0);
	});

	it("hold all points, and nothing of none", () => {
		expect(boundingBox(regularPolygon(4, 100).map(([x, y]): Point => [Math.round(x), Math.round(y)]))).toEqual([
			-100, -100, 100, 100,
		]);
		expect(boundingBox([])).toEqual([Infinity, Infinity, -Infinity, -Infinity]);
	});
});

describe("inside or out", () => {
	it("agrees with a second library for any place off the outline", () => {
		// Reference: booleanPointInPolygon of @turf/turf 7.4.0.
		fc.assert(
			fc.property(starRing(), place, (ring, p) => {
				fc.pre(nearestOnRing(ring, p).distance > 0.01);
				const outline = turf.polygon([[...ring, ring[0]!].map(([x, y]) => [x, y])]);
				expect(ringContains(ring, p)).toBe(turf.booleanPointInPolygon([...p], outline));
			}),
			{ seed: 122, numRuns: 300 },
		);
	});

	it("counts a hole as outside", () => {
		const room = { outer: rectangle(0, 0, 4000, 4000), holes: [rectangle(1800, 1800, 2200, 2200)] };
		expect(regionContains(room, [1000, 1000])).toBe(true);
		expect(regionContains(room, [2000, 2000])).toBe(false);
		expect(regionContains(room, [5000, 1000])).toBe(false);
	});
});

describe("nearestOnRing", () => {
	it("tells the edge, how far along it, the place and the distance", () => {
		expect(nearestOnRing(rectangle(0, 0, 4000, 2000), [1000, -300])).toEqual({
			index: 0,
			t: 0.25,
			point: [1000, 0],
			distance: 300,
		});
		expect(nearestOnRing(rectangle(0, 0, 4000, 2000), [-30, 1000])).toMatchObject({ index: 3, t: 0.5, distance: 30 });
	});

	it("is nearer than any other place on the ring", () => {
		fc.assert(
			fc.property(starRing(), place, (ring, p) => {
				const near = nearestOnRing(ring, p);
				const a = ring[near.index]!;
				const b = ring[(near.index + 1) % ring.length]!;
				expect(near.point[0]).toBeCloseTo(a[0] + near.t * (b[0] - a[0]), 6);
				expect(near.point[1]).toBeCloseTo(a[1] + near.t * (b[1] - a[1]), 6);
				expect(near.distance).toBeCloseTo(Math.hypot(near.point[0] - p[0], near.point[1] - p[1]), 6);
				for (const [i, [x, y]] of ring.entries())
					for (let k = 0; k < 8; k++) {
						const [nx, ny] = ring[(i + 1) % ring.length]!;
						const other = Math.hypot(x + ((nx - x) * k) / 8 - p[0], y + ((ny - y) * k) / 8 - p[1]);
						expect(near.distance).toBeLessThanOrEqual(other + 1e-9);
					}
			}),
			{ seed: 123, numRuns: 60 },
		);
	});
});

describe("segments", () => {
	it("measure a place beside them at right angles, and past their ends to the end", () => {
		expect(pointSegmentDistance2([500, 40], [0, 0], [1000, 0])).toBe(1600);
		expect(pointSegmentDistance2([1030, 40], [0, 0], [1000, 0])).toBe(2500);
		expect(pointSegmentDistance2([3, 4], [0, 0], [0, 0])).toBe(25);
	});

	it("cross properly or not at all: touching ends do not count", () => {
		expect(segmentsCross([0, 0], [2, 2], [0, 2], [2, 0])).toBe(true);
		expect(segmentsCross([0, 0], [2, 2], [1, 1], [2, 0])).toBe(false);
		expect(segmentsCross([0, 0], [2, 0], [0, 1], [2, 1])).toBe(false);
		expect(segmentsCross([0, 0], [2, 0], [1, 0], [3, 0])).toBe(false);
	});

	it("agree with a second library about crossings, and are zero apart just there", () => {
		// Reference: lineIntersect of @turf/turf 7.4.0, planar.
		fc.assert(
			fc.property(place, place, place, place, (a, b, c, d) => {
				const touch = [
					pointSegmentDistance2(a, c, d),
					pointSegmentDistance2(b, c, d),
					pointSegmentDistance2(c, a, b),
					pointSegmentDistance2(d, a, b),
				];
				fc.pre(Math.min(...touch) > 0.01);
				const meets = turf.lineIntersect(turf.lineString([[...a], [...b]]), turf.lineString([[...c], [...d]]));
				expect(segmentsCross(a, b, c, d)).toBe(meets.features.length > 0);
				expect(segmentDistance2(a, b, c, d) === 0).toBe(segmentsCross(a, b, c, d));
			}),
			{ seed: 124, numRuns: 300 },
		);
	});

	it("are as near as the nearest two of their places", () => {
		fc.assert(
			fc.property(place, place, place, place, (a, b, c, d) => {
				const exact = Math.sqrt(segmentDistance2(a, b, c, d));
				const along = (p: Point, q: Point, t: number): Point => [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])];
				let sampled = Infinity;
				for (let i = 0; i <= 100; i++)
					sampled = Math.min(sampled, Math.sqrt(pointSegmentDistance2(along(a, b, i / 100), c, d)));
				expect(exact).toBeLessThanOrEqual(sampled + 1e-6);
				expect(sampled - exact).toBeLessThanOrEqual(Math.hypot(b[0] - a[0], b[1] - a[1]) / 200 + 1e-6);
			}),
			{ seed: 125, numRuns: 100 },
		);
	});
});
