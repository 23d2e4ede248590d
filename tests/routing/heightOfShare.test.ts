import { regionArea } from "@oxturn/geometry";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { areaBelow, heightOfShare } from "../../packages/routing/src/zones/partition.ts";
import { orthogonalRing, rectangle, solid, starRing } from "../support/shapes.ts";

describe("the height below which a share of some floor lies", () => {
	test("is that share of the height of a rectangle", () => {
		expect(heightOfShare([rectangle(0, 500, 5000, 4500)], 0.25)).toBeCloseTo(1500, 9);
	});

	test("goes with the root of the share in a triangle that stands on its tip", () => {
		// Area below y grows with its square.
		expect(
			heightOfShare(
				[
					[
						[0, 0],
						[3000, 4000],
						[-3000, 4000],
					],
				],
				0.25,
			),
		).toBeCloseTo(2000, 9);
	});

	test("passes over a gap between two pieces of floor", () => {
		const rings = [rectangle(0, 0, 1000, 1000), rectangle(0, 3000, 1000, 4000)];
		expect(heightOfShare(rings, 0.25)).toBeCloseTo(500, 9);
		expect(heightOfShare(rings, 0.75)).toBeCloseTo(3500, 9);
	});

	test("leaves holes out, which run the other way", () => {
		const rings = [rectangle(0, 0, 4000, 4000), [...rectangle(1000, 0, 3000, 2000)].reverse()];
		// 2 m of floor wide up to half the height, then 4 m: a third of it lies below.
		expect(heightOfShare(rings, 1 / 3)).toBeCloseTo(2000, 9);
	});

	test("is nothing where there is no floor", () => {
		expect(heightOfShare([], 0.5)).toBe(0);
		expect(areaBelow([[]], 100)).toBe(0);
	});

	test("has the share below it, for any outline", () => {
		const outline = fc.oneof(starRing(), orthogonalRing(400));
		fc.assert(
			fc.property(outline, fc.double({ min: 0.01, max: 0.99, noNaN: true }), (ring, share) => {
				const area = regionArea(solid(ring));
				expect(areaBelow([ring], heightOfShare([ring], share)) / area).toBeCloseTo(share, 9);
			}),
			{ numRuns: 300 },
		);
	});
});
