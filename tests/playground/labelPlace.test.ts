import type { Region } from "oxturn";
import { describe, expect, test } from "vitest";
import { labelPlace } from "../../playground/src/stage/shapes.ts";
import { rectangle } from "./floors.ts";

const room = (left: number, bottom: number, right: number, top: number, holes: Region["holes"] = []): Region => ({
	outer: rectangle(left, bottom, right, top),
	holes,
});

describe("the place of a name", () => {
	test("is the middle of a plain room, along a corridor too", () => {
		for (const region of [room(0, 0, 4000, 3000), room(0, 0, 9000, 1200)]) {
			const [x, y] = labelPlace(region, []);
			expect(Math.abs(x - region.outer[2]![0] / 2)).toBeLessThan(400);
			expect(Math.abs(y - region.outer[2]![1] / 2)).toBeLessThan(150);
		}
	});

	test("is in the room, not in the notch of an L nor in a hole", () => {
		const notched: Region = {
			outer: [
				[0, 0],
				[5000, 0],
				[5000, 1500],
				[1500, 1500],
				[1500, 5000],
				[0, 5000],
			],
			holes: [],
		};
		const [x, y] = labelPlace(notched, []);
		expect(x < 1500 || y < 1500).toBe(true);
		const [hx, hy] = labelPlace(room(0, 0, 4000, 4000, [rectangle(1000, 1000, 3000, 3000)]), []);
		expect(hx > 1000 && hx < 3000 && hy > 1000 && hy < 3000).toBe(false);
	});

	test("keeps away from what stands there already", () => {
		const [x, y] = labelPlace(room(0, 0, 4000, 3000), [[2000, 1500]]);
		expect(Math.hypot(x - 2000, y - 1500)).toBeGreaterThan(500);
	});

	test("covers neither a wall nor an id where its size is known and there is room", () => {
		const size = { half: 1200, across: 1500, along: 300 };
		// 3 m by 2 m: beside the id there is most room for a point, but none for the whole name
		const [x, y] = labelPlace(room(0, 0, 3000, 2000), [[200, 1000]], size);
		expect(Math.abs(y - 1000)).toBeGreaterThanOrEqual(300);
		expect(x).toBeGreaterThanOrEqual(1200);
		expect(x).toBeLessThanOrEqual(1800);
	});

	test("is still in the room where nothing is free", () => {
		const [x, y] = labelPlace(room(0, 0, 1000, 400), [[500, 200]], { half: 900, across: 1200, along: 900 });
		expect(x > 0 && x < 1000 && y > 0 && y < 400).toBe(true);
	});
});
