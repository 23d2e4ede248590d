import { describe, expect, test } from "vitest";
import { emptyDraft } from "../../playground/src/document/draft.ts";
import { atLength, snap } from "../../playground/src/snap/snap.ts";
import { squareLines } from "../../playground/src/tools/squareLines.ts";
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

describe("a slanted wall", () => {
	const wall = [
		[0, 0],
		[3000, 1000],
	] as const;

	test("is followed by one square to it, in whole steps", () => {
		const [line] = squareLines(wall);
		const { at, kind } = snap(emptyDraft, [2400, 2750], { ...options, lines: [line!] });
		expect(kind).toBe("align");
		const along = [at[0] - 3000, at[1] - 1000] as const;
		// to the millimetre, since corners are whole ones
		expect(Math.abs(along[0] * 3000 + along[1] * 1000) / Math.hypot(3000, 1000)).toBeLessThan(1);
		expect(Math.abs((Math.hypot(...along) / 100) % 1)).toBeLessThan(0.02);
	});

	test("makes a turned rectangle close square: the last corner is where both lines meet", () => {
		const lines = squareLines([...wall, [2400, 2800]]);
		expect(lines).toHaveLength(2);
		const { at } = snap(emptyDraft, [-590, 1790], { ...options, lines });
		expect(at).toEqual([-600, 1800]);
	});

	test("that is upright needs no lines: corners in line serve it", () => {
		expect(
			squareLines([
				[0, 0],
				[3000, 0],
				[3000, 2000],
			]),
		).toEqual([]);
		expect(squareLines([[0, 0]])).toEqual([]);
	});
});
