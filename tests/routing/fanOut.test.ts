import type { Path, Point, Pose } from "@oxturn/geometry";
import { routeFloor } from "@oxturn/routing";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { clearOfPipes } from "../../packages/routing/src/tails/clearance.ts";
import { layTail } from "../../packages/routing/src/tails/layTail.ts";
import { clearanceRules } from "../../packages/routing/src/tails/rules.ts";
import { trackSource } from "../../packages/routing/src/tails/tracks.ts";
import { faultsOf } from "../support/checkLayout.ts";
import { type SingleRoom, singleRoom } from "../support/floors.ts";
import { rectangle, solid } from "../support/shapes.ts";

/*
 * Ports are 25 mm apart, and pipes may stay that close within 800 mm of the manifold only. Tails that turn off one after
 * the other, each in a quarter circle 50 mm farther out than the one before, keep the last one beside its neighbours for
 * longer than that.
 */

const outer = rectangle(0, 0, 15_000, 10_000);
const { manifolds, system } = singleRoom({ outer });
const manifold = manifolds[0]!;
const [middle] = manifold.position;
const rules = clearanceRules(solid(outer), manifold, system);

/** `count` tails from ports 25 mm apart along the wall to the right, the rightmost nearest to it. */
function tailsToTheRight(count: number, isFan: boolean): Path[] {
	const tracks = trackSource(solid(outer), manifold.position, 100, 50, system.pipe.minBendRadius)(count);
	const laid: Path[] = [];
	for (const [k, track] of tracks.entries()) {
		const port: Pose = { at: [middle - 25 * k, 0], heading: Math.PI / 2 };
		const tail = layTail({ port, track, way: 1, entry: [14_000, 4], others: laid, rules, isFan });
		if (tail) laid.push(tail.path);
	}
	return laid;
}

/** Straight on from a port to the left of so many, 1.2 m into the room. */
const straightOn = (count: number): Path => [
	[middle - 25 * count, 0],
	[middle - 25 * count, 1200],
];

/** How far a pipe goes straight on from its port, mm. */
const straightOf = (path: Path): number => {
	const turn = path.findIndex(([x]: Point) => Math.abs(x - path[0]![0]) > 1);
	return path[turn - 1]![1];
};

describe("tails that fan out", () => {
	it("all find a way, as many as eighteen to one side", () => {
		expect(tailsToTheRight(18, true)).toHaveLength(18);
	});

	it("leave their ports' side in a slant, long before they would in a quarter circle", () => {
		const last = (isFan: boolean): number => straightOf(tailsToTheRight(12, isFan).at(-1)!);
		// 650 mm off the wall lies the twelfth track, and a quarter circle of 80 mm ends there.
		expect(last(false)).toBeCloseTo(650 - 80, -1);
		expect(last(true)).toBeLessThan(400);
	});

	it("leave a pipe between them and those that go the other way its place to go straight on", () => {
		fc.assert(
			fc.property(fc.integer({ min: 1, max: 16 }), (count) =>
				clearOfPipes(straightOn(count), tailsToTheRight(count, true), rules),
			),
		);
		expect(clearOfPipes(straightOn(16), tailsToTheRight(16, false), rules)).toBe(false);
	});
});

describe("a room of many loops from one manifold", () => {
	const room = (w: number, h: number, along: number, spacing: number, maxLoopLength: number): SingleRoom => ({
		outer: rectangle(0, 0, w, h),
		along,
		spacing,
		maxLoopLength,
		edgeDistance: 100,
	});
	// Least number of loops: area / spacing / maxLoopLength, rounded up (common practice, no source).
	it.each<[string, SingleRoom, number]>([
		["15.4 x 6.3 m, its manifold near the left", room(15_380, 6293, 0.2, 100, 80), 13],
		["15.0 x 12.7 m, its manifold left of the middle", room(14_978, 12_650, 0.34, 150, 100), 13],
		["19.3 x 9.5 m, its manifold near the right", room(19_312, 9450, 0.777, 150, 100), 13],
		["16.7 x 9.0 m, its manifold near the left", room(16_729, 8952, 0.21, 100, 120), 13],
		["15.7 x 10.3 m, its manifold near a corner", room(15_739, 10_261, 0.87, 200, 80), 11],
		["24.0 x 9.7 m, its manifold near the middle", room(24_009, 9748, 0.45, 150, 120), 14],
	])(
		"has as few as area and spacing ask for, all of them served: %s",
		(_, made, loops) => {
			const floor = singleRoom(made);
			const layout = routeFloor(floor);
			expect(faultsOf(floor, layout)).toEqual([]);
			expect(layout.features).toHaveLength(loops);
			expect(layout.notices).toEqual([]);
		},
		60_000,
	);
});
