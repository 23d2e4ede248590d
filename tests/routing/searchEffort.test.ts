import { describe, expect, test } from "vitest";
import type { Attempt } from "../../packages/routing/src/room/attempt.ts";
import { besideWays } from "../../packages/routing/src/room/closeTails.ts";
import { isInVain, keepBetter, startProgress } from "../../packages/routing/src/room/search.ts";
import type { WallTrack } from "../../packages/routing/src/tails/layWallTail.ts";
import { trackOf } from "../../packages/routing/src/tails/tracks.ts";

const wayFrom = (start: number): WallTrack => ({
	track: trackOf([
		[0, 0],
		[1000, 0],
		[1000, 1000],
		[0, 1000],
	]),
	start,
	way: 1,
});

describe("ways beside tails", () => {
	test("are rounded once however often they are asked for, and not before", () => {
		let rounded = 0;
		function* threeWays() {
			for (const start of [0, 100, 200]) {
				rounded++;
				yield wayFrom(start);
			}
		}
		const ways = besideWays();
		const ask = () => ways("port 1, left, nothing beside", () => [threeWays()])[0]!;
		for (const { start } of ask()()) if (start === 0) break;
		expect(rounded).toBe(1);
		for (let attempt = 0; attempt < 5; attempt++) expect([...ask()()].map(({ start }) => start)).toEqual([0, 100, 200]);
		expect(rounded).toBe(3);
	});

	test("beside other tails are found anew", () => {
		const ways = besideWays();
		const startsUnder = (key: string, start: number) =>
			[...ways(key, () => [[wayFrom(start)].values()])[0]!()].map((way) => way.start);
		expect(startsUnder("one tail", 100)).toEqual([100]);
		expect(startsUnder("two tails", 200)).toEqual([200]);
		expect(startsUnder("one tail", 300)).toEqual([100]);
	});
});

const attemptAt = (cost: number): Attempt => ({
	cost,
	loops: [],
	lacking: [],
	tails: 0,
	bundles: () => [],
	spacing: 150,
	missing: 1,
	tooLong: 0,
	elsewhere: [],
	mean: 1,
	spread: 0,
	turns: 0,
	broken: 0,
	cold: 0,
});

/** Attempts of a search, each of so much effort and at such a cost, that are made until effort is in vain. */
function attemptsMade(effortOfEach: number, costs: readonly number[]): number {
	const progress = startProgress(150);
	for (const cost of costs) {
		if (isInVain(progress)) break;
		progress.attempts++;
		progress.effort += effortOfEach;
		keepBetter(progress, attemptAt(cost), () => undefined);
	}
	return progress.attempts;
}

describe("a search whose attempts bring nothing better", () => {
	const never = Array.from({ length: 40 }, () => 100);

	test("ends the sooner, the dearer they are", () => {
		// The first is the best; 1500 tries to join a field after it are in vain.
		expect(attemptsMade(500, never)).toBe(1 + 3);
		expect(attemptsMade(150, never)).toBe(1 + 10);
		expect(attemptsMade(10, never)).toBe(40);
	});

	test("goes on as long as some are better", () => {
		const ever = Array.from({ length: 40 }, (_, i) => 100 - i);
		expect(attemptsMade(500, ever)).toBe(40);
		expect(attemptsMade(500, [...ever.slice(0, 20), ...never])).toBe(20 + 3);
	});
});
