import { difference, offset, type Point, type Region, type Ring, regionArea, rotate, union } from "@oxturn/geometry";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bridgesOnce, ringCutOpen, ringsBridged } from "../../packages/routing/src/field/rings.ts";

const rectangle = (left: number, low: number, right: number, high: number): Region => ({
	outer: [
		[left, low],
		[right, low],
		[right, high],
		[left, high],
	],
	holes: [],
});

const contour = rectangle(0, 0, 3000, 2000);
const inner = offset([contour], -200);
/** Across the lane along the lower wall. */
const bar: Ring = rectangle(1000, -1, 1200, 201).outer;

const areaOf = (regions: readonly Region[]): number => regions.reduce((sum, region) => sum + regionArea(region), 0);

describe("a lane cut open by a bar", () => {
	it("is what clipping leaves of it", () => {
		const open = ringCutOpen(contour, inner, bar)!;
		expect(regionArea(open)).toBeCloseTo(areaOf(difference([contour], [...inner, { outer: bar, holes: [] }])), 3);
	});

	it("is the same however it is turned, whichever way round the bar is given and wherever the rings begin", () => {
		const clipped = areaOf(difference([contour], [...inner, { outer: bar, holes: [] }]));
		const turn = fc.double({ min: -3, max: 3, noNaN: true });
		fc.assert(
			fc.property(fc.nat(3), fc.nat(3), fc.boolean(), turn, (i, k, isReversed, angle) => {
				const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
				const turned = (ring: Ring): Ring => ring.map((p): Point => rotate(p, cos, sin));
				const from = (ring: Ring, first: number): Ring => turned([...ring.slice(first), ...ring.slice(0, first)]);
				const around: Region = { outer: from(contour.outer, i), holes: [] };
				const within = inner.map(({ outer }): Region => ({ outer: from(outer, k), holes: [] }));
				const open = ringCutOpen(around, within, turned(isReversed ? [...bar].reverse() : bar))!;
				expect(regionArea(open)).toBeCloseTo(clipped, 3);
			}),
		);
	});

	it("takes more than a plain cut where the bar reaches a second side, or not as far as the inner contour", () => {
		expect(ringCutOpen(contour, inner, rectangle(-1, -1, 150, 201).outer)).toBeUndefined();
		expect(ringCutOpen(contour, inner, rectangle(1000, -1, 1200, 150).outer)).toBeUndefined();
		expect(ringCutOpen(contour, inner, rectangle(1000, -1, 1200, 2001).outer)).toBeUndefined();
	});

	it("takes more than a plain cut where there are two contours inside, or holes", () => {
		const holed: Region = { ...contour, holes: [[...rectangle(50, 50, 60, 60).outer].reverse()] };
		expect(ringCutOpen(contour, [...inner, rectangle(10, 10, 20, 20)], bar)).toBeUndefined();
		expect(ringCutOpen(holed, inner, bar)).toBeUndefined();
	});
});

describe("two rings joined by a bar", () => {
	const lower = rectangle(0, 0, 1000, 500);
	const upper = rectangle(0, 800, 1000, 1500);
	const between = rectangle(400, 499, 600, 801);

	it("are one, with the bar in it", () => {
		expect(bridgesOnce(between.outer, lower, upper)).toBe(true);
		const joined = ringsBridged(lower, upper, between.outer)!;
		expect(regionArea(joined)).toBeCloseTo(areaOf(union([lower, upper, between])), 3);
		expect(regionArea(joined)).toBeCloseTo(areaOf(union([upper, lower, between])), 3);
	});

	it("may be joined along the very end of a side", () => {
		const atEnd = rectangle(800, 499, 1000, 801);
		expect(regionArea(ringsBridged(lower, upper, atEnd.outer)!)).toBeCloseTo(500_000 + 700_000 + 60_000, 3);
	});

	it("are not where the bar misses one of them, or reaches beyond its side", () => {
		expect(ringsBridged(lower, upper, rectangle(400, 499, 600, 700).outer)).toBeUndefined();
		expect(ringsBridged(lower, upper, rectangle(900, 499, 1100, 801).outer)).toBeUndefined();
		expect(bridgesOnce(rectangle(400, 499, 600, 700).outer, lower, upper)).toBe(false);
	});
});
