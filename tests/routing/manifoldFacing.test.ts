import { routeFloor } from "@oxturn/routing";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { squareToWalls } from "../../packages/routing/src/squareToWalls.ts";
import { faultsOf } from "../support/checkLayout.ts";
import { movedFloor, singleRoom } from "../support/floors.ts";
import { rectangle } from "../support/shapes.ts";

describe("a manifold whose facing is a few degrees off square to its wall", () => {
	const square = singleRoom({ outer: rectangle(0, 0, 5000, 4000), spacing: 100, maxLoopLength: 60 });
	const turnedBy = (degrees: number) => ({
		...square,
		manifolds: square.manifolds.map((manifold) => ({ ...manifold, facing: manifold.facing + degrees })),
	});

	it("is laid as if it were square: its ports hang along the wall, not half of them in it", () => {
		const layout = routeFloor(square);
		expect(layout.features.length).toBeGreaterThan(3);
		expect(layout.notices).toEqual([]);
		fc.assert(
			fc.property(fc.double({ min: -10, max: 10, noNaN: true }), (degrees) => {
				const { features } = routeFloor(turnedBy(Math.abs(degrees) < 0.3 ? 0.3 : degrees));
				expect(features.map(({ geometry }) => geometry)).toEqual(layout.features.map(({ geometry }) => geometry));
			}),
			{ numRuns: 6 },
		);
	});

	it("is so on slanting walls as well", () => {
		const slanting = movedFloor(turnedBy(4), 0.4, 1200, -300);
		const layout = routeFloor(slanting);
		expect(layout.notices).toEqual([]);
		expect(faultsOf(slanting, layout)).toEqual([]);
	});

	it("keeps its facing where it is farther off: that is meant", () => {
		const facings = (degrees: number): number[] =>
			squareToWalls(turnedBy(degrees)).manifolds.map(({ facing }) => facing);
		expect(facings(11)).toEqual(facings(0));
		expect(facings(-20)).toEqual([facings(0)[0]! - 20]);
	});
});
