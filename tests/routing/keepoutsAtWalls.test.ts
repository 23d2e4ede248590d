import type { Point } from "@oxturn/geometry";
import { auditLayout, routeFloor } from "@oxturn/routing";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { faultsOf } from "../support/checkLayout.ts";
import { singleRoom } from "../support/floors.ts";

describe("kitchen units along a wall", () => {
	/** A room of 6.2 x 5.2 m, and units 0.6 m deep that begin in the corner to the left of its manifold. */
	const room: Point[] = [
		[0, 0],
		[6200, 0],
		[6200, 5200],
		[0, 5200],
	];
	const units: Point[] = [
		[0, 4600],
		[3700, 4600],
		[3700, 5200],
		[0, 5200],
	];
	const angles = fc.double({ min: 0, max: 2 * Math.PI, noNaN: true });

	it("stand at it however the drawing is turned, though rounding leaves a hair between them", () => {
		fc.assert(
			fc.property(angles, fc.integer({ min: 0, max: 3 }), (angle, gap) => {
				const round = (value: number): number => Math.round(value * 1000) / 1000;
				const turned = ([x, y]: Point): Point => [
					round(x * Math.cos(angle) - y * Math.sin(angle)),
					round(x * Math.sin(angle) + y * Math.cos(angle)),
				];
				const floor = singleRoom({
					outer: room.map(turned),
					keepouts: [units.map(([x, y]) => turned([x, y - gap]))],
					wall: 3,
					along: 0.47,
					spacing: 150,
					maxLoopLength: 100,
				});
				const layout = routeFloor(floor);
				expect(faultsOf(floor, layout)).toEqual([]);
				expect(layout.notices).toEqual([]);
				expect(auditLayout(floor, layout).coverage[0]!.within100).toBeGreaterThan(0.98);
			}),
			{ numRuns: 25 },
		);
	}, 60_000);

	it("stand at it where the two outlines touch, but do not run into each other", () => {
		// Turned by 64 degrees and rounded to 1 um: the room less the units is a ring that touches itself.
		const made = singleRoom({
			outer: [
				[1062.002, 4668.363],
				[-1620.063, -921.496],
				[3068.206, -3170.971],
				[5750.271, 2418.889],
			],
			keepouts: [
				[
					[5209.317, 2678.443],
					[3608.73, -657.44],
					[4149.684, -916.995],
					[5750.271, 2418.889],
				],
			],
			wall: 3,
			along: 0.47,
			spacing: 150,
			maxLoopLength: 100,
		});
		const manifolds = made.manifolds.map((manifold) => ({ ...manifold, position: [3534.612, 3459.799] as const }));
		const floor = { ...made, manifolds };
		const layout = routeFloor(floor);
		expect(faultsOf(floor, layout)).toEqual([]);
		expect(layout.notices).toEqual([]);
		expect(auditLayout(floor, layout).coverage[0]!.within100).toBeGreaterThan(0.98);
	}, 60_000);
});
