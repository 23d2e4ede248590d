import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { drawPlan } from "@oxturn/drawing";
import { type Layout, readFloorText } from "@oxturn/floor";
import { auditLayout, routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { faultsOf } from "../support/checkLayout.ts";
import { pipesThrough, waysOf } from "../support/waysOf.ts";

/*
 * The lockkeeper's house as one floor from one manifold.
 *
 *   +----------+--------+----------+----------+
 *   | river    | bath   | garden   | toll     |
 *   | bedroom  | room   | bedroom  | office   |
 *   |          +- 5 ----+- 4 ------+--- 3 ----+
 *   |          6         hall                 |      M looks up, so port 1 is at its right in the drawing; from
 *   +----------+---- 7 -----M- 1 ---- x ------+      there round the hall with the wall on the right hand:
 *   | lock room        | kitchen   | store    |      1 kitchen and, through it, 2 boot room; 3 toll office,
 *   |                  |           +----------+      4 garden bedroom, 5 bathroom, 6 river bedroom, 7 lock room
 *   |                  |           2 boot room|
 *   +---.      .-------+-----------+----------+
 *        `----'
 */

const { floor, notices } = readFloorText(readFileSync("docs/examples/dwelling.json", "utf8"));
const layout = routeFloor(floor);
/** The room that each loop belongs to. */
const served = layout.features.map(({ properties }) => properties.rooms[0]!);
const heatedIn = ({ features }: Layout): Set<string> => new Set(features.flatMap(({ properties }) => properties.rooms));

mkdirSync("tests/output", { recursive: true });
writeFileSync("tests/output/dwelling.svg", drawPlan({ floor, layout }));

describe("the example dwelling, routed as one floor", () => {
	it("keeps every rule and leaves nothing to be told but that others' loops heat its hall", () => {
		const told = [...notices, ...layout.notices].map(({ code, subject }) => [code, subject]);
		expect(new Set(told.map(String))).toEqual(new Set(["HEATED_ON_THE_WAY,hall"]));
		expect(faultsOf(floor, layout)).toEqual([]);
		expect(auditLayout(floor, layout, { coverage: false }).findings).toEqual([]);
	});

	it("gives the ports to the rooms in the order of the walls", () => {
		const order = served.filter((room, i) => room !== served[i - 1]);
		const [first, second, ...rest] = order;
		expect(new Set([first, second])).toEqual(new Set(["kitchen", "boot-room"]));
		expect(rest).toEqual(["toll-office", "garden-bedroom", "bathroom", "river-bedroom", "lock-room"]);
		expect(layout.features.map(({ properties }) => properties.port)).toEqual(served.map((_, i) => i + 1));
	});

	it("takes no more loops than there are rooms to heat, none in the rope store", () => {
		const heated = floor.rooms.filter((room) => room.heated);
		expect(served.length).toBeLessThanOrEqual(heated.length);
		expect(heatedIn(layout)).toEqual(new Set(heated.map(({ id }) => id)));
	});

	it("leaves no room colder than 97 % of its floor within one spacing of a pipe", () => {
		for (const { room, within100 } of auditLayout(floor, layout).coverage)
			expect(within100, room).toBeGreaterThan(0.97);
	});

	it("leads the boot room's pipes through the kitchen, and none into the store", () => {
		const counted = pipesThrough(waysOf(floor, layout));
		const loopsOf = (room: string): number => served.filter((each) => each === room).length;
		expect(counted.get("door-boot-room")).toBe(2 * loopsOf("boot-room"));
		expect(counted.get("door-kitchen")).toBe(2 * (loopsOf("boot-room") + loopsOf("kitchen")));
		expect(counted.has("door-rope-store")).toBe(false);
	});

	it("is complete and sound when there is no time to look for anything better", () => {
		const first = routeFloor(floor, { timeBudget: 0 });
		expect(faultsOf(floor, first)).toEqual([]);
		expect(heatedIn(first)).toEqual(heatedIn(layout));
	});
});
