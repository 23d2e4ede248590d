import { auditLayout, routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { type Attempt, COLD_ROOM, isEven, lengthsToEven } from "../../packages/routing/src/room/attempt.ts";
import { faultsOf } from "../support/checkLayout.ts";
import { singleRoom } from "../support/floors.ts";

/*
 * A zone too large for its loop may be filled all the same, by runs that keep within the limit and leave some of it cold.
 * Its loop is then no longer than that of its neighbour, though the neighbour should take some of its floor.
 */

describe("a loop that keeps within the limit at the cost of cold floor", () => {
	const attempt = (cold: number): Attempt => ({
		loops: [90, 91].map((length, i) => ({ port: i + 1, path: [], pattern: "serpentine", spacing: 150, length })),
		lacking: [0, 18],
		tails: 0,
		bundles: () => [],
		cost: 0,
		spacing: 150,
		missing: 0,
		tooLong: 0,
		elsewhere: [0, 0],
		mean: 0.9,
		spread: 0.01,
		turns: 0,
		broken: 0,
		cold,
	});

	it("counts as long as it would be otherwise, when zones are made even", () => {
		expect(lengthsToEven(attempt(0.05))).toEqual([90, 109]);
		expect(isEven(attempt(0.05))).toBe(false);
	});

	it("counts as long as it is where the room stays warm", () => {
		expect(lengthsToEven(attempt(COLD_ROOM))).toEqual([90, 91]);
		expect(isEven(attempt(COLD_ROOM))).toBe(true);
	});
});

describe("a living room round the corner of a hall, just large enough for two loops", () => {
	/*
	 *     +------------------------+
	 *     |  bay                   |
	 *     |     +--------m1--------+
	 *     |     |
	 *     |     +---------------+
	 *     |  arm    | hearth |  |
	 *     +---------+--------+--+
	 */
	const livingRoom = ({
		slant,
		...rest
	}: {
		readonly slant: number;
		readonly along: number;
		readonly maxLoopLength: number;
	}) =>
		singleRoom({
			outer: [
				[0, 0],
				[5400, 0],
				[5400, 1700],
				[2200, 1700],
				[2200, 3400],
				[7100, 3400],
				[7100, 5900 - slant],
				[0, 5900],
			],
			keepouts: [
				[
					[3200, 0],
					[4600, 0],
					[4600, 500],
					[3200, 500],
				],
			],
			wall: 4,
			spacing: 150,
			minBendRadius: 73.5,
			pattern: "serpentine",
			...rest,
		});

	it.each([
		{ slant: 300, along: 0.15, maxLoopLength: 98 },
		{ slant: 600, along: 0.45, maxLoopLength: 100 },
	])("is warm all over: within $maxLoopLength m", (made) => {
		const floor = livingRoom(made);
		const layout = routeFloor(floor);
		expect(faultsOf(floor, layout)).toEqual([]);
		expect(layout.features).toHaveLength(2);
		expect(auditLayout(floor, layout).coverage[0]!.within100).toBeGreaterThan(0.995);
	});
});
