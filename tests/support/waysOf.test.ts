import type { Layout } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import { describe, expect, it } from "vitest";
import { faultsOf } from "./checkLayout.ts";
import { floorLocator } from "./floorLocator.ts";
import { plannedFloor } from "./plannedFloor.ts";
import { shortestTails } from "./shortestTails.ts";
import { orderThrough, pipesThrough, rightOf, tailsOf, waysOf } from "./waysOf.ts";

/*
 *   +---------+---------+
 *   | west    | east    |
 *   |         |         |     3 m by 4 m each, a wall of 100 mm, a door of 900 mm in its lower half
 *   |         d         |
 *   +----M----+---------+
 */
const floor = plannedFloor({
	rooms: { west: [0, 0, 3000, 4000], east: [3100, 0, 6100, 4000] },
	doors: { door: [3000, 500, 3100, 1400] },
	keepouts: { tray: [5200, 0, 6100, 900] },
	manifolds: { m1: { at: [1500, 0], facing: 90 } },
});

const pipe = (id: string, port: number, coordinates: readonly Point[]): Layout["features"][number] => ({
	type: "Feature",
	id,
	geometry: { type: "LineString", coordinates },
	properties: { kind: "loop", manifold: "m1", port, rooms: ["east"], pattern: "serpentine", spacing: 200, length: 1 },
});

const layoutOf = (...features: Layout["features"]): Layout => ({
	type: "FeatureCollection",
	units: "mm",
	name: "",
	features,
	channels: [],
	notices: [],
});

/** Out through the door at one height and back at another. */
const through = (id: string, port: number, x: number, out: number, back: number): Layout["features"][number] =>
	pipe(id, port, [
		[x, 0],
		[x, out],
		[4000, out],
		[4000, back],
		[x + 25, back],
		[x + 25, 0],
	]);

const kinds = (layout: Layout): Set<string> => new Set(faultsOf(floor, layout).map((fault) => fault.split(":")[0]!));

describe("floorLocator", () => {
	const { partAt, isFloor } = floorLocator(floor);

	it("names the room or the doorway at a place, and nothing in a wall", () => {
		expect([partAt([10, 10]), partAt([3050, 900]), partAt([4000, 900]), partAt([3050, 2000])]).toEqual([
			"west",
			"door",
			"east",
			undefined,
		]);
	});

	it("takes a pipe through a doorway for floor, through a wall, a keep-out or a jamb not", () => {
		expect(isFloor([3000, 900], 8)).toBe(true);
		expect(isFloor([3050, 900], 8)).toBe(true);
		expect(isFloor([3050, 2000], 8)).toBe(false);
		expect(isFloor([3000, 504], 8)).toBe(false);
		expect(isFloor([5198, 500], 8)).toBe(false);
		expect(isFloor([5190, 500], 8)).toBe(true);
	});
});

describe("faultsOf, on two rooms", () => {
	it("sees a pipe in a wall and lets one through the door", () => {
		expect(kinds(layoutOf(through("L1", 1, 1500, 700, 1000)))).not.toContain("inside");
		expect(kinds(layoutOf(through("L1", 1, 1500, 700, 2000)))).toContain("inside");
	});

	it("sees a loop that hangs on a manifold which is not there", () => {
		const [loop] = layoutOf(through("L1", 1, 1500, 700, 1000)).features;
		const elsewhere = { ...loop!, properties: { ...loop!.properties, manifold: "m2" } };
		expect(kinds(layoutOf(elsewhere))).toContain("port");
	});
});

describe("waysOf", () => {
	const ways = waysOf(floor, layoutOf(through("L1", 1, 1550, 700, 750), through("L2", 2, 1500, 800, 850)));

	it("follows a pipe from room to room by the doors that it takes", () => {
		expect(ways[0]!.start).toBe("west");
		expect(ways[0]!.passes.map(({ doorway, from, to }) => [doorway, from, to])).toEqual([
			["door", "west", "east"],
			["door", "east", "west"],
		]);
		expect(ways[0]!.pipe.get("east")! / 1000).toBeCloseTo(1.85, 1);
	});

	it("knows how much pipe is on its way, and how far the door is", () => {
		// 700 up, 1450 to the wall, and 50 mm less a little where the samples lie in the doorway; then back
		expect(tailsOf(ways[0]!, ["east"])).toBeGreaterThan(4200);
		expect(tailsOf(ways[0]!, ["east"])).toBeLessThan(4400);
		expect(shortestTails(floor)(ways[0]!, [1500, 0])).toBeCloseTo(2 * Math.hypot(1550, 700), -2);
		expect(shortestTails(floor)({ ...ways[0]!, passes: [] }, [1500, 0])).toBe(0);
	});

	it("goes round the corners of a room on the shortest way", () => {
		/*
		 *    +---+
		 *    |   |       from the foot of the L to the door at its head: round the inner corner at (1000, 1000) and
		 *    |   |       the jamb at (1000, 3000)
		 *    |   d
		 *    |   +-----+
		 *    |         M
		 *    +---------+
		 */
		const bent = plannedFloor({
			rooms: {
				hall: [
					[0, 0],
					[4000, 0],
					[4000, 1000],
					[1000, 1000],
					[1000, 4000],
					[0, 4000],
				],
				attic: [1100, 1100, 4000, 4000],
			},
			doors: { door: [1000, 3000, 1100, 3900] },
			manifolds: { m1: { at: [4000, 500], facing: 180 } },
		});
		const tail: readonly Point[] = [
			[4000, 500],
			[500, 500],
			[500, 3450],
			[2000, 3450],
			[2000, 3500],
			[475, 3500],
			[475, 475],
			[4000, 475],
		];
		const [way] = waysOf(bent, layoutOf(pipe("L1", 1, tail)));
		const corner = Math.hypot(3000, 500) + 2000 + Math.hypot(50, 475);
		expect(shortestTails(bent)(way!, [4000, 500]) / 2 / corner).toBeCloseTo(1, 2);
	});

	it("tells of a way through a wall by naming no door", () => {
		const [way] = waysOf(floor, layoutOf(through("L1", 1, 1500, 2000, 900)));
		expect(way!.passes.map(({ doorway }) => doorway)).toEqual([undefined, "door"]);
	});

	it("counts the pipes in a doorway, and gives them from right to left", () => {
		expect(pipesThrough(ways)).toEqual(new Map([["door", 4]]));
		expect(orderThrough(ways, "door")).toEqual(["L1", "L1", "L2", "L2"]);
		expect(orderThrough(ways, "window")).toEqual([]);
	});

	it("measures along a manifold's wall to the right of who looks at it", () => {
		expect(rightOf({ position: [1500, 0], facing: 90 }, [1400, 0])).toBeCloseTo(100);
		expect(rightOf({ position: [0, 500], facing: 0 }, [0, 700])).toBeCloseTo(200);
	});
});
