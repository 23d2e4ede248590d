import { intersect, type Region, regionArea, union } from "@oxturn/geometry";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { cutByLimbs, limbPlans } from "../../packages/routing/src/zones/limbs.ts";
import { orthogonalRing, solid } from "../support/shapes.ts";

const areaOf = (regions: readonly Region[]): number => regions.reduce((sum, region) => sum + regionArea(region), 0);

/** Two legs of 2 x 3 m on a bar of 6 x 2 m. */
const u = solid([
	[0, 0],
	[6000, 0],
	[6000, 5000],
	[4000, 5000],
	[4000, 2000],
	[2000, 2000],
	[2000, 5000],
	[0, 5000],
]);
const alongWalls = [0, Math.PI / 2];

describe("a room with limbs", () => {
	test("has each of its legs for a zone, where those are large enough", () => {
		const both = limbPlans(u, alongWalls, 3).at(-1);
		const cells = cutByLimbs(u, both!, [1 / 3, 1 / 3, 1 / 3])!;
		const areas = cells.map((cell) => regionArea(cell) / 1e6).sort((a, b) => a - b);
		// The legs are 6 m2 each, a little less than a third of 24 m2; the bar keeps what they do not take.
		expect(areas[0]).toBeCloseTo(6, 1);
		expect(areas[1]).toBeCloseTo(6, 1);
		expect(areas[2]).toBeCloseTo(12, 1);
	});

	test("gives a zone as much of a leg as it asks for", () => {
		const [one] = limbPlans(u, alongWalls, 6);
		const [leg] = cutByLimbs(u, one!, [0.2, 0.16, 0.16, 0.16, 0.16, 0.16])!;
		expect(regionArea(leg!) / 1e6).toBeCloseTo(0.2 * 24, 1);
		// A straight cut across: as wide as the leg all the way.
		expect(new Set(leg!.outer.map(([x]) => Math.round(x / 10)))).toHaveLength(2);
	});

	test("is cut in other ways where it has none", () => {
		expect(
			limbPlans(
				solid([
					[0, 0],
					[5000, 0],
					[5000, 4000],
					[0, 4000],
				]),
				alongWalls,
				3,
			),
		).toEqual([]);
	});

	test("is shared out without loss and without overlap, whatever its outline", () => {
		fc.assert(
			fc.property(orthogonalRing(600), fc.integer({ min: 2, max: 5 }), (ring, count) => {
				const floor = solid(ring);
				for (const plan of limbPlans(floor, alongWalls, count)) {
					const cells = cutByLimbs(
						floor,
						plan,
						Array.from({ length: count }, () => 1 / count),
					);
					if (!cells) continue;
					expect(cells).toHaveLength(count);
					expect(areaOf(cells) / regionArea(floor)).toBeCloseTo(1, 2);
					expect(areaOf(union(cells)) / regionArea(floor)).toBeCloseTo(1, 2);
					expect(areaOf(intersect(cells, [floor])) / regionArea(floor)).toBeCloseTo(1, 2);
				}
			}),
			{ numRuns: 60 },
		);
	});
});
