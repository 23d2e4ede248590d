import { describe, expect, it } from "vitest";
import { inThreads } from "../../packages/oxturn/src/cli/threads.ts";

interface Task {
	readonly number: number;
	/** Zero until 5 is done. */
	readonly gate: Int32Array;
}

/** What a thread runs: it doubles numbers, holds 1 back until 5 is done, and dies over two of them. */
const doubles = new URL(
	`data:text/javascript,${encodeURIComponent(`
		import { parentPort, threadId } from "node:worker_threads";
		parentPort.on("message", ({ number, gate }) => {
			if (number === 6) process.exit(3);
			if (number === 7) throw new Error("seven is too much");
			if (number === 1) Atomics.wait(gate, 0, 0);
			parentPort.postMessage(number * 2 + " by " + threadId);
		});
	`)}`,
);

interface Course {
	readonly begun: readonly number[];
	readonly done: ReadonlyMap<number, string>;
	/** How many were under way at the same time. */
	readonly most: number;
}

async function follow(numbers: readonly number[], count: number, program: URL | undefined): Promise<Course> {
	const begun: number[] = [];
	const done = new Map<number, string>();
	const gate = new Int32Array(new SharedArrayBuffer(4));
	let most = 0;
	await inThreads(
		{
			tasks: numbers.map((number): Task => ({ number, gate })),
			act: ({ number }) => `${number * 2} here`,
			lost: ({ number }, reason) => `${number} lost: ${reason}`,
			begun: ({ number }) => {
				begun.push(number);
				most = Math.max(most, begun.length - done.size);
			},
			done: ({ number }, result) => {
				done.set(number, result);
				if (number !== 5) return;
				Atomics.store(gate, 0, 1);
				Atomics.notify(gate, 0);
			},
		},
		count,
		program,
	);
	return { begun, done, most };
}

describe("work in threads", () => {
	it("begins tasks in their order, so many at once as it is told, and gives back what came of each", async () => {
		const { begun, done, most } = await follow([1, 2, 3, 4, 5], 2, doubles);
		expect(begun).toEqual([1, 2, 3, 4, 5]);
		expect(most).toBe(2);
		// whoever is free takes the next: the first thread is still busy when the second has done all others
		expect([...done.keys()]).toEqual([2, 3, 4, 5, 1]);
		for (const [number, result] of done) expect(result).toMatch(new RegExp(`^${number * 2} by \\d+$`));
		expect(new Set([...done.values()].map((result) => result.split(" by ")[1])).size).toBe(2);
	});

	it.each([1, 2])("loses the task alone over which a thread dies, with %i at once", async (count) => {
		const { done } = await follow([6, 2, 7, 3, 4], count, doubles);
		expect(done.get(6)).toBe("6 lost: its thread ended with status 3");
		expect(done.get(7)).toBe("7 lost: seven is too much");
		for (const number of [2, 3, 4]) expect(done.get(number)).toMatch(new RegExp(`^${number * 2} by `));
	});

	it("loses every task, and ends, where the program of the threads does not run", async () => {
		const { done } = await follow([1, 2], 2, new URL("data:text/javascript,throw new Error('no')"));
		expect([...done.values()].sort()).toEqual(["1 lost: no", "2 lost: no"]);
	});

	it("does the same in this thread without a program for others", async () => {
		const { begun, done } = await follow([1, 6, 7], 1, undefined);
		expect(begun).toEqual([1, 6, 7]);
		expect([...done]).toEqual([
			[1, "2 here"],
			[6, "12 here"],
			[7, "14 here"],
		]);
	});
});
