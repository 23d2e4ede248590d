import { describe, expect, test } from "vitest";
import { emptyDraft } from "../../playground/src/document/draft.ts";
import { atLength, snap } from "../../playground/src/snap/snap.ts";
import { oneRoom } from "./floors.ts";

const options = { reach: 60, grid: 100 };

describe("a point", () => {
	test.each([
		["near a corner is caught by it", [5030, 3980], [5000, 4000], "corner"],
		["near a wall falls on it, at a whole step from its start", [3260, -40], [3300, 0], "wall"],
		[
			"in line with a corner is brought into that line, and onto the grid the other way",
			[7240, 3970],
			[7200, 4000],
			"align",
		],
		["elsewhere falls on the grid", [7240, 2130], [7200, 2100], "grid"],
	] as const)("%s", (_, at, expected, kind) => {
		expect(snap(oneRoom, at, options)).toMatchObject({ at: expected, kind });
	});

	test("is square to the corners drawn before, and shows the lines", () => {
		const caught = snap(emptyDraft, [2030, 2985], {
			...options,
			squareTo: [
				[0, 2987],
				[2013, 1],
			],
		});
		expect(caught.at).toEqual([2013, 2987]);
		expect(caught.guides).toHaveLength(2);
	});

	test("is not caught by the corner that is being moved", () => {
		const caught = snap(oneRoom, [4960, 3960], {
			...options,
			except: (id, ring, index) => id === "room-1" && ring === 0 && index === 2,
		});
		expect(caught.kind).not.toBe("corner");
	});

	test("is never moved farther than its reach or the grid allows", () => {
		const { at } = snap(oneRoom, [7777, 7777], options);
		expect(Math.hypot(at[0] - 7777, at[1] - 7777)).toBeLessThanOrEqual(Math.hypot(50, 50));
	});
});

test("a typed length lies in the direction of the pointer, along x when there is none", () => {
	expect(atLength([100, 100], [100, 900], 2500)).toEqual([100, 2600]);
	expect(atLength([0, 0], [30, 40], 1000)).toEqual([600, 800]);
	expect(atLength([0, 0], [0, 0], 700)).toEqual([700, 0]);
});
