import fc from "fast-check";
import { expect, test } from "vitest";
import { distanceTransform } from "../../packages/routing/src/audit/distanceTransform.ts";

function bruteForce(inside: Uint8Array, columns: number, rows: number): number[] {
	return Array.from(inside, (_, i) => {
		let nearest = Infinity;
		inside.forEach((set, j) => {
			if (set) return;
			const dx = (i % columns) - (j % columns);
			const dy = Math.floor(i / columns) - Math.floor(j / columns);
			nearest = Math.min(nearest, dx * dx + dy * dy);
		});
		return nearest;
	}).slice(0, columns * rows);
}

test("agrees with every distance measured one by one", () => {
	fc.assert(
		fc.property(
			fc.integer({ min: 1, max: 14 }),
			fc.integer({ min: 1, max: 14 }),
			fc.integer({ min: 1, max: 40 }),
			fc.infiniteStream(fc.nat({ max: 40 })),
			(columns, rows, rarity, numbers) => {
				const inside = Uint8Array.from({ length: columns * rows }, () => {
					const { value } = numbers.next();
					return value < rarity ? 1 : 0;
				});
				expect([...distanceTransform(inside, columns, rows)]).toEqual(bruteForce(inside, columns, rows));
			},
		),
	);
});

test("without an outside every cell is infinitely deep", () => {
	expect([...distanceTransform(new Uint8Array(6).fill(1), 3, 2)]).toEqual(Array(6).fill(Infinity));
});

test("a square in a frame is deepest in its middle", () => {
	const inside = new Uint8Array(49);
	for (let y = 1; y < 6; y++) inside.fill(1, 7 * y + 1, 7 * y + 6);
	const distance2 = distanceTransform(inside, 7, 7);
	expect(Math.max(...distance2)).toBe(9);
	expect(distance2[24]).toBe(9);
});
