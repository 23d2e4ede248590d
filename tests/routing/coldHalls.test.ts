import type { Floor, Layout, Room } from "@oxturn/floor";
import { auditLayout, routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { faultsOf } from "../support/checkLayout.ts";
import { dwelling } from "../support/dwellings.ts";

/*
 * A hall whose manifold sends so many tails to either side that they close the way in front of the ports between them.
 * Its own loop finds none, though most of its floor lies beyond: loops that come by there make their runs on it.
 *
 *   ----------------------------.
 *   ----------------------.     |
 *   port   ---------------|-----|     wide enough for no pair
 *   ----------------------'     |     as long as both sides go straight on
 *   ----------------------------'
 */

const warmthOf = (floor: Floor, layout: Layout, room: string): number =>
	auditLayout(floor, layout, { cell: 40 }).coverage.find((each) => each.room === room)!.within100;

const hostsIn = ({ notices }: Layout) =>
	notices.flatMap(({ code, details }) => (code === "HEATED_ON_THE_WAY" ? [(details as { host: string }).host] : []));

const isUnserved = ({ notices }: Layout, room: string): boolean =>
	notices.some(({ code, subject }) => code === "ROOM_UNSERVED" && subject === room);

describe("a hall that tails leave no way to for a loop of its own", () => {
	it.each([
		["one that goes on to the room behind its lower wall", 95050, ["library"]],
		["three, a piece each, between doors that they pass", 95058, ["box-room", "nursery-2", "workroom"]],
		["one at the far end, where the tails have turned off", 63025, ["study"]],
	])("is heated by loops that come by: %s", (_, seed, hosts) => {
		const floor = dwelling(seed);
		const layout = routeFloor(floor);
		expect(hostsIn(layout).sort()).toEqual(hosts);
		expect(isUnserved(layout, "hall")).toBe(false);
		// 69 to 73 % by the tails alone
		expect(warmthOf(floor, layout, "hall")).toBeGreaterThan(0.96);
		expect(auditLayout(floor, layout).findings).toEqual([]);
		expect(faultsOf(floor, layout)).toEqual([]);
	});

	it("takes no loop and no port more for that", () => {
		const { features } = routeFloor(dwelling(95050));
		const inHall = features.filter(({ properties }) => properties.rooms.includes("hall"));
		expect(inHall.map(({ properties }) => properties.rooms)).toEqual([["library", "hall"]]);
		expect(features).toHaveLength(12);
	});

	it("stays cold, and is told of, where it is to have no pipe but its own", () => {
		const floor = dwelling(95050);
		const rooms = floor.rooms.map(
			(room): Room => (room.id === "hall" ? { ...room, share: false, keptApart: true } : room),
		);
		const layout = routeFloor({ ...floor, rooms });
		expect(hostsIn(layout)).toEqual([]);
		expect(isUnserved(layout, "hall")).toBe(true);
	});
});

/*
 * A hall may have a loop of its own on this side of tails that turn off, and none beyond.
 */
describe("a piece of a hall that tails leave no way to for the hall's own loop", () => {
	it.each([
		["one between two bundles", 770023, ["bath-2"]],
		["one in an arm and one at the far end", 770026, ["box-room", "guest-room"]],
	])("is heated by a loop that comes by: %s", (_, seed, hosts) => {
		const floor = dwelling(seed);
		const layout = routeFloor(floor);
		const inHall = layout.features
			.map(({ properties }) => properties.rooms.join("+"))
			.filter((each) => /hall/.test(each));
		expect(inHall.sort()).toEqual([...hosts.map((host) => `${host}+hall`), "hall"]);
		// 79 and 83 % without
		expect(warmthOf(floor, layout, "hall")).toBeGreaterThan(0.98);
		expect(auditLayout(floor, layout).findings).toEqual([]);
	});
});
