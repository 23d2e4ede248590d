import { describe, expect, test } from "vitest";
import { wallPlaces } from "../../packages/routing/src/zones/entries.ts";
import { evenShares } from "../../packages/routing/src/zones/evenShares.ts";
import { expectedPipe } from "../../packages/routing/src/zones/expectedPipe.ts";
import { cutIntoBands } from "../../packages/routing/src/zones/partition.ts";
import { shiftCuts } from "../../packages/routing/src/zones/shiftCuts.ts";
import { rectangle } from "../support/shapes.ts";

const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);

describe("cuts are shifted", () => {
	const equal = [0.2, 0.2, 0.2, 0.2, 0.2];

	test("only beside a loop that is too long", () => {
		const next = shiftCuts(equal, [100, 100, 108, 98, 100], 506, 120);
		expect(next[0]).toBeCloseTo(0.2, 12);
		expect(next[1]).toBeCloseTo(0.2, 12);
		expect(next[2]).toBeLessThan(0.2);
		expect(next[3]).toBeGreaterThan(0.2);
		expect(next[4]).toBeCloseTo(0.2, 12);
		expect(sum(next)).toBeCloseTo(1, 12);
	});

	test("not at all where loops are even", () => {
		for (const share of shiftCuts(equal, [100, 101, 99, 100, 102], 502, 120)) expect(share).toBeCloseTo(0.2, 12);
	});

	test("so that the field follows the limit where loops come near to it", () => {
		const lengths = [118, 121, 117, 118, 118];
		const next = shiftCuts(equal, lengths, sum(lengths), 120);
		// Pipe is proportional to area: what a zone's loop would take then.
		const then = next.map((share, i) => lengths[i]! + (share - 0.2) * sum(lengths));
		expect(Math.max(...then)).toBeLessThan(120);
	});

	test("on from zone to zone when the next one cannot take all", () => {
		const lengths = [130, 100, 100, 100, 95];
		const next = shiftCuts(equal, lengths, sum(lengths), 140);
		const then = next.map((share, i) => lengths[i]! + (share - 0.2) * sum(lengths));
		expect(Math.max(...then) - Math.min(...then)).toBeLessThan(0.08 * 105);
	});

	test("without taking more than half of a zone's floor", () => {
		const next = shiftCuts([0.5, 0.5], [200, 20], 30, 120);
		expect(Math.min(...next)).toBeGreaterThan(0.19);
		expect(sum(next)).toBeCloseTo(1, 12);
	});
});

describe("the pipe that all loops will take", () => {
	const zone = (area: number, tails: number, length?: number) => ({ area, tails, length });

	test("is nothing to go by while one loop is laid", () => {
		expect(expectedPipe([zone(20, 0, 100), zone(20, 0)])).toBe(0);
	});

	test("is their tails, and fields as dense as those that are laid", () => {
		// Two fields of 90 on 20 each: 4.5 a unit of area.
		expect(expectedPipe([zone(20, 10, 100), zone(20, 10, 100), zone(40, 30)])).toBeCloseTo(50 + 4.5 * 80, 9);
	});
});

describe("shares to begin with", () => {
	const floor = { outer: rectangle(0, 0, 10_000, 6000), holes: [] };
	const wall = wallPlaces(floor, [5000, 0]);
	/** Five bands of 2 m on average from left to right, their manifold in the middle of the wall below. */
	const sharesBeside = (tailPitch: number, tailGap: number, elsewhere: readonly number[]): number[] =>
		evenShares((shares) => cutIntoBands(floor, Math.PI / 2, shares), {
			floor,
			count: 5,
			wall,
			spacing: 200,
			tailPitch,
			tailGap,
			elsewhere,
		});
	const sharesAt = (tailPitch: number, tailGap: number): number[] =>
		sharesBeside(tailPitch, tailGap, []).toSorted((a, b) => a - b);

	test("leave less floor to zones that are far off, by the length of their tails", () => {
		// Tails of 3, 1, 0, 1 and 3 m there and back, 16 m in all, and 300 m for the floor: loops of 63.2 m.
		const expected = [63.2 - 6, 63.2 - 6, 63.2 - 2, 63.2 - 2, 63.2].map((field) => field / 300);
		for (const [i, share] of sharesAt(0, 0).entries()) expect(share).toBeCloseTo(expected[i]!, 2);
	});

	test("make up for floor that passing tails take", () => {
		// The bands between are passed by two pipes on 2 m each: 0.1 + 0.2 m of floor, 3 m of pipe. The middle one is
		// passed by four on 1 m on either hand: 0.3 + 0.2 m, 5 m of pipe. That leaves (300 + 16 - 11) / 5 = 61 m a loop.
		const expected = [61 - 6, 61 - 6, 61 - 2 + 3, 61 - 2 + 3, 61 + 5].map((field) => field / 300);
		for (const [i, share] of sharesAt(100, 200).entries()) expect(share).toBeCloseTo(expected[i]!, 2);
	});

	test("leave less floor to a zone whose loop heats floor elsewhere, by what that takes", () => {
		// 30 m elsewhere make loops of 69.2 m; the leftmost one, with tails of 6 m, has 33.2 m left for its band, the last cut.
		const expected = [69.2 - 6, 69.2 - 2, 69.2, 69.2 - 2, 69.2 - 6 - 30].map((field) => field / 300);
		const shares = sharesBeside(0, 0, [30_000, 0, 0, 0, 0]);
		for (const [i, share] of shares.entries()) expect(share).toBeCloseTo(expected[i]!, 2);
	});

	test("are those of the tails alone in a room with many corners, where tails cut these", () => {
		const notched = {
			outer: [
				...rectangle(0, 0, 10_000, 6000).slice(0, 3),
				[6000, 6000],
				[6000, 5000],
				[5000, 5000],
				[5000, 6000],
				[0, 6000],
			],
			holes: [],
		} as const;
		const at = (tailGap: number): number[] =>
			evenShares((shares) => cutIntoBands(notched, Math.PI / 2, shares), {
				floor: notched,
				count: 3,
				wall: wallPlaces(notched, [5000, 0]),
				spacing: 200,
				tailPitch: tailGap / 2,
				tailGap,
				elsewhere: [],
			});
		expect(at(300)).toEqual(at(0));
	});
});
