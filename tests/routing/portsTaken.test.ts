import { routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { plannedFloor } from "../support/plannedFloor.ts";

/** Two bedrooms off a hall: with the hall's own, three loops are needed. A doorway leads to the shed only where told. */
const house = (ports: number | undefined, doors: Readonly<Record<string, readonly [number, number, number, number]>>) =>
	routeFloor(
		plannedFloor({
			rooms: {
				hall: [0, 0, 6000, 1500],
				near: [0, 1600, 3000, 5000],
				far: [3100, 1600, 6000, 5000],
				shed: [6100, 0, 8000, 3000],
			},
			unheated: doors["hall-shed"] ? [] : ["far"],
			doors: { "hall-near": [600, 1500, 1500, 1600], "hall-far": [4000, 1500, 4900, 1600], ...doors },
			manifolds: { m1: { at: [1500, 0], facing: 90, ...(ports ? { ports } : {}) } },
		}),
	).notices.filter(({ code }) => code === "ROOM_UNSERVED");

const toTheShed = { "hall-shed": [6000, 300, 6100, 1200] } as const;

describe("a room for which a manifold has no port left", () => {
	it("is told so, with the manifold and its ports, and not that no doorway leads to it", () => {
		const [notice, ...others] = house(3, toTheShed);
		expect(others).toEqual([]);
		expect(notice).toMatchObject({ subject: "shed", details: { reason: "no-port", manifold: "m1", ports: 3 } });
		expect(notice!.message).toBe(
			'Room "shed" has no loop: the manifold "m1" has 3 ports, too few for this room as well. Choose one with more ports, or hang another.',
		);
	});

	it("has its loop where there are ports enough", () => {
		expect(house(undefined, toTheShed)).toEqual([]);
	});

	it("is another thing than a room that no doorway leads to", () => {
		expect(house(3, {})).toMatchObject([{ subject: "shed", details: { reason: "no-manifold" } }]);
	});
});
