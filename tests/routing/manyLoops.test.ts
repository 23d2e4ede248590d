import { auditLayout, routeFloor } from "@oxturn/routing";
import fc from "fast-check";
import { describe, expect, it, test } from "vitest";
import { type LoopCounts, loopCounts } from "../../packages/routing/src/room/loopCounts.ts";
import { wallPlaces, zoneOrders } from "../../packages/routing/src/zones/entries.ts";
import { zonePlans } from "../../packages/routing/src/zones/plans.ts";
import { faultsOf } from "../support/checkLayout.ts";
import { type SingleRoom, singleRoom } from "../support/floors.ts";
import { rectangle, solid } from "../support/shapes.ts";

/*
 * An office or a hall that one manifold serves by a dozen loops and more: their tails make up bundles along two walls, to
 * the left and to the right of it, and zones lie one beside another behind these.
 */

const thinPipe = { outerDiameter: 12, minBendRadius: 48 };
const office = (width: number, depth: number, made: Partial<SingleRoom>): SingleRoom => ({
	outer: rectangle(0, 0, width, depth),
	minBendRadius: 70,
	...made,
});

const columns = [
	[6000, 4000],
	[12_000, 4000],
	[6000, 8000],
	[12_000, 8000],
].map(([x, y]) => rectangle(x! - 250, y! - 250, x! + 250, y! + 250).toReversed());

/** One limb along the wall that the manifold hangs on, 16 m long, and one beside it, 12 m deep. */
const lShape: SingleRoom = {
	outer: [
		[0, 0],
		[16_000, 0],
		[16_000, 6000],
		[8000, 6000],
		[8000, 12_000],
		[0, 12_000],
	],
	...thinPipe,
	spacing: 100,
};

describe("an office of many loops", () => {
	// Area / spacing / maxLoopLength, rounded up, and what their tails take (own arithmetic).
	it.each<[string, SingleRoom, number]>([
		[
			"15 x 10 m, the manifold amid a long wall",
			office(15_000, 10_000, { spacing: 100, maxLoopLength: 80, ...thinPipe }),
			19,
		],
		[
			"15 x 10 m, the manifold amid a short wall",
			office(15_000, 10_000, { spacing: 100, maxLoopLength: 80, wall: 3, ...thinPipe }),
			19,
		],
		["18 x 12 m, the manifold amid a long wall", office(18_000, 12_000, { spacing: 150, maxLoopLength: 75 }), 20],
		[
			"18 x 12 m round four columns",
			office(18_000, 12_000, { spacing: 150, maxLoopLength: 90, along: 1 / 3, holes: columns }),
			17,
		],
		["an L, the manifold near the corner of its limbs", { ...lShape, along: 1 / 8, maxLoopLength: 80 }, 19],
	])(
		"is warm all over: %s",
		(_, made, most) => {
			const floor = singleRoom(made);
			const layout = routeFloor(floor);
			expect(faultsOf(floor, layout)).toEqual([]);
			expect(layout.notices.filter(({ code }) => code !== "SPACING_WIDENED")).toEqual([]);
			expect(layout.features.length).toBeLessThanOrEqual(most);
			const [coverage] = auditLayout(floor, layout, { cell: 40 }).coverage;
			expect(coverage!.within100).toBeGreaterThan(0.99);
		},
		60_000,
	);
});

describe("how many loops a room may take", () => {
	const counts = (metres: number, guess: (count: number) => number, places = 24): LoopCounts => {
		const { system, rooms } = singleRoom(office(15_000, 10_000, { maxLoopLength: metres }));
		const entrance = {
			at: [7500, 0] as const,
			pairs: () => [],
			spent: 0,
			between: { left: undefined, right: undefined },
		};
		return loopCounts({ floor: rooms[0]!.region, system, entrance, places }, 100, false, guess);
	};

	test("is told by area and spacing where these are few", () => {
		// 1500 m of pipe in loops of 200 m: 7.5.
		expect(counts(200, () => 2)).toEqual({ least: 7, enough: 8, most: 10 });
	});

	test("counts in the tails where these are many", () => {
		// 1500 m in loops of 80 m: 18.75. With tails of 12 m each loop is 80 m long at 22 loops.
		const { least, enough, most } = counts(80, (count) => (1500 / count + 12) / 80);
		expect(least).toBeGreaterThanOrEqual(20);
		expect(enough).toBe(least);
		expect(most).toBeGreaterThanOrEqual(23);
	});

	test("is never more than the manifold takes, nor less for longer tails", () => {
		fc.assert(
			fc.property(
				fc.integer({ min: 40, max: 250 }),
				fc.integer({ min: 0, max: 30 }),
				fc.integer({ min: 8, max: 24 }),
				(metres, tails, places) => {
					const withTails = (metresOfTails: number) =>
						counts(metres, (count) => (1500 / count + metresOfTails) / metres, places);
					const { least, enough, most } = withTails(tails);
					expect(least).toBeLessThanOrEqual(enough);
					expect(enough).toBeLessThanOrEqual(most);
					expect(most).toBeLessThanOrEqual(places);
					expect(withTails(tails + 5).enough).toBeGreaterThanOrEqual(enough);
				},
			),
		);
	});
});

describe("a room of many zones whose manifold hangs near a corner", () => {
	it("is cut so that tails go along both walls of the corner", () => {
		const floor = solid(rectangle(0, 0, 15_000, 10_000));
		const wall = wallPlaces(floor, [1200, 0]);
		const count = 18;
		const [likeliest] = zonePlans({ floor, wall, count, spacing: 100, longest: 90_000, onlyGood: false });
		const [order] = zoneOrders(likeliest!(Array.from({ length: count }, () => 1 / count))!, wall);
		const goingLeft = order!.filter(({ entry }) => entry.way === -1).length;
		expect(Math.min(goingLeft, count - goingLeft)).toBeGreaterThanOrEqual(5);
	});
});
