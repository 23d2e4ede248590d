import fc from "fast-check";
import { expect, test } from "vitest";
import { leastFirst } from "../../packages/routing/src/tails/heap.ts";

test("items come from the least on, of equal ones the first, then none", () => {
	fc.assert(
		fc.property(fc.array(fc.integer({ min: 0, max: 20 }), { maxLength: 60 }), (values) => {
			const next = leastFirst(Float64Array.from(values));
			const sorted = values.map((_, i) => i).sort((a, b) => values[a]! - values[b]! || a - b);
			expect(values.map(() => next())).toEqual(sorted);
			expect(next()).toBe(-1);
		}),
	);
});
