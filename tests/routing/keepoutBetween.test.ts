import { routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { type Box, plannedFloor } from "../support/plannedFloor.ts";

/** Two rooms off a hall, with the manifold at the hall's lower wall. */
const twoRooms = (keepouts: Readonly<Record<string, Box>>) =>
	plannedFloor({
		rooms: { hall: [0, 0, 6000, 1500], bedroom: [0, 1600, 3000, 5000], living: [3100, 1600, 6000, 5000] },
		doors: { "hall-bedroom": [600, 1500, 1500, 1600], "hall-living": [4000, 1500, 4900, 1600] },
		keepouts,
		manifolds: { m1: { at: [1500, 0], facing: 90 } },
	});

const toldOf = (keepouts: Readonly<Record<string, Box>>, room: string) =>
	routeFloor(twoRooms(keepouts)).notices.filter(({ code, subject }) => code === "ROOM_UNSERVED" && subject === room);

describe("a room that no pipe comes to", () => {
	it("tells of the keep-out in front of the manifold of the hall that it opens off", () => {
		for (const room of ["bedroom", "living"]) {
			const details = { reason: "beyond-keepout", keepout: "shelf", manifold: "m1" };
			expect(toldOf({ shelf: [900, 100, 2100, 700] }, room)).toMatchObject([{ details }]);
		}
	});

	it("tells of the keep-out that cuts the hall in two, and not of another that bars nothing", () => {
		const keepouts: Readonly<Record<string, Box>> = { chest: [100, 1800, 600, 2300], bench: [3300, 0, 3700, 1500] };
		const [notice, ...others] = toldOf(keepouts, "living");
		expect(others).toEqual([]);
		expect(notice!.details).toEqual({ reason: "beyond-keepout", keepout: "bench", manifold: "m1" });
		expect(notice!.message).toContain('keep-out "bench" bars the way to it from the manifold "m1"');
		expect(toldOf(keepouts, "bedroom")).toEqual([]);
	});

	it("tells of no keep-out where none is enough to open a way", () => {
		const keepouts: Readonly<Record<string, Box>> = { bench: [3300, 0, 3700, 1500], rack: [3900, 0, 5000, 1500] };
		expect(toldOf(keepouts, "living")).toMatchObject([{ details: { reason: "no-manifold" } }]);
	});
});
