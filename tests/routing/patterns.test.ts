import type { Layout, PatternName } from "@oxturn/floor";
import type { Point, Ring } from "@oxturn/geometry";
import { auditLayout, countBends, routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { faultsOf } from "../support/checkLayout.ts";
import { type SingleRoom, singleRoom } from "../support/floors.ts";
import { rectangle, regularPolygon } from "../support/shapes.ts";

const pipeOf = (layout: Layout): number => layout.features.reduce((sum, { properties }) => sum + properties.length, 0);

/** Straight stretches of all loops, as vectors. */
const straights = (layout: Layout): Point[] =>
	layout.features.flatMap(({ geometry: { coordinates } }) =>
		coordinates.slice(1).map(([x, y], i): Point => [x - coordinates[i]![0], y - coordinates[i]![1]]),
	);

/** A room laid in one pattern: its layout, proven valid, and how much of it is warm. */
function lay(made: SingleRoom, pattern: PatternName) {
	const floor = singleRoom(made);
	const layout = routeFloor(floor, { pattern });
	expect(layout.notices).toEqual([]);
	expect(faultsOf(floor, layout)).toEqual([]);
	return { layout, coverage: auditLayout(floor, layout, { cell: 40 }).coverage[0]! };
}

const study: SingleRoom = { outer: rectangle(0, 0, 5000, 4000) };
const bothPatterns = ["serpentine", "spiral"] as const;

describe("a corridor too narrow for four runs at the spacing and too wide for two", () => {
	// Between the edges lie 0.67 to 0.72 of three spacings.
	it.each([
		[900, 300],
		[1100, 350],
		[1200, 400],
	])("has four along it, rather than a cold strip between two: %i mm at %i mm", (width, spacing) => {
		const { layout, coverage } = lay({ outer: rectangle(0, 0, width, 7000), spacing }, "serpentine");
		expect(straights(layout).filter(([, y]) => Math.abs(y) > 3000)).toHaveLength(4);
		expect(coverage.within055).toBeGreaterThan(0.97);
	});
});

describe("a rectangle as serpentine", () => {
	const { layout } = lay(study, "serpentine");
	const runs = straights(layout).filter(([x, y]) => Math.hypot(x, y) > 1000);

	it("has two quarter turns a run and few more at its tails", () => {
		expect(runs.length).toBeGreaterThanOrEqual(18);
		expect(countBends(layout)).toBeGreaterThanOrEqual(2 * runs.length - 4);
		expect(countBends(layout)).toBeLessThanOrEqual(2 * runs.length + 6);
	});

	it("has its runs along the walls, nearly all of them the same way", () => {
		for (const [x, y] of runs) expect(Math.min(Math.abs(x), Math.abs(y))).toBeLessThan(1);
		const across = runs.filter(([x, y]) => Math.abs(x) > Math.abs(y)).length;
		expect(Math.min(across, runs.length - across)).toBeLessThanOrEqual(3);
	});
});

describe("a rectangle as spiral", () => {
	const { layout, coverage } = lay(study, "spiral");

	it("has runs along both pairs of walls", () => {
		const runs = straights(layout).filter(([x, y]) => Math.hypot(x, y) > 1000);
		const across = runs.filter(([x, y]) => Math.abs(x) > Math.abs(y)).length;
		expect(across).toBeGreaterThanOrEqual(8);
		expect(runs.length - across).toBeGreaterThanOrEqual(8);
	});

	it("turns four times a round for flow and return, and leaves no cold core", () => {
		// 4 m / (2 x 2 x 0.2 m) = 5 rounds of flow and return, each four quarter turns: 40, and a few at core and tails.
		expect(countBends(layout)).toBeGreaterThanOrEqual(34);
		expect(countBends(layout)).toBeLessThanOrEqual(48);
		expect(coverage.within100).toBeGreaterThan(0.995);
	});
});

describe("pipe for a square metre", () => {
	// 1 / spacing: common practice, no source; 200 mm make 5 m/m2.
	it.each([100, 150, 200, 250, 300])("is one over the spacing within a tenth: %i mm", (spacing) => {
		for (const pattern of bothPatterns) {
			const { layout } = lay({ ...study, spacing, maxLoopLength: 120 }, pattern);
			const perSquareMetre = pipeOf(layout) / 20;
			expect(perSquareMetre * (spacing / 1000)).toBeGreaterThan(0.9);
			expect(perSquareMetre * (spacing / 1000)).toBeLessThan(1.1);
		}
	});
});

describe("rooms that are no rectangles", () => {
	const ell: Ring = [
		[0, 0],
		[5000, 0],
		[5000, 2500],
		[2500, 2500],
		[2500, 4500],
		[0, 4500],
	];
	const horseshoe: Ring = [
		[0, 0],
		[5000, 0],
		[5000, 4000],
		[3600, 4000],
		[3600, 1600],
		[1400, 1600],
		[1400, 4000],
		[0, 4000],
	];
	const column = [...rectangle(2000, 1800, 2400, 2200)].reverse();

	it.each<[string, SingleRoom]>([
		["an L", { outer: ell }],
		["a U", { outer: horseshoe }],
		["round a column", { outer: rectangle(0, 0, 4500, 4000), holes: [column] }],
		["round a keep-out", { outer: rectangle(0, 0, 4500, 4000), keepouts: [rectangle(0, 3200, 900, 4000)] }],
		["a round tower", { outer: regularPolygon(24, 2500) }],
	])("are warm to the last corner in either pattern: %s", (_, made) => {
		for (const pattern of bothPatterns) {
			const { coverage } = lay(made, pattern);
			expect(coverage.within055).toBeGreaterThan(0.9);
			expect(coverage.within100).toBeGreaterThan(0.985);
		}
	});

	it("are left to the better pattern when either will do", () => {
		for (const outer of [ell, horseshoe]) {
			const auto = lay({ outer }, "auto").coverage.within055;
			const best = Math.max(...bothPatterns.map((pattern) => lay({ outer }, pattern).coverage.within055));
			expect(auto).toBeGreaterThan(best - 0.02);
		}
	});

	it("can ask for a pattern of their own, which an option overrides", () => {
		const floor = singleRoom({ ...study, pattern: "spiral" });
		expect(routeFloor(floor).features[0]!.properties.pattern).toBe("spiral");
		expect(routeFloor(floor, { pattern: "serpentine" }).features[0]!.properties.pattern).toBe("serpentine");
	});
});
