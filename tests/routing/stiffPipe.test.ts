import { auditLayout, routeFloor } from "@oxturn/routing";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { returnSpacing } from "../../packages/routing/src/field/returnSpacing.ts";
import { faultsOf } from "../support/checkLayout.ts";
import { singleRoom } from "../support/floors.ts";
import { rectangle, surplusTurning } from "../support/shapes.ts";

describe("a pipe too stiff to turn within the spacing", () => {
	it.each([
		[150, 90],
		[200, 140],
		[100, 80],
	])("swells at its half turns: %i mm apart, never tighter than %i mm", (spacing, minBendRadius) => {
		for (const pattern of ["serpentine", "spiral"] as const) {
			const floor = singleRoom({ outer: rectangle(0, 0, 4500, 3000), spacing, minBendRadius, maxLoopLength: 140 });
			const layout = routeFloor(floor, { pattern });
			expect(layout.features.length).toBeGreaterThan(0);
			expect(layout.notices).toEqual([]);
			expect(faultsOf(floor, layout)).toEqual([]);
			for (const { geometry } of layout.features)
				expect(surplusTurning(geometry.coordinates, minBendRadius, 0.5)).toBeLessThan(0.12);
		}
	});

	it("has tighter bends when it is less stiff: the radius asked for is what limits them", () => {
		const room = { outer: rectangle(0, 0, 4500, 3000), spacing: 150 };
		const [loop] = routeFloor(singleRoom({ ...room, minBendRadius: 62 })).features;
		expect(surplusTurning(loop!.geometry.coordinates, 90, 0.5)).toBeGreaterThan(0.12);
	});
});

describe("a pipe whose half turns would swell into the next run", () => {
	// Half turns of 80 mm between runs 75 mm apart swell by 42.5 mm, and the next run would be 32.5 mm off.
	const room = { outer: rectangle(0, 0, 4000, 2600), spacing: 75, minBendRadius: 80, maxLoopLength: 200 };

	it("lies just so far apart that they keep clear of it, and a notice says so", () => {
		const floor = singleRoom({ ...room, pattern: "spiral" });
		const layout = routeFloor(floor);
		expect(faultsOf(floor, layout)).toEqual([]);
		expect(layout.features).toHaveLength(1);
		// 3/2 s - 80 = 49.25 mm, which is what tails 50 mm apart keep to.
		expect(layout.features[0]!.properties.spacing).toBeCloseTo(129.25 / 1.5, -0.5);
		expect(layout.notices).toMatchObject([
			{ code: "SPACING_WIDENED", subject: "room", details: { reason: "returns", spacing: 75 } },
		]);
		expect(auditLayout(floor, layout).coverage[0]!.within100).toBeGreaterThan(0.99);
	});

	it("lies as asked for where it bends tighter", () => {
		const layout = routeFloor(singleRoom({ ...room, outerDiameter: 12, minBendRadius: 60 }));
		expect(layout.features[0]!.properties.spacing).toBe(75);
		expect(layout.notices).toEqual([]);
	});

	it("leaves no room unserved, however stiff it is for its spacing", () => {
		const rooms = fc.record({
			width: fc.integer({ min: 2600, max: 5000 }),
			depth: fc.integer({ min: 2000, max: 3600 }),
			spacing: fc.constantFrom(75, 80, 100, 125),
			stiffness: fc.double({ min: 0.7, max: 1.3, noNaN: true }),
			tailSpacing: fc.constantFrom(50, 60, 75),
			along: fc.double({ min: 0.25, max: 0.75, noNaN: true }),
			pattern: fc.constantFrom("serpentine", "spiral", "auto"),
		});
		fc.assert(
			fc.property(rooms, ({ width, depth, spacing, stiffness, tailSpacing, along, pattern }) => {
				const floor = singleRoom({
					outer: rectangle(0, 0, width, depth),
					spacing,
					minBendRadius: stiffness * spacing,
					tailSpacing,
					along,
					pattern,
					maxLoopLength: 300,
				});
				const layout = routeFloor(floor);
				expect(faultsOf(floor, layout)).toEqual([]);
				expect(auditLayout(floor, layout).coverage[0]!.within100).toBeGreaterThan(0.9);
				const laid = Math.max(...layout.features.map(({ properties }) => properties.spacing));
				const returning = returnSpacing({ minBendRadius: floor.system.pipe.minBendRadius, apart: tailSpacing });
				// What a loop over the limit may add.
				expect(laid).toBeLessThan(1.09 * Math.max(spacing, returning));
				expect(layout.notices.some(({ code }) => code === "SPACING_WIDENED")).toBe(laid > spacing);
			}),
			{ numRuns: 40 },
		);
	});
});

describe("a room too small for the pipe", () => {
	it.each([
		["a cupboard narrower than the pipe can turn in", rectangle(0, 0, 900, 300), 80],
		["a small room and a very stiff pipe", rectangle(0, 0, 1200, 1200), 700],
	])("has no loop, and a notice that says why: %s", (_, outer, minBendRadius) => {
		const layout = routeFloor(singleRoom({ outer, minBendRadius }));
		expect(layout.features).toEqual([]);
		expect(layout.notices).toMatchObject([{ code: "ROOM_UNSERVED", subject: "room" }]);
		expect(layout.notices[0]!.message).toContain("no pipe at 200 mm spacing fits");
	});

	it("is told of no wider spacing, since nothing is laid at any", () => {
		const floor = singleRoom({
			outer: rectangle(0, 0, 3000, 2500),
			spacing: 50,
			minBendRadius: 1000,
			tailSpacing: 600,
		});
		const { features, notices } = routeFloor(floor, { timeBudget: 500 });
		expect(features).toEqual([]);
		expect(notices.map(({ code }) => code)).toEqual(["ROOM_UNSERVED"]);
	});

	it("has a notice of its own when no manifold hangs in it or keep-outs cover it", () => {
		const floor = singleRoom({ outer: rectangle(0, 0, 3000, 3000) });
		expect(routeFloor({ ...floor, manifolds: [] }).notices).toMatchObject([{ code: "ROOM_UNSERVED" }]);
		const covered = singleRoom({ outer: rectangle(0, 0, 3000, 3000), keepouts: [rectangle(-10, -10, 3010, 3010)] });
		expect(routeFloor(covered).notices).toMatchObject([{ code: "ROOM_UNSERVED" }]);
	});

	it.each([
		["over its manifold", rectangle(1200, -10, 1800, 400)],
		["in front of it, nearer than the pipe can turn", rectangle(-10, 155, 3010, 3010)],
	])("names the keep-out that stands %s", (_, keepout) => {
		const { features, notices } = routeFloor(singleRoom({ outer: rectangle(0, 0, 3000, 3000), keepouts: [keepout] }));
		expect(features).toEqual([]);
		const details = { reason: "behind-keepout", keepout: "keepout-0", manifold: "m1" };
		expect(notices).toMatchObject([{ code: "ROOM_UNSERVED", subject: "room", details }]);
		expect(notices[0]!.message).toContain('keep-out "keepout-0" stands in front of the manifold "m1"');
	});

	it("is left alone when it is not heated", () => {
		const floor = singleRoom({ outer: rectangle(0, 0, 3000, 3000) });
		const cold = { ...floor, rooms: floor.rooms.map((room) => ({ ...room, heated: false })) };
		expect(routeFloor(cold)).toMatchObject({ features: [], notices: [] });
	});
});
