import { difference, intersect, type Region, regionArea, union } from "@oxturn/geometry";
import * as turf from "@turf/turf";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { rectangle, solid, starRing } from "../support/shapes.ts";

const totalArea = (regions: readonly Region[]): number => regions.reduce((sum, region) => sum + regionArea(region), 0);

const left = solid(rectangle(0, 0, 3000, 2000));
const right = solid(rectangle(2000, 500, 5000, 1500));

describe("union, intersect and difference", () => {
	it("count overlapping floor once", () => {
		expect(totalArea(union([left, right]))).toBe(6e6 + 3e6 - 1e6);
		expect(totalArea(intersect([left], [right]))).toBe(1e6);
		expect(totalArea(difference([left], [right]))).toBe(5e6);
	});

	it("cut a hole where the second lies inside the first", () => {
		const column = solid(rectangle(1000, 800, 1400, 1200));
		const [floor, ...rest] = difference([left], [column]);
		expect(rest).toEqual([]);
		expect(floor!.holes).toHaveLength(1);
		expect(regionArea(floor!)).toBe(6e6 - 400 * 400);
	});

	it("give islands within a hole as regions of their own", () => {
		const frame = difference([solid(rectangle(0, 0, 3000, 3000))], [solid(rectangle(500, 500, 2500, 2500))]);
		const both = union([...frame, solid(rectangle(1000, 1000, 2000, 2000))]);
		expect(both).toHaveLength(2);
		expect(totalArea(both)).toBe(9e6 - 4e6 + 1e6);
	});

	it("turn outer rings anticlockwise and holes clockwise, whichever way they were drawn", () => {
		const [floor] = difference([solid([...left.outer].reverse())], [solid(rectangle(1000, 800, 1400, 1200))]);
		const twiceArea = (ring: readonly (readonly [number, number])[]): number =>
			ring.reduce((sum, [x, y], i) => sum + ring.at(i - 1)![0] * y - x * ring.at(i - 1)![1], 0);
		expect(twiceArea(floor!.outer)).toBeGreaterThan(0);
		expect(twiceArea(floor!.holes[0]!)).toBeLessThan(0);
	});

	it("have nothing to say about nothing", () => {
		expect(union([])).toEqual([]);
		expect(intersect([left], [])).toEqual([]);
		expect(difference([left], [])).toEqual([left]);
		expect(difference([], [left])).toEqual([]);
	});

	it("agree with a second library on any two outlines", () => {
		// Reference: union, intersect and difference of @turf/turf 7.4.0, a sweep-line library with floating coordinates.
		fc.assert(
			fc.property(starRing(), starRing([1700, 900]), (a, b) => {
				const feature = (ring: typeof a) => turf.polygon([[...ring, ring[0]!].map(([x, y]) => [x, y])]);
				const areaOf = (result: ReturnType<typeof turf.union>): number => {
					if (!result) return 0;
					const { type, coordinates } = result.geometry;
					const polygons = type === "Polygon" ? [coordinates] : coordinates;
					return polygons.reduce(
						(sum, rings) =>
							sum +
							rings.reduce((part, ring, k) => {
								let twice = 0;
								for (let i = 1; i < ring.length; i++)
									twice += ring[i - 1]![0]! * ring[i]![1]! - ring[i]![0]! * ring[i - 1]![1]!;
								return part + (k === 0 ? 1 : -1) * Math.abs(twice / 2);
							}, 0),
						0,
					);
				};
				const pair = turf.featureCollection([feature(a), feature(b)]);
				const [own, other] = [[solid(a)], [solid(b)]];
				expect(Math.abs(totalArea(union([...own, ...other])) - areaOf(turf.union(pair)))).toBeLessThan(50);
				expect(Math.abs(totalArea(intersect(own, other)) - areaOf(turf.intersect(pair)))).toBeLessThan(50);
				expect(Math.abs(totalArea(difference(own, other)) - areaOf(turf.difference(pair)))).toBeLessThan(50);
			}),
			{ seed: 111, numRuns: 60 },
		);
	});

	it("share out the floor: what is in both and what is in one only make the whole", () => {
		fc.assert(
			fc.property(starRing(), starRing([-900, 2500]), (a, b) => {
				const [own, other] = [[solid(a)], [solid(b)]];
				const parts = [intersect(own, other), difference(own, other), difference(other, own)];
				const sum = parts.reduce((total, part) => total + totalArea(part), 0);
				expect(Math.abs(sum - totalArea(union([...own, ...other])))).toBeLessThan(50);
			}),
			{ seed: 112, numRuns: 60 },
		);
	});
});
