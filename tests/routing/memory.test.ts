import { readFileSync } from "node:fs";
import { type Floor, type Layout, layoutToJson, readFloorText } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import { routeFloor, routeMemory } from "@oxturn/routing";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { faultsOf } from "../support/checkLayout.ts";
import { movedFloor, singleRoom } from "../support/floors.ts";
import { rectangle } from "../support/shapes.ts";

/*
 * A floor that is routed again and again while a corner is dragged: what a memory holds never shows in the layout, only
 * in what has to be done anew.
 */

const { floor } = readFloorText(readFileSync("docs/examples/dwelling.json", "utf8"));

/** The example dwelling with the outer corner of its corner bedroom moved, mm. */
function withCornerMoved(dx: number, dy: number): Floor {
	const room = floor.rooms.find(({ id }) => id === "river-bedroom")!;
	const left = Math.min(...room.region.outer.map(([x]) => x));
	const top = Math.max(...room.region.outer.map(([, y]) => y));
	const outer = room.region.outer.map((p): Point => (p[0] === left && p[1] === top ? [left + dx, top + dy] : p));
	return {
		...floor,
		rooms: floor.rooms.map((each) => (each === room ? { ...room, region: { ...room.region, outer } } : each)),
	};
}

/** The same floor with a valve in its hall, come what may. */
const withOwnHall = (dwelling: Floor): Floor => ({
	...dwelling,
	rooms: dwelling.rooms.map((room) => (room.id === "hall" ? { ...room, share: false, keptApart: true } : room)),
});

const pathsOf = (layout: Layout, room: string): unknown =>
	layout.features.filter(({ properties }) => properties.rooms.includes(room)).map(({ geometry }) => geometry);

describe("a memory", () => {
	const memory = routeMemory();
	routeFloor(floor, { memory });

	it("gives the layout that there would be without it, byte by byte", () => {
		fc.assert(
			fc.property(fc.integer({ min: -400, max: 300 }), fc.integer({ min: -300, max: 400 }), (dx, dy) => {
				const moved = withCornerMoved(dx, dy);
				expect(layoutToJson(routeFloor(moved, { memory }))).toBe(layoutToJson(routeFloor(moved)));
			}),
			{ numRuns: 6 },
		);
	}, 60_000);

	it("is asked for more than the room that was moved", () => {
		const before = memory.rooms.size;
		routeFloor(withCornerMoved(-77, 133), { memory });
		const after = memory.rooms.size;
		expect(after).toBeGreaterThan(before);
		expect(after - before).toBeLessThan(floor.rooms.length / 2);
		routeFloor(withCornerMoved(-77, 133), { memory });
		expect(memory.rooms.size).toBe(after);
	});

	it("knows an equal room with its own manifold again, wherever it lies and however it is turned", () => {
		const room = singleRoom({ outer: rectangle(0, 0, 5000, 4000) });
		const other = movedFloor(room, Math.PI / 2, 30_000, -7000);
		const both: Floor = {
			...room,
			rooms: [...room.rooms, ...other.rooms.map((each) => ({ ...each, id: "other" }))],
			manifolds: [...room.manifolds, ...other.manifolds.map((each) => ({ ...each, id: "m2" }))],
		};
		const known = routeMemory();
		const { features } = routeFloor(both, { memory: known });
		expect(known.rooms.size).toBe(1);
		expect(features.map(({ properties }) => properties.rooms)).toEqual([[room.rooms[0]!.id], ["other"]]);
		expect(features[1]!.properties.length).toBeCloseTo(features[0]!.properties.length, 2);
		expect(faultsOf(both, routeFloor(both))).toEqual([]);
	});

	it("keeps rooms as they were laid in full when there is no time for it later", () => {
		// In a hurry its hall would keep a loop of its own, and other rooms would have other ports.
		const before = withOwnHall(floor);
		const known = routeMemory();
		const whole = routeFloor(before, { memory: known });
		const hurried = routeFloor(withOwnHall(withCornerMoved(-50, 0)), { memory: known, timeBudget: 0 });
		expect(pathsOf(hurried, "toll-office")).toEqual(pathsOf(whole, "toll-office"));
	});

	it("never gives a hurried room to who has time", () => {
		const fresh = routeMemory();
		routeFloor(floor, { memory: fresh, timeBudget: 0 });
		expect(layoutToJson(routeFloor(floor, { memory: fresh }))).toBe(layoutToJson(routeFloor(floor)));
	});

	it("does not grow without end", () => {
		const small = routeMemory();
		for (let i = 0; i < 700; i++) small.rooms.set(`old ${i}`, undefined as never);
		routeFloor(floor, { memory: small });
		expect(small.rooms.size).toBeLessThanOrEqual(600);
	}, 30_000);
});

describe("a dwelling that is routed in a hurry", () => {
	it("breaks no rule, however its corner is dragged", () => {
		const memory = routeMemory();
		fc.assert(
			fc.property(fc.integer({ min: -400, max: 300 }), fc.integer({ min: -300, max: 400 }), (dx, dy) => {
				const moved = withCornerMoved(dx, dy);
				expect(faultsOf(moved, routeFloor(moved, { memory, timeBudget: 0 }))).toEqual([]);
			}),
			{ numRuns: 20 },
		);
	}, 60_000);
});
