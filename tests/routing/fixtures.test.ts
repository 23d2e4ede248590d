import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { drawPlan } from "@oxturn/drawing";
import { layoutToJson, readFloorText, readLayoutText } from "@oxturn/floor";
import { auditLayout, routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { faultsOf } from "../support/checkLayout.ts";

const FIXTURES = "tests/fixtures";
const OUTPUT = "tests/output";

/** Loops that a fixture takes: area / spacing / maxLoopLength, rounded up, and its tails. */
const loopsOf: Readonly<Record<string, number>> = {
	"bends-wider-than-the-spacing": 1,
	"column-in-the-middle": 1,
	"l-shape-manifold-on-inner-wall": 1,
	"plain-rectangle": 1,
	"round-tower": 1,
	"three-loops-in-a-row": 3,
	"turned-trapezium": 1,
	"u-shape": 1,
};

mkdirSync(OUTPUT, { recursive: true });

describe("fixture floors", () => {
	it.each(Object.entries(loopsOf))("are laid, valid and drawn to tests/output: %s", (name, loops) => {
		const { floor, notices } = readFloorText(readFileSync(`${FIXTURES}/${name}.json`, "utf8"));
		expect(notices).toEqual([]);
		const layout = routeFloor(floor);
		const svg = drawPlan({ floor, layout });
		writeFileSync(`${OUTPUT}/${name}.svg`, svg);
		expect(layout.notices).toEqual([]);
		expect(layout.features).toHaveLength(loops);
		expect(faultsOf(floor, layout)).toEqual([]);
		const { passed, coverage } = auditLayout(floor, layout, { cell: 40 });
		expect(passed).toBe(true);
		expect(coverage[0]!.within100).toBeGreaterThan(0.985);
		expect(readLayoutText(layoutToJson(layout))).toEqual(layout);
		expect(svg).toContain('<svg xmlns="http://www.w3.org/2000/svg"');
		for (const { id } of layout.features) expect(svg.split(`id="loop-${id}"`)).toHaveLength(2);
		expect(svg).toContain(floor.name);
		expect(drawPlan({ floor, layout })).toBe(svg);
	});
});
