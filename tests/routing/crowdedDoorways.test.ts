import type { Floor, Layout, Notice } from "@oxturn/floor";
import { auditLayout, routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { faultsOf } from "../support/checkLayout.ts";
import { plannedFloor } from "../support/plannedFloor.ts";

/** Rooms that loops heat, and what is told of those without. */
function routed(floor: Floor): { layout: Layout; heated: string[]; cold: Notice[] } {
	const layout = routeFloor(floor);
	expect(faultsOf(floor, layout)).toEqual([]);
	expect(auditLayout(floor, layout, { coverage: false }).findings).toEqual([]);
	const heated = new Set(layout.features.flatMap(({ properties }) => properties.rooms));
	const cold = layout.notices.filter(({ code }) => ["DOORWAY_TOO_NARROW", "WAY_TOO_NARROW"].includes(code));
	return { layout, heated: [...heated].sort(), cold };
}

describe("a manifold in a cupboard whose doorway is too narrow", () => {
	/*
	 *   +---------+---------+---------+
	 *   | bath    | study   | bedroom |    with 80 m of pipe at 200 mm: one loop in the bath and in the study,
	 *   |         |         |         |    two in the hall and in the bedroom, so twelve pipes through the doorway;
	 *   +--- -----+--- -----+---- ----+    half as far apart again, one loop is enough in the hall, not in the bedroom
	 *   | hall                        |
	 *   +-------------| |-------------+
	 *                 | M |
	 */
	const house = (doorway: number): Floor =>
		plannedFloor({
			rooms: {
				cupboard: [5000, -1600, 7000, -100],
				hall: [0, 0, 12000, 1800],
				bath: [0, 1900, 3900, 4400],
				study: [4000, 1900, 7900, 4900],
				bedroom: [8000, 1900, 12000, 6400],
			},
			unheated: ["cupboard"],
			doors: {
				"door-cupboard": [5800, -100, 5800 + doorway, 0],
				"door-bath": [1500, 1800, 2300, 1900],
				"door-study": [5500, 1800, 6300, 1900],
				"door-bedroom": [9500, 1800, 10300, 1900],
			},
			manifolds: { m1: { at: [6000, -1600], facing: 90 } },
			maxLoopLength: 80,
		});

	it("keeps as many rooms as it takes loops: six pipes fit on 300 mm", () => {
		const { layout, heated, cold } = routed(house(300));
		expect(heated).toEqual(["bath", "hall", "study"]);
		expect(cold.map(({ code, subject }) => `${code} ${subject}`)).toEqual(["DOORWAY_TOO_NARROW bedroom"]);
		expect(cold[0]!.details).toEqual({ doorway: "door-cupboard", pipes: 12, fit: 6 });
		const widened = layout.notices.filter(({ code }) => code === "SPACING_WIDENED");
		expect(widened.map(({ subject }) => subject)).toContain("hall");
	});

	it("does without a hall's own loop first: four pipes fit on 200 mm", () => {
		const { heated, cold } = routed(house(200));
		expect(heated).toEqual(["bath", "study"]);
		expect(cold.map(({ subject }) => subject).sort()).toEqual(["bedroom", "hall"]);
	});

	it("leaves no room without where it is wide enough", () => {
		const { heated, cold } = routed(house(800));
		expect(heated).toEqual(["bath", "bedroom", "hall", "study"]);
		expect(cold).toEqual([]);
	});
});

describe("a hall that is too low for the tails to its rooms", () => {
	/*
	 *   +---------+---------+---------+
	 *   | bath    | study   | bedroom |    all doorways are 800 mm wide, but six pipes to the bedroom and two to the
	 *   +- -------+------ --+------ --+    study do not lie beside each other on 400 mm
	 *   | hall                        |
	 *   +----M------------------------+
	 */
	const { heated, cold } = routed(
		plannedFloor({
			rooms: {
				hall: [0, 0, 12000, 400],
				bath: [0, 500, 3900, 3000],
				study: [4000, 500, 7900, 3500],
				bedroom: [8000, 500, 12000, 5000],
			},
			doors: {
				"door-bath": [200, 400, 1000, 500],
				"door-study": [6900, 400, 7700, 500],
				"door-bedroom": [11000, 400, 11800, 500],
			},
			manifolds: { m1: { at: [2000, 0], facing: 90 } },
			spacings: { bedroom: 100 },
			maxLoopLength: 80,
		}),
	);

	it("has loops to the rooms that it takes tails to", () => {
		expect(heated).toEqual(["bath", "hall", "study"]);
	});

	it("is named in the notice of the room without: a wider doorway would not help", () => {
		expect(cold.map(({ code, subject }) => `${code} ${subject}`)).toEqual(["WAY_TOO_NARROW bedroom"]);
		const { details, message } = cold[0]!;
		expect(details).toEqual({
			doorway: "door-bedroom",
			pipes: 6,
			fit: 0,
			places: 16,
			through: "hall",
			throughName: "hall",
		});
		expect(message).toContain('"hall" has no place for more tails');
	});
});
