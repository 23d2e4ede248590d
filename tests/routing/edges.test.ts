import type { Point, Region } from "@oxturn/geometry";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findTightBends } from "../../packages/routing/src/audit/bends.ts";
import { traceLoop } from "../../packages/routing/src/audit/trace.ts";
import { alongEdge, edgeThrough } from "../../packages/routing/src/tails/edges.ts";
import { solid } from "../support/shapes.ts";

interface Jogs {
	readonly radius: number;
	readonly first: number;
	readonly second: number;
	readonly apart: number;
	readonly slant: number;
}

describe("the edge of a floor with jogs too small for two bends of the pipe", () => {
	/** A wall that steps aside by a little, twice. */
	const jogs = fc.record({
		radius: fc.constantFrom(60, 73.5, 80, 100),
		first: fc.integer({ min: 2, max: 200 }),
		second: fc.integer({ min: -200, max: 200 }),
		apart: fc.integer({ min: 10, max: 600 }),
		slant: fc.double({ min: -0.4, max: 0.4, noNaN: true }),
	});

	const label = { id: "tail", manifold: undefined, port: undefined, rooms: undefined, statedLength: undefined };
	const floorOf = ({ first, second, apart, slant }: Jogs): Region => {
		const rim: Point[] = [
			[0, 0],
			[1000, 0],
			[1000 + slant * first, first],
			[1000 + apart, first],
			[1000 + apart + slant * second, first + second],
			[3000, first + second],
		];
		return solid([...rim, [3000, 2000], [0, 2000]]);
	};

	it("as a track all round has no bend that passes for a tighter one than the pipe's", () => {
		fc.assert(
			fc.property(jogs, (made) => {
				const track = edgeThrough([floorOf(made)], [[300, 0]], made.radius);
				expect(findTightBends(made.radius, [traceLoop(label, [...track!.ring, track!.ring[0]!])])).toEqual([]);
			}),
			{ numRuns: 3000 },
		);
	});

	it("is rounded so that the pipe can follow it, and no bend of it passes for a tighter one", () => {
		let rounded = 0;
		fc.assert(
			fc.property(jogs, (made) => {
				const end: Point = [2700, made.first + made.second];
				const path = alongEdge([floorOf(made)], [300, 0], end, 1, made.radius);
				if (!path) return;
				rounded++;
				expect(findTightBends(made.radius, [traceLoop(label, path)])).toEqual([]);
			}),
			{ numRuns: 3000 },
		);
		expect(rounded).toBeGreaterThan(1000);
	});
});
