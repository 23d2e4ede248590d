import { readFileSync } from "node:fs";
import { type Floor, readFloor, readFloorText } from "@oxturn/floor";
import { auditLayout, routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { doorway, floorOf, manifold, room } from "../oxturn/documents.ts";
import { singleRoom } from "../support/floors.ts";
import { rectangle } from "../support/shapes.ts";

const withPorts = (floor: Floor, ports: number): Floor => ({
	...floor,
	manifolds: floor.manifolds.map((manifold) => ({ ...manifold, ports })),
});

/** What is told of a room, as code, reason and numbers. */
const toldOf = (floor: Floor, id: string) =>
	routeFloor(floor)
		.notices.filter(({ subject }) => subject === id)
		.map(({ code, details }) => [code, details?.reason, details?.loops, details?.places]);

describe("a room that needs more loops than its manifold takes", () => {
	// 48 m2 at 200 mm take 240 m of pipe: three loops of 100 m, tails and all.
	const large = singleRoom({ outer: rectangle(0, 0, 8000, 6000) });

	it("gets none, and is told how many it needs, where they would have to lie much too far apart", () => {
		const floor = withPorts(large, 1);
		expect(toldOf(floor, "room")).toEqual([["ROOM_UNSERVED", "too-many-loops", 3, 1]]);
		expect(auditLayout(floor, routeFloor(floor)).findings).toEqual([]);
	});

	it("is laid wider for want of ports where that will do, and told so", () => {
		const floor = withPorts(large, 2);
		const layout = routeFloor(floor);
		expect(layout.notices).toMatchObject([{ code: "SPACING_WIDENED", subject: "room", details: { reason: "ports" } }]);
		expect(layout.features).toHaveLength(2);
		// 240 m at 200 mm, 200 m at 240 mm: the least that two loops of 100 m can heat.
		for (const { properties } of layout.features) {
			expect(properties.spacing).toBeGreaterThanOrEqual(230);
			expect(properties.spacing).toBeLessThanOrEqual(300);
			expect(properties.length).toBeLessThanOrEqual(100);
		}
		expect(auditLayout(floor, layout).findings).toEqual([]);
	});

	it("loses none of its loops where all of them are but a little too long", () => {
		// 108 m2 at 200 mm are 540 m of pipe, 14 % too much for six loops of 80 m with their tails.
		const hall = singleRoom({ outer: rectangle(0, 0, 12_000, 9000), maxLoopLength: 80 });
		const layout = routeFloor(withPorts(hall, 6));
		expect(layout.features).toHaveLength(6);
		expect(layout.notices.map(({ code, details }) => [code, details?.reason])).toEqual([["SPACING_WIDENED", "ports"]]);
	});

	it("gets none where it is long tails that make its loops too long at any spacing", () => {
		// 240 m2 at 150 mm are 1600 m of pipe, 1067 m at the widest: ten loops of 100 m, but for their tails.
		const hall = singleRoom({ outer: rectangle(0, 0, 20_000, 12_000), spacing: 150 });
		expect(toldOf(withPorts(hall, 10), "room")).toMatchObject([
			["ROOM_UNSERVED", "too-many-loops", expect.any(Number), 10],
		]);
	});

	it("gets its loops where they are enough", () => {
		const layout = routeFloor(withPorts(large, 3));
		expect(layout.features).toHaveLength(3);
		expect(layout.notices).toEqual([]);
	});

	it("is told so at once where no manifold has a place for so many ports", () => {
		const hall = singleRoom({ outer: rectangle(0, 0, 60_000, 40_000), spacing: 100 });
		// 24 pairs of ports 50 mm apart lie within 600 mm of their middle.
		expect(toldOf(hall, "room")).toEqual([["ROOM_UNSERVED", "too-many-loops", 207, 24]]);
	});
});

describe("a room that a manifold hangs in, with ports for a smaller one beyond it", () => {
	const { floor } = readFloor(
		floorOf(
			room("study", 0, 9000, 7000),
			manifold("m1", 1500),
			room("cell", 9100, 2000, 3000),
			doorway("arch", 8999, 1000, 102, 900),
		),
	);

	it("is passed by, with a notice that names the ports", () => {
		const layout = routeFloor(withPorts(floor, 1));
		expect(layout.features.map(({ properties }) => properties.rooms)).toEqual([["cell"]]);
		expect(toldOf(withPorts(floor, 1), "study")).toEqual([["ROOM_UNSERVED", "no-port", undefined, undefined]]);
		expect(auditLayout(withPorts(floor, 1), layout).findings).toEqual([]);
	});
});

describe("a hall that two manifolds divide, one of them with few ports", () => {
	const { floor } = readFloorText(readFileSync("tests/fixtures/hall-divided-where-ports-are-few.json", "utf8"));
	const layout = routeFloor(floor);

	it("has no more loops on that than it has ports, though its part of the hall leads to more rooms", () => {
		const onFew = layout.features.filter(({ properties }) => properties.manifold === "m1");
		expect(onFew.length).toBeGreaterThan(0);
		expect(onFew.length).toBeLessThanOrEqual(floor.manifolds[0]!.ports!);
		expect(auditLayout(floor, layout).findings).toEqual([]);
	});

	it("leaves rooms that it has no ports for unserved, and tells so", () => {
		const { features, notices } = layout;
		const served = new Set(features.flatMap(({ properties }) => properties.rooms));
		const without = floor.rooms.filter(({ id, heated }) => heated && !served.has(id)).map(({ id }) => id);
		const told = notices.filter(({ details }) => details?.reason === "no-port").map(({ subject }) => subject);
		expect(without.length).toBeGreaterThan(0);
		expect(told.toSorted()).toEqual(without.toSorted());
	});
});
