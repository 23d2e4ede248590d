import type { Floor, Layout } from "@oxturn/floor";
import { auditLayout, routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { faultsOf } from "../support/checkLayout.ts";
import { plannedFloor } from "../support/plannedFloor.ts";

/** A long hall with ten rooms about it, its manifold near one end: tails to both ends leave a corridor for a pair at the ports. */
const crowdedHall = (width: number) => {
	const [wall, right] = [width + 110, width + 3110];
	return plannedFloor({
		rooms: {
			hall: [0, 0, width, 13400],
			sewing: [-2900, 0, -110, 4600],
			toilet: [-4800, 0, -3010, 1640],
			kitchen: [-4800, 4750, -110, 8200],
			shower: [-4800, 1750, -3010, 4640],
			bath: [-2300, 8350, -110, 11600],
			music: [-4800, 8350, -2410, 11600],
			guests: [-4800, 11710, -110, 13400],
			living: [wall, 0, right, 6100],
			nursery: [wall, 6250, right, 9300],
			bedroom: [wall, 9400, right, 13400],
		},
		doors: {
			"hall-guests": [-110, 12140, 0, 13040],
			"hall-bath": [-110, 8430, 0, 9330],
			"hall-kitchen": [-110, 6150, 0, 6850],
			"hall-sewing": [-110, 70, 0, 820],
			"hall-bedroom": [width, 12600, wall, 13350],
			"hall-nursery": [width, 7250, wall, 8250],
			"hall-living": [width, 70, wall, 1070],
			"guests-music": [-4700, 11600, -3700, 11710],
			"kitchen-shower": [-4200, 4640, -3500, 4750],
			"sewing-toilet": [-3010, 870, -2900, 1570],
		},
		manifolds: { m1: { at: [width, 1735], facing: 180 } },
	});
};

/**
 * A hall in the shape of an L, its manifold near the end of one arm: ten pipes pass along the wall that this hangs on, and
 * ten round the end of the arm and along the other wall. Up to the other arm, `height` mm are to hold them and the hall's own.
 */
const hallBetweenBundles = (height: number) => {
	const [low, end, far] = [-height, -height - 3350, -height - 140];
	return plannedFloor({
		rooms: {
			hall: [
				[5230, 0],
				[0, 0],
				[0, low],
				[3970, low],
				[3970, end],
				[5230, end],
			],
			box: [0, 140, 3210, 2600],
			bath: [3350, 140, 5230, 3710],
			utility: [5370, -580, 8130, 1640],
			study: [8270, -580, 10320, 3710],
			dressing: [2940, 3850, 6110, 5310],
			bedroom: [2940, 5450, 6110, 7950],
			living: [0, end, 3830, far],
			nursery: [5370, end, 7280, -720],
			kitchen: [7420, end, 10320, -720],
		},
		doors: {
			"hall-box": [2140, 0, 3140, 140],
			"hall-bath": [4260, 0, 5160, 140],
			"hall-living": [1415, far, 2415, low],
			"hall-nursery": [5230, -1690, 5370, -790],
			"bath-utility": [5230, 230, 5370, 1080],
			"bath-dressing": [3790, 3710, 4790, 3850],
			"dressing-bedroom": [5040, 5310, 6040, 5450],
			"utility-study": [8130, 130, 8270, 880],
			"nursery-kitchen": [7280, -3010, 7420, -2310],
		},
		manifolds: { m1: { at: [920, 0], facing: 270 } },
		spacing: 125,
		maxLoopLength: 90,
	});
};

const loopsIn = (layout: Layout, room: string) =>
	layout.features.filter(({ properties }) => properties.rooms.includes(room));

const warmthOf = (floor: Floor, layout: Layout, room: string): number =>
	auditLayout(floor, layout, { cell: 40 }).coverage.find((each) => each.room === room)!.within100;

describe("a hall whose tails leave its own pipes no more than a corridor at the ports", () => {
	it.each([1020, 1060])(
		"has a loop on the floor at the end of it: %i mm wide",
		(width) => {
			const floor = crowdedHall(width);
			const layout = routeFloor(floor);
			expect(faultsOf(floor, layout)).toEqual([]);
			const told = layout.notices.filter(({ code }) => code !== "ROOM_OVERHEATED");
			expect(told).toEqual([]);
			expect(loopsIn(layout, "hall")).not.toEqual([]);
			expect(warmthOf(floor, layout, "hall")).toBeGreaterThan(0.97);
		},
		60_000,
	);
});

describe("a hall whose tails leave its own pipes less than their pitch on either side", () => {
	it.each([1280, 1320])(
		"has a loop all the same, since those close up to the walls: %i mm between these",
		(height) => {
			const floor = hallBetweenBundles(height);
			const layout = routeFloor(floor);
			expect(faultsOf(floor, layout)).toEqual([]);
			expect(loopsIn(layout, "hall")).toHaveLength(1);
			expect(warmthOf(floor, layout, "hall")).toBeGreaterThan(0.97);
			// Past the corner the outermost lies nearer to its wall than it could turn off the one that the manifold hangs on.
			const nursery = loopsIn(layout, "nursery")[0]!.geometry.coordinates;
			const living = loopsIn(layout, "living")[0]!.geometry.coordinates;
			const fromWall = [...nursery, ...living].filter(([x, y]) => x < 1200 && y < -400).map(([, y]) => y + height);
			expect(Math.min(...fromWall)).toBeLessThan(floor.system.pipe.minBendRadius);
		},
		60_000,
	);
});

describe("a hall that wants a loop as its tails lie without it, and none as they lie with it", () => {
	it("has one, with its tails led otherwise", () => {
		const floor = hallBetweenBundles(1400);
		const layout = routeFloor(floor);
		expect(faultsOf(floor, layout)).toEqual([]);
		expect(loopsIn(layout, "hall")).toHaveLength(1);
		expect(warmthOf(floor, layout, "hall")).toBeGreaterThan(0.97);
	}, 60_000);
});
