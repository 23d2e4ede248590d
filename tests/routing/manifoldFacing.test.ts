import { routeFloor } from "@oxturn/routing";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { squareToWalls } from "../../packages/routing/src/squareToWalls.ts";
import { faultsOf } from "../support/checkLayout.ts";
import { movedFloor, singleRoom } from "../support/floors.ts";
import { rectangle } from "../support/shapes.ts";

describe("a manifold whose facing is off square to its wall", () => {
	const square = singleRoom({ outer: rectangle(0, 0, 5000, 4000), spacing: 100, maxLoopLength: 60 });
	const turnedBy = (degrees: number) => ({
		...square,
		manifolds: square.manifolds.map((manifold) => ({ ...manifold, facing: manifold.facing + degrees })),
	});

	it("is laid as if it were square where it is a few degrees off: its ports hang along the wall, not half of them in it", () => {
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

	it("is told of where it is farther off, and laid all the same", () => {
		const straight = routeFloor(square);
		for (const degrees of [-50, -20, 15, 40]) {
			const turned = turnedBy(degrees);
			const layout = routeFloor(turned);
			expect(layout.features.map(({ geometry }) => geometry)).toEqual(
				straight.features.map(({ geometry }) => geometry),
			);
			expect(faultsOf(turned, layout)).toEqual([]);
			const { id, facing } = turned.manifolds[0]!;
			expect(layout.notices).toMatchObject([
				{ code: "MANIFOLD_TURNED", subject: id, details: { facing, square: square.manifolds[0]!.facing } },
			]);
		}
	});

	it("near a corner hangs on the wall that it faces away from", () => {
		const [manifold] = square.manifolds;
		const inCorner = (facing: number) => ({
			...square,
			manifolds: [{ ...manifold!, position: [80, 50] as const, facing }],
		});
		const facingOf = (facing: number): number => squareToWalls(inCorner(facing)).floor.manifolds[0]!.facing;
		expect(facingOf(10)).toBe(0);
		expect(facingOf(80)).toBe(90);
		expect(squareToWalls(inCorner(0))).toEqual({ floor: inCorner(0), turned: [] });
	});

	it("keeps its facing where it is nearly along the wall: that is meant", () => {
		const facings = (degrees: number): number[] =>
			squareToWalls(turnedBy(degrees)).floor.manifolds.map(({ facing }) => facing);
		expect(facings(-59)).toEqual(facings(0));
		expect(facings(-61)).toEqual([facings(0)[0]! - 61]);
	});
});
