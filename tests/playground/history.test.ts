import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { canRedo, canUndo, type History, redo, startHistory, step, undo } from "../../playground/src/store/history.ts";

const repeat = <T>(
	history: History<T>,
	change: (history: History<T>) => History<T>,
	can: (history: History<T>) => boolean,
): History<T> => {
	let current = history;
	while (can(current)) current = change(current);
	return current;
};

describe("the history", () => {
	test("goes back to the start and forward to the end, whatever was done", () => {
		fc.assert(
			fc.property(fc.array(fc.integer()), (steps) => {
				const end = steps.reduce((history, next) => step(history, next), startHistory(0));
				const start = repeat(end, undo, canUndo);
				expect(start.present).toBe(0);
				expect(repeat(start, redo, canRedo)).toEqual(end);
			}),
		);
	});

	test("keeps ten thousand steps", () => {
		let history = startHistory(0);
		for (let next = 1; next <= 10_000; next += 1) history = step(history, next);
		expect(repeat(history, undo, canUndo).present).toBe(0);
	});

	test("forgets what was taken back once something else is done", () => {
		const history = step(undo(step(startHistory("a"), "b")), "c");
		expect(canRedo(history)).toBe(false);
		expect(undo(history).present).toBe("a");
	});

	test("does not move past its ends", () => {
		const history = startHistory("a");
		expect(undo(history)).toBe(history);
		expect(redo(history)).toBe(history);
	});
});
