import { auditLayout, routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { faultsOf } from "../support/checkLayout.ts";
import { dwelling } from "../support/dwellings.ts";

/*
 * Tails that pass a hall may leave a piece of it that no port opens on to, or one whose loop went out of the plan when the
 * tails were led in another way. That is no better than a loop that could not be laid, so other ways are tried.
 *
 *   port -----------------------.
 *   port -----------.           |
 *   port ------.    |   piece   |      no loop comes to it
 *              |    |           |
 */

describe("a hall that tails would leave a large piece of without a loop", () => {
	it.each([
		["beyond a door that tails turn off to", 770023],
		["in the arm that the manifold looks to", 770026],
	])("has tails led so that a loop comes to each: %s", (_, seed) => {
		const floor = dwelling(seed);
		const layout = routeFloor(floor);
		const [hall] = auditLayout(floor, layout, { cell: 40 }).coverage.filter(({ room }) => room === "hall");
		// 79 and 83 % with the piece left out
		expect(hall!.within100).toBeGreaterThan(0.98);
		expect(faultsOf(floor, layout)).toEqual([]);
	});

	it("has its loops where it would have lost them to such a piece, and the rooms behind it have theirs", () => {
		const floor = dwelling(770049);
		const layout = routeFloor(floor);
		expect(layout.notices.filter(({ code }) => code === "ROOM_UNSERVED")).toEqual([]);
		expect(faultsOf(floor, layout)).toEqual([]);
	});
});
