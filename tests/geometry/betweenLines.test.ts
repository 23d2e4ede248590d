import {
	betweenLines,
	difference,
	intersect,
	type Point,
	type Region,
	regionArea,
	rotate,
	signedArea,
} from "@oxturn/geometry";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { orthogonalRing, perimeter, rectangle, solid, starRing } from "../support/shapes.ts";

const totalArea = (regions: readonly Region[]): number => regions.reduce((sum, region) => sum + regionArea(region), 0);

/** Legs 1 m wide on either side of a gap of 2 m, 3 m high, on a base 1 m high. */
const u: Region = solid([
	[0, 0],
	[4000, 0],
	[4000, 3000],
	[3000, 3000],
	[3000, 1000],
	[1000, 1000],
	[1000, 3000],
	[0, 3000],
]);

/** A strip along a direction, longer than any of these outlines. */
const strip = (direction: number, from: number, to: number): Region =>
	solid(rectangle(-1e5, from, 1e5, to).map((p): Point => rotate(p, Math.cos(direction), Math.sin(direction))));

describe("the part of a region between two lines", () => {
	it("is a strip of a rectangle", () => {
		const room = solid(rectangle(0, 0, 5000, 4000));
		const [part, ...rest] = betweenLines(room, { direction: 0, from: 1000, to: 2500 });
		expect(rest).toEqual([]);
		expect(part!.outer).toHaveLength(4);
		expect(regionArea(part!)).toBe(5000 * 1500);
	});

	it("counts heights to the left of the direction", () => {
		// Along +y the left is -x.
		const room = solid(rectangle(0, 0, 5000, 4000));
		const [part] = betweenLines(room, { direction: Math.PI / 2, from: -1000, to: Infinity });
		expect(Math.max(...part!.outer.map(([x]) => x))).toBeCloseTo(1000, 6);
	});

	it("is the region itself where neither line meets it, and nothing where it lies beside them", () => {
		expect(totalArea(betweenLines(u, { direction: 0, from: -Infinity, to: Infinity }))).toBe(regionArea(u));
		expect(totalArea(betweenLines(u, { direction: 0, from: -10, to: 4000 }))).toBe(regionArea(u));
		expect(betweenLines(u, { direction: 0, from: 3500, to: 4000 })).toEqual([]);
	});

	it("is in pieces where a line crosses the outline more than twice", () => {
		const legs = betweenLines(u, { direction: 0, from: 2000, to: Infinity });
		expect(legs).toHaveLength(2);
		expect(totalArea(legs)).toBe(2 * 1000 * 1000);
	});

	it("keeps to corners that a line goes through", () => {
		expect(totalArea(betweenLines(u, { direction: 0, from: 1000, to: Infinity }))).toBe(2 * 1000 * 2000);
		expect(totalArea(betweenLines(u, { direction: 0, from: -Infinity, to: 1000 }))).toBe(4000 * 1000);
	});

	it("keeps the sense of a plain ring", () => {
		const clockwise = solid([...rectangle(0, 0, 4000, 3000)].reverse());
		const [part] = betweenLines(clockwise, { direction: 0, from: 500, to: 1500 });
		expect(signedArea(part!.outer)).toBe(-4000 * 1000);
	});

	it("leaves holes out", () => {
		const hall: Region = {
			outer: rectangle(0, 0, 4000, 4000),
			holes: [[...rectangle(1000, 1000, 2000, 2000)].reverse()],
		};
		expect(totalArea(betweenLines(hall, { direction: 0, from: 0, to: 1500 }))).toBe(4000 * 1500 - 1000 * 500);
	});

	it("is what clipping by a strip leaves, for any outline and direction", () => {
		const outline = fc.oneof(starRing(), orthogonalRing(400));
		const angle = fc.oneof(
			fc.constantFrom(0, Math.PI / 2, -Math.PI / 2),
			fc.double({ min: -3.2, max: 3.2, noNaN: true }),
		);
		const height = fc.integer({ min: -5000, max: 5000 });
		fc.assert(
			fc.property(outline, angle, height, fc.integer({ min: 1, max: 4000 }), fc.option(fc.nat()), (...drawn) => {
				const [outer, direction, anywhere, width, corner] = drawn;
				// As often as not the lower line goes through a corner.
				const [x, y] = outer[(corner ?? 0) % outer.length]!;
				const from = corner === null ? anywhere : y * Math.cos(direction) - x * Math.sin(direction);
				const part = betweenLines(solid(outer), { direction, from, to: from + width });
				const clipped = intersect([solid(outer)], [strip(direction, from, from + width)]);
				const rim = clipped.reduce((sum, piece) => sum + perimeter(piece.outer), 1);
				// Corners are rounded to 1 um, and so is the strip.
				const off = totalArea(difference(part, clipped)) + totalArea(difference(clipped, part));
				expect(off).toBeLessThan(0.004 * rim);
			}),
			{ numRuns: 300 },
		);
	});
});
