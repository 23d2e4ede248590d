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

describe("a hall whose tails leave its own pipes no more than a corridor at the ports", () => {
	it.each([1020, 1060])(
		"has a loop on the floor at the end of it: %i mm wide",
		(width) => {
			const floor = crowdedHall(width);
			const layout = routeFloor(floor);
			expect(faultsOf(floor, layout)).toEqual([]);
			const told = layout.notices.filter(({ code }) => code !== "ROOM_OVERHEATED");
			expect(told).toEqual([]);
			expect(layout.features.filter(({ properties }) => properties.rooms.includes("hall"))).not.toEqual([]);
			const { coverage } = auditLayout(floor, layout, { cell: 40 });
			expect(coverage.find(({ room }) => room === "hall")!.within100).toBeGreaterThan(0.97);
		},
		60_000,
	);
});
