import type { Floor } from "@oxturn/floor";
import { boundingBox, type Ring } from "@oxturn/geometry";
import { auditLayout, routeFloor } from "@oxturn/routing";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { mapFloor } from "../../packages/routing/src/field/coverage.ts";
import { costOfField, type FilledField } from "../../packages/routing/src/field/fillField.ts";
import { intoNooks } from "../../packages/routing/src/field/intoNooks.ts";
import { nooksOf } from "../../packages/routing/src/field/nooks.ts";
import { roundOutline } from "../../packages/routing/src/field/roundOutline.ts";
import { faultsOf } from "../support/checkLayout.ts";
import { singleRoom } from "../support/floors.ts";
import { rectangle, solid } from "../support/shapes.ts";

/*
 * A nook is a strip of floor too narrow for runs at the wanted spacing, as beside a bath tub that does not reach the
 * corner of its room:
 *
 *     +------+----------------+
 *     | nook |      tub       |
 *     |      +----------------+
 *     |                       |
 *     |         field         |
 *     +-----------------------+
 */

/** A bath of 2.6 x 2.4 m whose tub, 0.8 m deep, leaves a strip so wide, mm; its manifold hangs across from the tub. */
const bath = (strip: number, made: Partial<Parameters<typeof singleRoom>[0]> = {}): Floor =>
	singleRoom({
		outer: rectangle(0, 0, 2600, 2400),
		keepouts: [rectangle(strip, 1600, 2600, 2400)],
		minBendRadius: 80,
		along: 0.6,
		...made,
	});

const warm = (floor: Floor): number => auditLayout(floor, routeFloor(floor)).coverage[0]!.within100;

/** How far into the strip, beyond the edge of the tub, a layout's pipe reaches, mm. */
function reachInto(floor: Floor): number {
	const paths = routeFloor(floor).features.map(({ geometry }) => geometry.coordinates);
	return Math.max(...paths.flat().map(([, y]) => y - 1600));
}

describe("a strip of floor beside a bath tub", () => {
	it.each(["auto", "spiral", "serpentine"] as const)(
		"is warmed by a pipe that goes in and comes back: %s",
		(pattern) => {
			for (const strip of [200, 260, 330]) {
				const floor = bath(strip, { pattern });
				expect(faultsOf(floor, routeFloor(floor))).toEqual([]);
				expect(warm(floor)).toBeGreaterThan(0.985);
			}
		},
	);

	it("stays without where the pipe cannot turn in it", () => {
		// It needs twice the bend radius and the pipe's own width.
		expect(reachInto(bath(170))).toBeLessThan(0);
		expect(reachInto(bath(190))).toBeGreaterThan(500);
	});

	it("is warmed wherever it lies, and no rule is broken for it", () => {
		const baths = fc.record({
			strip: fc.integer({ min: 195, max: 420 }),
			depth: fc.integer({ min: 600, max: 1000 }),
			along: fc.double({ min: 0.25, max: 0.75, noNaN: true }),
			isMirrored: fc.boolean(),
		});
		fc.assert(
			fc.property(baths, ({ strip, depth, along, isMirrored }) => {
				const tub = isMirrored
					? rectangle(0, 2400 - depth, 2600 - strip, 2400)
					: rectangle(strip, 2400 - depth, 2600, 2400);
				const floor = bath(strip, { keepouts: [tub], along });
				expect(faultsOf(floor, routeFloor(floor))).toEqual([]);
				expect(warm(floor)).toBeGreaterThan(0.97);
			}),
			{ numRuns: 25 },
		);
	}, 60_000);
});

const pipe = { spacing: 200, others: [], edge: 100, narrow: 160, minBendRadius: 80, outerDiameter: 16, apart: 50 };

describe("nooks", () => {
	/** 2 x 1 m with a strip of that width that goes on upwards for 0.6 m at its left end, mm. */
	const withStrip = (width: number) =>
		solid([
			[0, 0],
			[2000, 0],
			[2000, 1000],
			[width, 1000],
			[width, 1600],
			[0, 1600],
		]);
	const widthOf = (width: number): number | undefined => {
		const [nook] = nooksOf(withStrip(width), pipe);
		if (!nook) return undefined;
		const [x0, , x1] = boundingBox(nook.region.outer);
		return x1 - x0;
	};

	it("are strips too narrow for a field in which the pipe can turn", () => {
		expect(widthOf(2000)).toBeUndefined();
		expect(widthOf(400)).toBeUndefined();
		expect(widthOf(300)).toBeCloseTo(100);
		expect(widthOf(160)).toBeUndefined();
	});

	it("are entered by pipes no nearer to each other than is allowed, nearer to the walls if need be", () => {
		expect(widthOf(260)).toBeCloseTo(60);
		expect(widthOf(220)).toBeCloseTo(89, 0);
	});
});

/** Where a ring crosses a height, from left to right, mm. */
const crossingsAt = (height: number, ring: Ring): number[] =>
	ring
		.flatMap(([ax, ay], i) => {
			const [bx, by] = ring[(i + 1) % ring.length]!;
			return ay > height === by > height ? [] : [Math.round(ax + ((height - ay) * (bx - ax)) / (by - ay))];
		})
		.sort((a, b) => a - b);

describe("a lane that goes on into a narrower nook", () => {
	/** 0.4 m wide, and 0.29 m for 0.8 m more. */
	const floor = solid([
		[0, -100],
		[400, -100],
		[400, 1000],
		[290, 1000],
		[290, 1800],
		[0, 1800],
	]);
	const outline = rectangle(100, 0, 300, 900);
	const rounding = { minRadius: 80, radius: 100 };
	const field = { ring: roundOutline(outline, rounding)!, outline, rounding, reached: 1 };
	const led = (longest: number): FilledField | undefined => {
		const terms = { map: mapFloor([floor], 50), spacing: 200, longest };
		const filled = { ...field, pattern: "serpentine" as const, ...costOfField(field, terms) };
		return intoNooks(filled, nooksOf(floor, pipe), { ...terms, apart: 50 });
	};

	it("gets narrower in front of it, and its runs lie side by side in it", () => {
		const { ring } = led(1e5)!;
		expect(crossingsAt(600, ring)).toEqual([100, 300]);
		expect(crossingsAt(1300, ring)).toEqual([100, 190]);
	});

	it("ends before it where the loop would become too long", () => {
		expect(led(3000)).toBeUndefined();
	});
});
