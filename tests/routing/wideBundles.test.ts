import { routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { faultsOf } from "../support/checkLayout.ts";
import { plannedFloor } from "../support/plannedFloor.ts";
import { squareTails } from "../support/squareTails.ts";
import { tailsOf, waysOf } from "../support/waysOf.ts";

/*
 * Ports are 25 mm apart, and pipes may stay that close within 780 mm of the manifold only. The last of sixteen that turn
 * off one after the other, 50 mm apart, does so farther ahead than that.
 *
 *   +-------------------------------------+
 *   | hall                                |     All doors lie to the right, so all tails follow the lower wall, and the
 *   |                                     |     hall's own loop lies to the left of them. The other way to A would be
 *   +----M----- - - - - - - - - - - - - --+     round the ends of the hall.
 *   | store   | A | B | C | D | ... | H   |
 *   +---------+---+---+---+---+-----+-----+
 */
const WIDTH = 2600;
const rooms = ["A", "B", "C", "D", "E", "F", "G", "H"];
const left = (i: number): number => 4000 + i * (WIDTH + 100);

const floor = plannedFloor({
	rooms: {
		hall: [0, 4000, left(8) - 100, 6200],
		store: [0, 0, 3900, 3900],
		...Object.fromEntries(rooms.map((room, i) => [room, [left(i), 0, left(i) + WIDTH, 3900] as const])),
	},
	unheated: ["store"],
	doors: Object.fromEntries(
		rooms.map((room, i) => [`door-${room}`, [left(i) + 900, 3900, left(i) + 1700, 4000] as const]),
	),
	manifolds: { m1: { at: [2600, 4000], facing: 90 } },
});

describe("a bundle so wide that its last tails turn off beyond the apron", () => {
	const layout = routeFloor(floor);
	const ways = waysOf(floor, layout);

	it("spreads in front of the ports, so that all of its tails take the short way to the one side", () => {
		expect(faultsOf(floor, layout)).toEqual([]);
		const shortest = squareTails(floor);
		const ratios = layout.features.flatMap(({ properties: { rooms: heated } }, i) =>
			heated.includes("hall") ? [] : [tailsOf(ways[i]!, heated) / shortest(ways[i]!, floor.manifolds[0]!.position)],
		);
		expect(ratios).toHaveLength(rooms.length);
		expect(Math.max(...ratios)).toBeLessThan(1.1);
	});

	it("leaves the hall its own loop beside it", () => {
		expect(layout.features.some(({ properties }) => properties.rooms.includes("hall"))).toBe(true);
		expect(layout.notices).toEqual([]);
	});
});
