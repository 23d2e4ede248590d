import {
	difference,
	intersect,
	openedWithin,
	openRegions,
	type Point,
	type Region,
	regionArea,
	ringsOf,
	roundOutwardCorners,
	roundRegions,
} from "@oxturn/geometry";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dumbbell, orthogonalRing, rectangle, solid, starRing, tightness } from "../support/shapes.ts";

const totalArea = (regions: readonly Region[]): number => regions.reduce((sum, region) => sum + regionArea(region), 0);

/** The last chord of a rounded corner takes what is left, up to half as much again as the others: 1.5^2 the sagitta. */
const LAST_CHORD = 2.25;

describe("roundOutwardCorners", () => {
	it("rounds the corners of a rectangle by quarter circles", () => {
		// Four quarter circles of radius r save (4 - pi) r^2: textbook.
		const area = totalArea(roundOutwardCorners([solid(rectangle(0, 0, 3000, 2000))], 200, 0.01));
		expect(Math.abs(area - (6e6 - (4 - Math.PI) * 200 ** 2))).toBeLessThan(50);
	});

	it("leaves corners that point inwards sharp", () => {
		const niche: Point[] = [
			[0, 0],
			[2000, 0],
			[2000, 1000],
			[1000, 1000],
			[1000, 2000],
			[0, 2000],
		];
		const [region] = roundOutwardCorners([solid(niche)], 150);
		expect(region!.outer).toContainEqual([1000, 1000]);
	});

	it("stays within the floor and drops what is narrower than twice the radius", () => {
		fc.assert(
			fc.property(starRing(), fc.integer({ min: 50, max: 400 }), (outer, radius) => {
				const floor = [solid(outer)];
				const result = roundOutwardCorners(floor, radius);
				expect(totalArea(difference(result, floor))).toBeLessThan(20);
				expect(totalArea(result)).toBeLessThanOrEqual(totalArea(openRegions(floor, radius)) + 20);
			}),
			{ seed: 151, numRuns: 60 },
		);
	});
});

describe("roundRegions", () => {
	it("rounds corners inwards and outwards to the radius", () => {
		const tolerance = 0.25;
		fc.assert(
			fc.property(orthogonalRing(700), fc.integer({ min: 40, max: 170 }), (outer, radius) => {
				for (const region of roundRegions([solid(outer)], radius, tolerance))
					for (const ring of ringsOf(region))
						expect(tightness(ring, radius, LAST_CHORD * tolerance, true)).toBeLessThan(1.02);
			}),
			{ seed: 152, numRuns: 60 },
		);
	});

	it("closes gaps and drops tongues narrower than twice the radius", () => {
		const comb: Point[] = [
			[0, 0],
			[3000, 0],
			[3000, 1000],
			[2100, 1000],
			[2100, 1400],
			[1900, 1400],
			[1900, 1000],
			[1100, 1000],
			[1100, 700],
			[900, 700],
			[900, 1000],
			[0, 1000],
		];
		const [region, ...rest] = roundRegions([solid(comb)], 150);
		expect(rest).toEqual([]);
		// the tongue is gone but for the rounding at its foot, the slot is filled but for the rounding at its mouth
		expect(totalArea(intersect([region!], [solid(rectangle(1900, 1250, 2100, 1400))]))).toBe(0);
		expect(totalArea(difference([solid(rectangle(900, 700, 1100, 990))], [region!]))).toBe(0);
	});
});

describe("openRegions", () => {
	it("takes a neck away and leaves the rooms at its ends as they were", () => {
		const parts = openRegions([solid(dumbbell)], 110);
		expect(parts.map(regionArea)).toEqual([4e6, 4e6]);
		expect(openRegions([solid(dumbbell)], 90)).toHaveLength(1);
	});
});

describe("openedWithin", () => {
	it("takes necks away, and gives a floor without any back as it was", () => {
		expect(openedWithin([solid(dumbbell)], 110).map(regionArea)).toEqual([4e6, 4e6]);
		expect(openedWithin([solid(dumbbell)], 90)).toEqual([solid(dumbbell)]);
	});

	it("leaves what opening leaves, and nothing beyond the floor", () => {
		fc.assert(
			fc.property(starRing(), fc.integer({ min: 20, max: 400 }), (ring, radius) => {
				const floor = [solid(ring)];
				const left = openedWithin(floor, radius);
				expect(totalArea(difference(left, floor))).toBeLessThanOrEqual(20);
				const wanted = totalArea(intersect(openRegions(floor, radius), floor));
				expect(Math.abs(totalArea(left) - wanted)).toBeLessThanOrEqual(20);
			}),
		);
	});
});
