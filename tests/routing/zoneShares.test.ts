import { describe, expect, test } from "vitest";
import { expectedPipe } from "../../packages/routing/src/zones/expectedPipe.ts";
import { shiftCuts } from "../../packages/routing/src/zones/shiftCuts.ts";

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
