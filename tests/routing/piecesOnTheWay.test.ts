import { mkdirSync, writeFileSync } from "node:fs";
import { drawPlan } from "@oxturn/drawing";
import type { Floor, Layout } from "@oxturn/floor";
import { pathLength } from "@oxturn/geometry";
import { auditLayout, routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { faultsOf } from "../support/checkLayout.ts";
import { dwelling } from "../support/dwellings.ts";
import { movedFloor } from "../support/floors.ts";
import { type PlannedFloor, plannedFloor } from "../support/plannedFloor.ts";

/*
 * Tails that go straight across a hall cut a piece off. A loop that passes there on its way to a room may heat it.
 *
 *   +--------------------+------------------------------+
 *   | bedroom            | study                        |   Tails to bedroom and study go over the hall, so what lies
 *   |                    |                              |   left of them is cut off. The kitchen's tails follow its
 *   +------------    ----+---    -----------------------+   lower wall to the door at its end: one of them makes the
 *   | hall         | |        | |                       |   runs there.
 *   +-    --------M-----------------------------    ----+
 *   | kitchen             | living                      |
 *   |                     |                             |
 *   +---------------------+-----------------------------+
 */
const ROOMS: PlannedFloor["rooms"] = {
	hall: [0, 0, 10400, 1500],
	kitchen: [0, -2500, 3400, -140],
	living: [3540, -2500, 10400, -140],
	bedroom: [0, 1640, 5300, 4100],
	study: [5440, 1640, 10400, 4100],
};

const cutHall = (changes: Partial<PlannedFloor> = {}): Floor =>
	plannedFloor({
		rooms: ROOMS,
		doors: {
			"hall-kitchen": [150, -140, 1050, 0],
			"hall-living": [9000, -140, 9900, 0],
			"hall-bedroom": [4100, 1500, 5000, 1640],
			"hall-study": [5600, 1500, 6500, 1640],
		},
		manifolds: { m1: { at: [4000, 0], facing: 90 } },
		share: "default",
		...changes,
	});

const OTHERS_SERPENTINE = {
	kitchen: "serpentine",
	living: "serpentine",
	bedroom: "serpentine",
	study: "serpentine",
} as const;

mkdirSync("tests/output", { recursive: true });

function worked(name: string, floor: Floor): Layout {
	const layout = routeFloor(floor);
	writeFileSync(`tests/output/on-the-way-${name}.svg`, drawPlan({ floor, layout, title: name }));
	return layout;
}

/** The rooms of each loop, in order of name. */
const loopsOf = ({ features }: Layout): string[] => features.map(({ properties }) => properties.rooms.join("+")).sort();

/** From run to run on average, mm, where the loop that makes runs in the hall crosses a line over it, beyond its tails. */
function meanGapInHall({ features }: Layout, x: number): number {
	const path = features.find(({ properties }) => properties.rooms.join("+") === "kitchen+hall")!.geometry.coordinates;
	const heights = path.flatMap(([bx, by], i) => {
		const [ax, ay] = path[Math.max(0, i - 1)]!;
		return ax > x === bx > x ? [] : [ay + ((by - ay) * (x - ax)) / (bx - ax)];
	});
	const runs = heights.filter((y) => y > 200 && y < 1500).sort((a, b) => a - b);
	return (runs.at(-1)! - runs[0]!) / (runs.length - 1);
}

const told = ({ notices }: Layout) => notices.filter(({ code }) => code === "HEATED_ON_THE_WAY");

describe("a piece of a hall that tails cut off", () => {
	const floor = cutHall();
	const layout = worked("cut-hall", floor);

	it("is heated by the loop of a room that passes, so that the hall has one loop", () => {
		expect(loopsOf(layout)).toEqual(["bedroom", "hall", "kitchen+hall", "living", "study"]);
	});

	it("is as warm as any floor", () => {
		expect(faultsOf(floor, layout)).toEqual([]);
		const { findings, coverage } = auditLayout(floor, layout);
		expect(findings).toEqual([]);
		for (const { room, within100 } of coverage) expect([room, within100 > 0.985]).toEqual([room, true]);
	});

	it("is told of, with the room that it warms with", () => {
		expect(told(layout)).toMatchObject([{ subject: "hall", details: { host: "kitchen", hostName: "kitchen" } }]);
		const { area } = told(layout)[0]!.details as { area: number };
		// 4 m of the hall, which is 1.5 m wide, less what the tails take
		expect(area).toBeGreaterThan(5);
		expect(area).toBeLessThan(6);
	});

	it("is laid alike however the floor lies", () => {
		const turned = routeFloor(movedFloor(floor, 37, 5000, -3000));
		expect(loopsOf(turned)).toEqual(loopsOf(layout));
	});

	it.each([
		["no loop that passes has pipe left for it", { unheated: ["kitchen"], maxLoopLength: 88 }],
		["it is to be kept apart", { share: { hall: false, kitchen: true, living: true, bedroom: true, study: true } }],
		["those that pass are", { share: { hall: true } }],
		["it asks for another pattern", { patterns: { ...OTHERS_SERPENTINE, hall: "spiral" } }],
	] as const)("has a loop of its own where %s", (_, changes) => {
		const other = routeFloor(cutHall(changes));
		expect(told(other)).toEqual([]);
		expect(loopsOf(other).filter((rooms) => rooms.includes("hall"))).toEqual(["hall", "hall"]);
	});
});

describe("a piece on the way of a loop that is laid at another spacing", () => {
	it.each([
		["wider", 220, 160],
		["closer", 160, 200],
	])("is laid at its own room's, though that is %s", (_, hall, others) => {
		const floor = cutHall({ spacing: others, spacings: { hall }, maxLoopLength: 120 });
		const layout = routeFloor(floor);
		expect(loopsOf(layout)).toContain("kitchen+hall");
		for (const x of [1500, 2500]) expect(Math.abs(meanGapInHall(layout, x) / hall - 1)).toBeLessThan(0.04);
		expect(faultsOf(floor, layout)).toEqual([]);
		expect(auditLayout(floor, layout).findings).toEqual([]);
	});
});

describe("a piece without whose loop other tails come to lie a little longer", () => {
	const floor = dwelling(770027);
	const layout = routeFloor(floor);

	it("is given away though another room is laid a little wider for that", () => {
		expect(loopsOf(layout).filter((rooms) => rooms.includes("hall"))).toEqual(["bath+hall", "hall", "nursery-2+hall"]);
		const widened = layout.notices.filter(({ code }) => code === "SPACING_WIDENED");
		expect(widened.map(({ subject, details }) => [subject, details?.laid, details?.spacing])).toEqual([
			["living-room", 156, 150],
		]);
		expect(auditLayout(floor, layout).findings).toEqual([]);
	});
});

describe("a piece that no loop has pipe enough for", () => {
	const floor = cutHall({ rooms: { ...ROOMS, kitchen: [0, -4000, 3400, -140] }, maxLoopLength: 88 });
	const layout = worked("parted", floor);

	it("is parted between two that come by", () => {
		expect(loopsOf(layout)).toEqual(["bedroom+hall", "hall", "kitchen+hall", "living", "study"]);
		expect(faultsOf(floor, layout)).toEqual([]);
		const { findings, coverage } = auditLayout(floor, layout);
		expect(findings).toEqual([]);
		expect(coverage.find(({ room }) => room === "hall")!.within100).toBeGreaterThan(0.985);
	});

	it("is told of by its parts", () => {
		const parts = told(layout).map(({ details }) => details as { host: string; area: number });
		expect(parts.map(({ host }) => host).sort()).toEqual(["bedroom", "kitchen"]);
		const area = parts.reduce((sum, part) => sum + part.area, 0);
		expect(area).toBeGreaterThan(5);
		expect(area).toBeLessThan(6);
	});
});

/*
 * The kitchen takes two loops here, and neither has pipe left for the end of the hall, nor has the bedroom's. Where the
 * one that comes by leaves some of the kitchen to the other, it has.
 */
describe("a piece that two loops of a room have pipe for together", () => {
	const deeperKitchen = (depth: number): Floor =>
		cutHall({
			rooms: { ...ROOMS, kitchen: [0, -depth, 3400, -140], bedroom: [0, 1640, 5300, 4800] },
			maxLoopLength: 88,
		});
	const floor = deeperKitchen(7600);
	const layout = worked("relieved", floor);
	const kitchenLoops = layout.features.filter(({ properties }) => properties.rooms[0] === "kitchen");

	it("is heated by the one that comes by", () => {
		expect(loopsOf(layout)).toEqual(["bedroom", "hall", "kitchen", "kitchen+hall", "living", "study"]);
		expect(told(layout)).toMatchObject([{ subject: "hall", details: { host: "kitchen" } }]);
	});

	it("leaves them as long as each other, the piece counted in", () => {
		const [a, b] = kitchenLoops.map(({ properties }) => properties.length);
		expect(Math.abs(a! / b! - 1)).toBeLessThan(0.1);
	});

	it("is warm, and so is the room that they share", () => {
		expect(faultsOf(floor, layout)).toEqual([]);
		const { findings, coverage } = auditLayout(floor, layout);
		expect(findings).toEqual([]);
		for (const { room, within100 } of coverage) expect([room, within100 > 0.985]).toEqual([room, true]);
	});

	it("keeps a loop of its own where they have too little", () => {
		expect(loopsOf(routeFloor(deeperKitchen(8200)))).toEqual([
			"bedroom",
			"hall",
			"hall",
			"kitchen",
			"kitchen",
			"living",
			"study",
		]);
	});
});

/*
 * Going straight across to the bedroom cuts off the left end of the hall, and going round that end is 5 m longer. With a
 * loop of its own for that end, round it would be the better way.
 *
 *   +------------------------+------------------+
 *   | bedroom                | bath             |
 *   +--------------    ------+------------    --+
 *   | hall                                      |
 *   +---    ---M------    ----------------------+
 *   | kitchen       | living                    |
 *   +---------------+---------------------------+
 */
describe("a hall that is cut by going straight across", () => {
	const floor = plannedFloor({
		rooms: {
			hall: [0, 0, 9700, 1600],
			kitchen: [0, -3800, 3600, -140],
			living: [3740, -3200, 9700, -140],
			bedroom: [0, 1740, 5100, 4500],
			bath: [5240, 1740, 9700, 4500],
		},
		doors: {
			"hall-kitchen": [600, -140, 1400, 0],
			"hall-living": [4000, -140, 4800, 0],
			"hall-bedroom": [3300, 1600, 4300, 1740],
			"hall-bath": [8300, 1600, 9200, 1740],
		},
		manifolds: { m1: { at: [2600, 0], facing: 90 } },
		share: "default",
	});
	const layout = worked("straight-across", floor);

	it("is cut where that takes no loop more, since a loop that passes heats its end", () => {
		expect(loopsOf(layout)).toEqual(["bath", "bedroom", "hall", "kitchen+hall", "living"]);
		const toBedroom = layout.channels.find(({ doorway }) => doorway === "hall-bedroom")!;
		// 1.6 m across and 1.2 m along to the middle of the door.
		expect(pathLength(toBedroom.path)).toBeLessThan(1600 + 1200);
	});

	it("is laid by the rules and warm all over", () => {
		expect(faultsOf(floor, layout)).toEqual([]);
		const { findings, coverage } = auditLayout(floor, layout);
		expect(findings).toEqual([]);
		for (const { room, within100 } of coverage) expect([room, within100 > 0.985]).toEqual([room, true]);
	});
});
