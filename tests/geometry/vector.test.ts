import {
	add,
	cross,
	direction,
	distance,
	dot,
	leftOf,
	type Point,
	rotate,
	scale,
	subtract,
	turnBetween,
} from "@oxturn/geometry";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const vector: fc.Arbitrary<Point> = fc.tuple(
	fc.integer({ min: -9999, max: 9999 }),
	fc.integer({ min: -9999, max: 9999 }),
);

describe("vectors", () => {
	it("add, subtract and scale by their parts", () => {
		expect(add([3, 4], [10, -1])).toEqual([13, 3]);
		expect(subtract([3, 4], [10, -1])).toEqual([-7, 5]);
		expect(scale([3, -4], 2.5)).toEqual([7.5, -10]);
	});

	it("have a distance, and a direction unless they coincide", () => {
		expect(distance([1, 1], [4, 5])).toBe(5);
		expect(direction([1, 1], [4, 5])).toEqual([0.6, 0.8]);
		expect(direction([7, 7], [7, 7])).toEqual([0, 0]);
	});

	it("turn left by a quarter: anticlockwise, at right angles, as long as before", () => {
		expect(leftOf([1, 0])).toEqual([-0, 1]);
		fc.assert(
			fc.property(vector, (v) => {
				expect(dot(v, leftOf(v)) + 0).toBe(0);
				expect(cross(v, leftOf(v))).toBe(dot(v, v));
			}),
			{ seed: 171 },
		);
	});

	it("turn by the angle between them", () => {
		expect(turnBetween([1, 0], [0, 3])).toBeCloseTo(Math.PI / 2, 12);
		expect(turnBetween([1, 0], [1, -1])).toBeCloseTo(-Math.PI / 4, 12);
		fc.assert(
			fc.property(vector, fc.double({ min: -3.1, max: 3.1, noNaN: true }), (v, angle) => {
				fc.pre(dot(v, v) > 0);
				expect(turnBetween(v, rotate(v, Math.cos(angle), Math.sin(angle)))).toBeCloseTo(angle, 9);
			}),
			{ seed: 172 },
		);
	});
});
