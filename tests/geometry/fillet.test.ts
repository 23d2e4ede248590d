import { arcPoints, boundingBox, fillet, nearestOnRing, type Point, type Ring, signedArea } from "@oxturn/geometry";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { moved, orthogonalRing, perimeter, rectangle, regularPolygon, tightness } from "../support/shapes.ts";

const rounded = (ring: Ring, options: Parameters<typeof fillet>[1]): Ring => {
	const result = fillet(ring, options);
	if ("conflicts" in result) throw new Error(`sides ${result.conflicts} are too short`);
	return result.ring;
};

describe("arcPoints", () => {
	it("lie on the circle, from the start through the sweep", () => {
		const points = arcPoints([100, 200], 80, Math.PI, -Math.PI / 2, 0.4);
		expect(points[0]![0]).toBeCloseTo(20, 9);
		expect(points.at(-1)![1]).toBeCloseTo(280, 9);
		for (const [x, y] of points) expect(Math.hypot(x - 100, y - 200)).toBeCloseTo(80, 9);
	});

	it("leave no chord farther from the arc than the tolerance, and no more chords than that takes", () => {
		fc.assert(
			fc.property(
				fc.integer({ min: 30, max: 500 }),
				fc.double({ min: 0.1, max: 2 * Math.PI, noNaN: true }),
				fc.constantFrom(0.1, 0.4, 0.5),
				(radius, sweep, tolerance) => {
					const points = arcPoints([0, 0], radius, 0.3, sweep, tolerance);
					const sagitta = (angle: number): number => radius * (1 - Math.cos(angle / 2));
					expect(sagitta(sweep / (points.length - 1))).toBeLessThan(tolerance + 1e-9);
					if (points.length > 2) expect(sagitta(sweep / (points.length - 2))).toBeGreaterThan(tolerance - 1e-9);
				},
			),
			{ seed: 131, numRuns: 100 },
		);
	});
});

describe("fillet", () => {
	it("rounds the corners of a rectangle by quarter circles", () => {
		// Four quarter circles of radius r save (4 - pi) r^2 of area and (8 - 2 pi) r of length: textbook.
		const r = 150;
		const ring = rounded(rectangle(0, 0, 3000, 2000), { minRadius: r, tolerance: 0.001 });
		expect(Math.abs(signedArea(ring) - (6e6 - (4 - Math.PI) * r ** 2))).toBeLessThan(5);
		expect(Math.abs(perimeter(ring) - (10_000 - (8 - 2 * Math.PI) * r))).toBeLessThan(0.05);
	});

	it("takes the radius wanted where the sides allow it, and less where they do not", () => {
		const wide = rounded(rectangle(0, 0, 3000, 2000), { minRadius: 80, radius: 400, tolerance: 0.01 });
		expect(Math.abs(signedArea(wide) - (6e6 - (4 - Math.PI) * 400 ** 2))).toBeLessThan(100);
		// 300 mm between the long sides: their corners meet at 150 mm, a half circle at either end.
		const narrow = rounded(rectangle(0, 0, 3000, 300), { minRadius: 80, radius: 400, tolerance: 0.01 });
		expect(Math.abs(perimeter(narrow) - (2 * 2700 + 2 * Math.PI * 150))).toBeLessThan(0.5);
		expect(boundingBox(narrow)[2]).toBeCloseTo(3000, 1);
	});

	it("leaves a corner that hardly turns as it is", () => {
		const bowed: Point[] = [
			[0, 0],
			[1500, -1],
			[3000, 0],
			[3000, 2000],
			[0, 2000],
		];
		expect(rounded(bowed, { minRadius: 100 })).toContainEqual([1500, -1]);
	});

	it("keeps every bend at the smallest radius or above and within the outline's sides", () => {
		const tolerance = 0.4;
		fc.assert(
			fc.property(
				orthogonalRing(400),
				fc.integer({ min: 40, max: 195 }),
				fc.integer({ min: 0, max: 300 }),
				fc.double({ min: -3, max: 3, noNaN: true }),
				(outline, minRadius, extra, angle) => {
					const sharp = outline.map(moved(angle, 12_000, -7000));
					const ring = rounded(sharp, { minRadius, radius: minRadius + extra, tolerance });
					expect(tightness(ring, minRadius, tolerance, true)).toBeLessThan(1.001);
					// A quarter circle of radius r passes its corner at (sqrt 2 - 1) r.
					for (const corner of sharp) {
						const cut = nearestOnRing(ring, corner).distance;
						expect(cut).toBeGreaterThan((Math.SQRT2 - 1) * minRadius - tolerance);
						expect(cut).toBeLessThan((Math.SQRT2 - 1) * (minRadius + extra) + tolerance);
					}
					for (const p of ring)
						expect(nearestOnRing(sharp, p).distance).toBeLessThan((1 - Math.SQRT1_2) * (minRadius + extra) + 1e-6);
				},
			),
			{ seed: 132, numRuns: 80 },
		);
	});

	it("touches both sides of a corner: arcs begin and end on them, heading along them", () => {
		for (const n of [3, 5, 8, 12]) {
			const sharp = regularPolygon(n, 2000);
			const ring = rounded(sharp, { minRadius: 200, tolerance: 0.05 });
			// A fillet in a corner turning by a starts r tan(a / 2) before it.
			const reach = 200 * Math.tan(Math.PI / n);
			for (const [i, corner] of sharp.entries()) {
				const [nx, ny] = sharp[(i + 1) % n]!;
				const length = Math.hypot(nx - corner[0], ny - corner[1]);
				const end: Point = [
					corner[0] + ((nx - corner[0]) * reach) / length,
					corner[1] + ((ny - corner[1]) * reach) / length,
				];
				expect(Math.min(...ring.map(([x, y]) => Math.hypot(x - end[0], y - end[1])))).toBeLessThan(1e-6);
			}
			expect(tightness(ring, 200, 0.05, true)).toBeLessThan(1.001);
		}
	});

	it("names the side that is too short for its two corners", () => {
		const jog: Point[] = [
			[0, 0],
			[1500, 0],
			[1500, 60],
			[3000, 60],
			[3000, 2000],
			[0, 2000],
		];
		expect(fillet(jog, { minRadius: 80 })).toEqual({ conflicts: [1] });
		expect(fillet(jog, { minRadius: 25 })).toHaveProperty("ring");
	});
});

describe("swelling returns", () => {
	const hairpin = (gap: number): Ring => rectangle(0, 0, 2000, gap);

	it("turn at the smallest radius where two runs are nearer than twice that", () => {
		// Hand-worked for gap 150, r 80: cos phi = (75 + 80) / 160, phi = 14.36 degrees. Each end is three arcs of r,
		// through phi, pi + 2 phi and phi, and takes r + 2 r sin phi = 119.7 mm of either side.
		const phi = Math.acos((75 + 80) / 160);
		const ring = rounded(hairpin(150), { minRadius: 80, tolerance: 0.001 });
		const reach = 80 + 160 * Math.sin(phi);
		expect(perimeter(ring)).toBeCloseTo(2 * (2000 - 2 * reach) + 2 * 80 * (Math.PI + 4 * phi), 1);
		const [minX, minY, maxX, maxY] = boundingBox(ring);
		expect(maxX - minX).toBeCloseTo(2000, 1);
		expect(maxY - minY).toBeCloseTo(160, 1);
	});

	it("keep the radius for any gap, swell no wider than the turn itself and end where the runs end", () => {
		fc.assert(
			fc.property(
				fc.integer({ min: 40, max: 150 }),
				fc.double({ min: 0.3, max: 1.98, noNaN: true }),
				fc.double({ min: -3, max: 3, noNaN: true }),
				(minRadius, share, angle) => {
					const gap = share * minRadius;
					const ring = rounded(hairpin(gap).map(moved(angle, 0, 0)), { minRadius, tolerance: 0.4 });
					expect(tightness(ring, minRadius, 0.4, true)).toBeLessThan(1.001);
					const [minX, minY, maxX, maxY] = boundingBox(ring.map(moved(-angle, 0, 0)));
					expect(maxY - minY).toBeLessThan(2 * minRadius + 1e-6);
					expect(maxY - minY).toBeGreaterThan(2 * minRadius - 0.8);
					expect(minX).toBeGreaterThan(-1e-6);
					expect(maxX).toBeLessThan(2000 + 1e-6);
				},
			),
			{ seed: 133, numRuns: 80 },
		);
	});

	it("keep the radius where the end is cut off aslant", () => {
		for (const slant of [-60, -20, 30, 70]) {
			const ring: Point[] = [
				[0, 0],
				[2000, 0],
				[2000 + slant, 150],
				[0, 150],
			];
			expect(tightness(rounded(ring, { minRadius: 90 }), 90, 0.4, true)).toBeLessThan(1.001);
		}
	});

	it("want long enough runs", () => {
		expect(fillet(rectangle(0, 0, 180, 100), { minRadius: 80 })).toHaveProperty("conflicts");
	});
});
