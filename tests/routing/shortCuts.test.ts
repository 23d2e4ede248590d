import type { Point, Region } from "@oxturn/geometry";
import { regionArea } from "@oxturn/geometry";
import { routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { shortCutsOf, withoutCutOff } from "../../packages/routing/src/ways/shortCuts.ts";
import { faultsOf } from "../support/checkLayout.ts";
import { plannedFloor } from "../support/plannedFloor.ts";
import { squareTails } from "../support/squareTails.ts";
import { tailsOf, waysOf } from "../support/waysOf.ts";

/*
 * A hall with an arm that hangs from its lower wall.
 *
 *   +------------- 1 ---------------------+
 *   | hall                                |     From M the tails to the door 3 come by the mouth of the arm: they go
 *   +----M---+.........+--- 3 ------------+     straight on over it, along the dotted line.
 *            |   arm   |
 *            2         |
 *            +---------+
 */
const HALL: readonly Point[] = [
	[0, 4100],
	[5000, 4100],
	[5000, 600],
	[7000, 600],
	[7000, 4100],
	[14000, 4100],
	[14000, 5900],
	[0, 5900],
];
const region: Region = { outer: HALL, holes: [] };

describe("the short cuts of a hall with an arm", () => {
	const cuts = shortCutsOf(region);
	const named = cuts.map(({ side, from, to, goesOn }) => `${side} ${from} ${to} ${goesOn}`).sort();

	it("go on in each of the walls that end at one of its two inward corners, for who comes along either wall", () => {
		expect(named).toEqual(
			[
				// Over the mouth of the arm, from corner to corner.
				"right 5000,4100 7000,4100 true",
				"left 7000,4100 5000,4100 true",
				// Out of the arm to the wall opposite, and into the arm from there.
				"left 5000,4100 5000,5900 true",
				"right 5000,5900 5000,4100 false",
				"right 7000,4100 7000,5900 true",
				"left 7000,5900 7000,4100 false",
			].sort(),
		);
	});

	it("leave of it what lies on the other side of them", () => {
		const overMouth = cuts.find(({ side, goesOn, to }) => side === "right" && goesOn && to[1] === 4100)!;
		const rest = withoutCutOff(region, overMouth);
		expect(regionArea(rest)).toBeCloseTo(14000 * 1800, 0);
		expect(rest.outer).toHaveLength(4);
		const outOfArm = cuts.find(({ side, goesOn, to }) => side === "left" && goesOn && to[1] === 5900)!;
		expect(regionArea(withoutCutOff(region, outOfArm))).toBeCloseTo(9000 * 1800 + 2000 * 3500, 0);
	});
});

describe("tails to a door beyond the mouth of an arm", () => {
	const floor = plannedFloor({
		rooms: {
			hall: HALL,
			west: [900, 0, 4900, 4000],
			east: [7100, 0, 11100, 4000],
			north: [3000, 6000, 7000, 9000],
		},
		unheated: ["hall"],
		doors: {
			"door-north": [4500, 5900, 5400, 6000],
			"door-west": [4900, 1200, 5000, 2100],
			"door-east": [8000, 4000, 8900, 4100],
		},
		manifolds: { m1: { at: [2500, 4100], facing: 90 } },
	});
	const layout = routeFloor(floor);
	const ways = waysOf(floor, layout);

	it("go straight on over it, and those to a door in the arm go into it", () => {
		expect(faultsOf(floor, layout)).toEqual([]);
		const shortest = squareTails(floor);
		for (const [i, { properties }] of layout.features.entries()) {
			const ratio = tailsOf(ways[i]!, properties.rooms) / shortest(ways[i]!, floor.manifolds[0]!.position);
			expect(ratio, properties.rooms.join()).toBeLessThan(1.1);
		}
		expect(layout.features.map(({ properties }) => properties.rooms.join())).toEqual(
			expect.arrayContaining(["west", "east", "north"]),
		);
	});
});

describe("tails to a door at the end of a stem", () => {
	/*
	 *   +-----------+-----------+-----------+
	 *   | north-west| north     |           |     To the room in the north tails go straight on along the wall of the stem,
	 *   +-- - ------+-- - ------+-----------+     by the short cut over the hall and through the door: they neither turn nor
	 *   | hall                              |     change their line, though the door begins left of the wall that they follow.
	 *   +---------------+     +-------------+
	 *                   |     |
	 *              west -     |
	 *                   M     |
	 *                   |     |
	 *                   +-----+
	 */
	const floor = plannedFloor({
		rooms: {
			hall: [
				[0, 7500],
				[6000, 7500],
				[6000, 0],
				[7400, 0],
				[7400, 7500],
				[14000, 7500],
				[14000, 9000],
				[0, 9000],
			],
			west: [1900, 3400, 5900, 7400],
			north: [5000, 9100, 9000, 12000],
			"north-west": [0, 9100, 4900, 12000],
		},
		unheated: ["hall"],
		doors: {
			"door-west": [5900, 5600, 6000, 6400],
			"door-north": [5900, 9000, 6800, 9100],
			"door-north-west": [600, 9000, 1400, 9100],
		},
		manifolds: { m1: { at: [6000, 4200], facing: 0 } },
	});
	const layout = routeFloor(floor);
	const ways = waysOf(floor, layout);

	it("go straight on through it", () => {
		expect(faultsOf(floor, layout)).toEqual([]);
		const shortest = squareTails(floor);
		const ratio = (room: string): number => {
			const i = layout.features.findIndex(({ properties }) => properties.rooms.includes(room));
			return tailsOf(ways[i]!, [room]) / shortest(ways[i]!, floor.manifolds[0]!.position);
		};
		expect(ratio("north")).toBeLessThan(1.1);
	});
});
