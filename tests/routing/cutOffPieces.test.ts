import type { Floor, Room } from "@oxturn/floor";
import { auditLayout, routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { faultsOf } from "../support/checkLayout.ts";
import { dwelling } from "../support/dwellings.ts";

/*
 * Tails that pass a hall may leave a piece of it that no port opens on to, or one whose loop went out of the plan when the
 * tails were led in another way. Where no loop of another room may warm it, that is no better than a loop that could not
 * be laid, so other ways are tried.
 *
 *   port -----------------------.
 *   port -----------.           |
 *   port ------.    |   piece   |      no loop comes to it
 *              |    |           |
 */

/** A dwelling all of whose rooms have their own loops, and no others. */
function eachForItself(seed: number): Floor {
	const floor = dwelling(seed);
	return { ...floor, rooms: floor.rooms.map((room): Room => ({ ...room, share: false, keptApart: true })) };
}

describe("a hall that tails would leave a large piece of without a loop", () => {
	it.each([
		["beyond a door that tails turn off to", 770023],
		["in the arm that the manifold looks to", 770026],
	])("has tails led so that a loop comes to each: %s", (_, seed) => {
		const floor = eachForItself(seed);
		const layout = routeFloor(floor);
		const [hall] = auditLayout(floor, layout, { cell: 40 }).coverage.filter(({ room }) => room === "hall");
		// 79 and 83 % with the piece left out
		expect(hall!.within100).toBeGreaterThan(0.98);
		expect(faultsOf(floor, layout)).toEqual([]);
	});
});
