import { describe, expect, test } from "vitest";
import type { RouteAnswer } from "../../playground/src/work/jobs/route.ts";
import type { Line } from "../../playground/src/work/line.ts";
import { ROUGH_BUDGET, type RouteWish, startLiveRouter } from "../../playground/src/work/liveRouter.ts";
import { oneRoom } from "./floors.ts";

interface FakeLine extends Line {
	/** Time budgets of the jobs that were started, in order. */
	readonly started: (number | undefined)[];
	readonly answer: () => void;
	readonly fail: (message: string) => void;
	readonly stops: () => number;
}

/** A line whose jobs end when the test says so, and never once they have been stopped. */
function fakeLine(): FakeLine {
	const started: (number | undefined)[] = [];
	let settle: { resolve: (answer: RouteAnswer) => void; reject: (error: Error) => void } | undefined;
	let stops = 0;
	const stop = (): void => {
		stops += 1;
		settle = undefined;
	};
	return {
		started,
		stops: () => stops,
		answer: () => settle?.resolve({ problems: [] }),
		fail: (message) => settle?.reject(new Error(message)),
		run: ((_job: "route", input: { timeBudget?: number }) => {
			started.push(input.timeBudget);
			return new Promise<RouteAnswer>((resolve, reject) => {
				settle = { resolve, reject };
			});
		}) as unknown as Line["run"],
		stop,
		close: stop,
		warm: () => undefined,
	};
}

const wish = (revision: number, isRough: boolean): RouteWish => ({ revision, input: { draft: oneRoom }, isRough });

const soon = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

function start() {
	const lines = [fakeLine(), fakeLine()] as const;
	const answered: number[] = [];
	const failed: string[] = [];
	const router = startLiveRouter(
		{
			onAnswer: ({ revision }) => answered.push(revision),
			onFailure: (_, message) => failed.push(message),
			onProgress: () => undefined,
		},
		lines,
	);
	return { router, lines, answered, failed };
}

describe("live routing", () => {
	test("of a drag leaves out every frame but the newest, and answers the last one", async () => {
		const { router, lines, answered } = start();
		for (const revision of [1, 2, 3, 4]) router.wish(wish(revision, true));
		expect(lines[0].started).toEqual([ROUGH_BUDGET]);
		lines[0].answer();
		await soon();
		expect(lines[0].started).toHaveLength(2);
		lines[0].answer();
		await soon();
		expect(answered).toEqual([1, 4]);
		expect(lines[0].stops()).toBe(0);
	});

	test("ends with a layout that has all the time it wants", async () => {
		const { router, lines, answered } = start();
		router.wish(wish(1, true));
		router.wish(wish(2, false));
		lines[0].answer();
		await soon();
		lines[0].answer();
		await soon();
		expect(lines[0].started).toEqual([ROUGH_BUDGET, undefined]);
		expect(answered).toEqual([1, 2]);
	});

	test("gives a long run up for a newer wish, on the worker that waits, and never tells of the old one", async () => {
		const { router, lines, answered } = start();
		router.wish(wish(1, false));
		router.wish(wish(2, true));
		expect(lines[0].stops()).toBe(1);
		expect(lines[1].started).toEqual([ROUGH_BUDGET]);
		lines[0].answer();
		lines[1].answer();
		await soon();
		expect(answered).toEqual([2]);
	});

	test("that is stopped tells nothing any more, and starts again with the next wish", async () => {
		const { router, lines, answered } = start();
		router.wish(wish(1, false));
		router.stop();
		lines[0].answer();
		await soon();
		expect(answered).toEqual([]);
		router.wish(wish(2, false));
		lines[1].answer();
		await soon();
		expect(answered).toEqual([2]);
	});

	test("goes on after a failure", async () => {
		const { router, lines, answered, failed } = start();
		router.wish(wish(1, true));
		router.wish(wish(2, true));
		lines[0].fail("out of pipe");
		await soon();
		lines[0].answer();
		await soon();
		expect(failed).toEqual(["out of pipe"]);
		expect(answered).toEqual([2]);
	});
});
