import { type Path, type Point, pathLength, roundPath } from "@oxturn/geometry";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

/** Turning of a path at its vertices, radians, absolute and summed. */
const turning = (path: Path): number =>
	path.slice(2).reduce((sum, c, i) => {
		const [a, b] = [path[i]!, path[i + 1]!];
		const turn = Math.atan2(c[1] - b[1], c[0] - b[0]) - Math.atan2(b[1] - a[1], b[0] - a[0]);
		return sum + Math.abs(Math.atan2(Math.sin(turn), Math.cos(turn)));
	}, 0);

describe("roundPath", () => {
	it("makes a square corner a quarter circle: two tangents saved, an arc of pi r / 2 in their place", () => {
		const path: Path = [
			[0, 0],
			[1000, 0],
			[1000, 1000],
		];
		const rounded = roundPath(path, 100, 0.01)!;
		// Closed form: 2000 mm less 2 r plus pi r / 2.
		expect(pathLength(rounded)).toBeCloseTo(2000 - 200 + 50 * Math.PI, 0);
		expect(rounded[0]).toEqual([0, 0]);
		expect(rounded.at(-1)).toEqual([1000, 1000]);
	});

	it("makes two opposite corners nearer than two radii an S of two arcs that meet halfway", () => {
		const jog = 60;
		const path: Path = [
			[0, 0],
			[500, 0],
			[500, jog],
			[1000, jog],
		];
		const rounded = roundPath(path, 100, 0.01)!;
		// Closed form: each arc turns by acos(1 - jog / 2r).
		expect(turning(rounded)).toBeCloseTo(2 * Math.acos(1 - jog / 200), 1);
		expect(rounded.some(([x, y]) => Math.abs(x - 500) < 1e-6 && Math.abs(y - jog / 2) < 1e-6)).toBe(true);
	});

	it("gives nothing where a side is too short for its corners", () => {
		const hairpin: Path = [
			[0, 0],
			[500, 0],
			[500, 100],
			[0, 100],
		];
		expect(roundPath(hairpin, 100)).toBeUndefined();
		expect(roundPath(hairpin, 50)).toBeDefined();
		expect(
			roundPath(
				[
					[0, 0],
					[40, 0],
					[40, 500],
				],
				100,
			),
		).toBeUndefined();
	});

	it("leaves a straight path as it is", () => {
		const straight: Path = [
			[0, 0],
			[300, 0],
		];
		expect(roundPath(straight, 100)).toEqual(straight);
	});

	it("never turns tighter than the radius, whatever the staircase", () => {
		const steps = fc.array(fc.tuple(fc.integer({ min: 50, max: 2000 }), fc.integer({ min: 50, max: 2000 })), {
			minLength: 1,
			maxLength: 8,
		});
		fc.assert(
			fc.property(steps, fc.integer({ min: 30, max: 150 }), (sides, radius) => {
				const path: Point[] = [[0, 0]];
				for (const [dx, dy] of sides) {
					const [x, y] = path.at(-1)!;
					path.push([x + dx, y], [x + dx, y + dy]);
				}
				const rounded = roundPath(path, radius, 0.05);
				if (!rounded) return;
				for (let i = 2; i < rounded.length; i++) {
					const part = rounded.slice(i - 2, i + 1);
					const least = Math.min(pathLength(part.slice(0, 2)), pathLength(part.slice(1)));
					// A chord of an arc turns by its length over the radius; tangents turn by half of that.
					expect(turning(part)).toBeLessThanOrEqual(Math.max(least, 1) / radius + 0.08);
				}
			}),
		);
	});
});
