import { formatSchedule, loopSchedule, scheduleTotals } from "@oxturn/drawing";
import type { Floor, Layout } from "@oxturn/floor";
import { expect, test } from "vitest";
import { loop, smallFloor, smallLayout } from "./samples.ts";

const floor: Floor = {
	...smallFloor,
	manifolds: [...smallFloor.manifolds, { ...smallFloor.manifolds[0]!, id: "a2" }],
};

/** Lengths as a designer would note them: 62.5 + 70 + 48.25 + 80 = 260.75 m. */
const layout: Layout = {
	...smallLayout,
	features: [
		loop("L4", [], { manifold: "a2", port: 1, rooms: ["drying"], length: 80 }),
		loop("L2", [], { port: 2, rooms: ["workshop"], length: 70 }),
		loop("L3", [], { port: 3, rooms: ["workshop", "drying"], length: 48.25, pattern: "spiral", spacing: 150 }),
		loop("L1", [], { port: 1, rooms: ["workshop"], length: 62.5 }),
	],
};

test("rows go by manifold as the floor lists them, then by port", () => {
	expect(loopSchedule({ floor, layout }).map((row) => row.loop)).toEqual(["L1", "L2", "L3", "L4"]);
});

test("a row names its rooms and says how much of the limit it takes", () => {
	const [first, , third] = loopSchedule({ floor, layout });
	// 62.5 / 80 = 78.125 %
	expect(first).toEqual({
		loop: "L1",
		manifold: "m1",
		port: 1,
		rooms: ["Workshop"],
		pattern: "serpentine",
		spacing: 200,
		length: 62.5,
		limit: 80,
		percent: 78.125,
	});
	expect(third).toMatchObject({ rooms: ["Workshop", "Drying room"], pattern: "spiral", spacing: 150 });
});

test("totals agree with sums by hand", () => {
	// longest 80 of 80 m; spread 80 - 48.25
	expect(scheduleTotals(loopSchedule({ floor, layout }))).toEqual({
		loops: 4,
		pipe: 260.75,
		longest: 80,
		percent: 100,
		spread: 31.75,
	});
	expect(scheduleTotals([])).toEqual({ loops: 0, pipe: 0, longest: 0, percent: 0, spread: 0 });
});

test("the table for terminals lines up, figures to the right, with a block and a total for each manifold", () => {
	expect(formatSchedule(loopSchedule({ floor, layout }))).toBe(
		`Loop  Port  Rooms                  Pattern     Spacing   Length  Of limit
----  ----  ---------------------  ----------  -------  -------  --------
L1    m1/1  Workshop               serpentine   200 mm  62.50 m    78.1 %
L2    m1/2  Workshop               serpentine   200 mm  70.00 m    87.5 %
L3    m1/3  Workshop, Drying room  spiral       150 mm  48.25 m    60.3 %

L4    a2/1  Drying room            serpentine   200 mm  80.00 m   100.0 %

Loops    4 (m1 3, a2 1)
Pipe     260.75 m (m1 180.75 m, a2 80.00 m)
Longest  80.00 m, 100.0 % of 80 m
Spread   31.75 m between longest and shortest
`,
	);
});

test("a single manifold needs no total beside the sum", () => {
	const text = formatSchedule(loopSchedule({ floor: smallFloor, layout: smallLayout }));
	expect(text).toMatch(/^Loops {4}2$/m);
	expect(text).toMatch(/^L1 .*\nL2 /m);
});

test("an empty schedule is a head and zeros", () => {
	expect(formatSchedule([])).toContain("Loops    0\nPipe     0.00 m\n");
});

test("control characters in names cannot reach the terminal, and wide letters keep the columns", () => {
	const [row] = loopSchedule({ floor, layout });
	const text = formatSchedule([row!, { ...row!, rooms: ["\u001b[2J帆の間\u0007"] }]);
	// biome-ignore lint/suspicious/noControlCharactersInRegex: those are what must not be there
	expect(text).not.toMatch(/[\x00-\x09\x0b-\x1f\x7f-\x9f]/);
	// "[2J" takes three columns and each of the three letters two
	expect(text).toContain("m1/1  [2J帆の間  serpentine");
	expect(text).toContain("m1/1  Workshop   serpentine");
});

test("a room that the floor does not know shows its id", () => {
	const features = [loop("L1", [], { rooms: ["attic"] })];
	expect(loopSchedule({ floor, layout: { ...layout, features } })[0]?.rooms).toEqual(["attic"]);
});
