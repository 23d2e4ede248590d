import { mkdirSync, writeFileSync } from "node:fs";
import { drawPlan } from "@oxturn/drawing";
import type { Floor, Layout } from "@oxturn/floor";
import { auditLayout, routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { faultsOf } from "../support/checkLayout.ts";
import { dwelling } from "../support/dwellings.ts";
import { type PlannedFloor, plannedFloor } from "../support/plannedFloor.ts";

/*
 * The bath's tails go up the hall last, beside its floor, and its loop has pipe left for all of that. In a small hall
 * nobody lingers: it may warm with the bath. A large one has a valve of its own, or that of a room which shares its loop.
 *
 *   +-----------+------+-----------+
 *   | living    | bath | bedroom   |
 *   |           +-    -+           |
 *   |                              |
 *   |           |      |           |
 *   +-----------+ hall +-----------+
 *   | kitchen   |      | study     |
 *   |                              |
 *   +-----------+--M---+-----------+
 */
function flat(width: number, depth: number, changes: Partial<PlannedFloor> = {}): Floor {
	const middle = depth / 2;
	const right = width + 140;
	return plannedFloor({
		rooms: {
			hall: [0, 0, width, depth],
			bath: [0, depth + 140, width, depth + 2500],
			living: [-4000, middle + 140, -140, depth + 2500],
			kitchen: [-4000, 0, -140, middle],
			bedroom: [right, middle + 140, right + 4000, depth + 2500],
			study: [right, 0, right + 4000, middle],
		},
		doors: {
			"hall-bath": [width - 1000, depth, width - 100, depth + 140],
			"hall-living": [-140, middle + 300, 0, middle + 1200],
			"hall-kitchen": [-140, middle - 1000, 0, middle - 100],
			"hall-bedroom": [width, middle + 300, right, middle + 1200],
			"hall-study": [width, middle - 1000, right, middle - 100],
		},
		manifolds: { m1: { at: [width / 2, 0], facing: 90 } },
		maxLoopLength: 120,
		share: "default",
		...changes,
	});
}

mkdirSync("tests/output", { recursive: true });

function worked(name: string, floor: Floor): Layout {
	const layout = routeFloor(floor);
	writeFileSync(`tests/output/hall-valves-${name}.svg`, drawPlan({ floor, layout, title: name }));
	return layout;
}

/** The rooms of each loop that heats the hall. */
const hallLoops = ({ features }: Layout): string[] =>
	features.map(({ properties }) => properties.rooms.join("+")).filter((rooms) => rooms.includes("hall"));

const hostsTold = ({ notices }: Layout): unknown[] =>
	notices.filter(({ code }) => code === "HEATED_ON_THE_WAY").map(({ details }) => details?.host);

function expectWarm(floor: Floor, layout: Layout): void {
	expect(faultsOf(floor, layout)).toEqual([]);
	const { findings, coverage } = auditLayout(floor, layout);
	expect(findings).toEqual([]);
	for (const { room, within100 } of coverage) expect([room, within100 > 0.95]).toEqual([room, true]);
}

describe("a hall of no more than 15 m2", () => {
	const floor = flat(2600, 5500);
	const layout = worked("small", floor);

	it("is heated by a loop that comes by and has pipe left, and takes none of its own", () => {
		expect(hallLoops(layout)).toEqual(["bath+hall"]);
		expectWarm(floor, layout);
	});

	it("is told to have no valve of its own", () => {
		expect(hostsTold(layout)).toEqual(["bath"]);
	});

	it.each([
		["it is to be kept apart", { share: { hall: false, bath: true } }],
		["those that come by have no pipe left for it", { maxLoopLength: 50 }],
	] as const)("has a loop of its own where %s", (_, changes) => {
		const other = routeFloor(flat(2600, 5500, changes));
		expect(hallLoops(other)).toContain("hall");
	});
});

describe("a hall as long as two rooms", () => {
	const floor = dwelling(770041);
	const layout = worked("long", floor);

	it("is parted between two loops where one that has pipe for most of it would leave the rest cold", () => {
		expect(hallLoops(layout).sort()).toEqual(["bath+hall", "living-room+hall"]);
		expectWarm(floor, layout);
	});
});

describe("a hall that two manifolds divide between them", () => {
	const floor = dwelling(880015);
	const layout = worked("divided", floor);

	it("is one by its doors, though few tails of either pass: each heats its part by a loop that comes by", () => {
		expect(hallLoops(layout).sort()).toEqual(["living-room+hall", "study+hall"]);
		const manifolds = layout.features.flatMap(({ properties: { rooms, manifold } }) =>
			rooms.includes("hall") ? [manifold] : [],
		);
		expect(manifolds.sort()).toEqual(["m1", "m2"]);
		expectWarm(floor, layout);
	});
});

describe("a larger hall", () => {
	it("has a loop of its own where those that come by are other rooms' alone", () => {
		const layout = worked("large", flat(3000, 5200, { maxLoopLength: 150 }));
		expect(hallLoops(layout)).toContain("hall");
		expect(hostsTold(layout)).toEqual([]);
	});

	it("shares that of a room which may share its own, whatever its size", () => {
		const floor = flat(3000, 5200, { maxLoopLength: 150, share: { bath: true } });
		const open = {
			...floor,
			rooms: floor.rooms.map(({ keptApart: _, ...room }) => room),
		};
		const layout = worked("shared", open);
		expect(hallLoops(layout)).toEqual(["bath+hall"]);
		expectWarm(open, layout);
	});
});
