import fc from "fast-check";
import { expect, test } from "vitest";
import { countBits, setBits, wordsFor } from "../../packages/routing/src/field/bits.ts";

test("spans of bits are set and counted as one by one", () => {
	const span = fc.tuple(fc.integer({ min: 0, max: 149 }), fc.integer({ min: 0, max: 149 }));
	fc.assert(
		fc.property(fc.array(span, { maxLength: 6 }), (spans) => {
			const words = wordsFor(150);
			const rows = new Int32Array(3 * words);
			const wanted = new Set<number>();
			for (const [a, b] of spans) {
				const [from, to] = [Math.min(a, b), Math.max(a, b)];
				setBits(rows, words, from, to);
				for (let at = from; at <= to; at++) wanted.add(at);
			}
			for (let at = 0; at < 150; at++)
				expect((rows[words + (at >> 5)]! >>> (at & 31)) & 1).toBe(wanted.has(at) ? 1 : 0);
			expect(rows.reduce((sum, word) => sum + countBits(word), 0)).toBe(wanted.size);
		}),
	);
});
