import { difference, type Point, pathLength, pointBetween, type Ring, regionArea } from "@oxturn/geometry";
import { auditLayout, routeFloor } from "@oxturn/routing";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lessRough } from "../../packages/routing/src/smooth.ts";
import { faultsOf } from "../support/checkLayout.ts";
import { movedFloor, singleRoom } from "../support/floors.ts";
import { rectangle, regularPolygon, solid } from "../support/shapes.ts";

/** The same outline as a scanner measures it: a point every 15 mm or so, each a little off the wall. */
function traced(outline: Ring, off: (k: number) => number): Ring {
	let k = 0;
	return outline.flatMap((a, i) => {
		const b = outline[(i + 1) % outline.length]!;
		const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
		const count = Math.max(1, Math.floor(length / 15));
		return Array.from({ length: count }, (_, j): Point => {
			const [x, y] = pointBetween(a, b, j / count);
			const aside = j === 0 ? 0 : off(k++) / length;
			return [x - aside * (b[1] - a[1]), y + aside * (b[0] - a[0])];
		});
	});
}

/** Between -1 and 1 mm, as good as at random. */
const scattered = (k: number): number => Math.sin(k * k * 12.9898);

const L_SHAPE: Ring = [
	[0, 0],
	[6000, 0],
	[6000, 2500],
	[3500, 2500],
	[3500, 6000],
	[0, 6000],
];

describe("an outline with very many corners, traced or measured", () => {
	it("is routed as its walls run, not as its corners lie: like the same outline as drawn", () => {
		const room = { spacing: 150, maxLoopLength: 80 };
		const drawn = singleRoom({ ...room, outer: L_SHAPE });
		const measured = { ...singleRoom({ ...room, outer: traced(L_SHAPE, scattered) }), manifolds: drawn.manifolds };
		const [one, other] = [routeFloor(drawn), routeFloor(measured)];
		expect(other.notices).toEqual(one.notices);
		expect(other.features).toHaveLength(one.features.length);
		expect(faultsOf(measured, other)).toEqual([]);
		const [before, after] = [drawn, measured].map((floor, i) => auditLayout(floor, [one, other][i]!).coverage[0]!);
		expect(after!.within100).toBeGreaterThan(before!.within100 - 0.01);
		expect(after!.pipe).toBeGreaterThan(0.95 * before!.pipe);
	});

	it("has few corners left in straight walls, gives up no more than 5 mm along them, and nothing is added", () => {
		fc.assert(
			fc.property(fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 50, maxLength: 200 }), (offs) => {
				const rough = solid(traced(L_SHAPE, (k) => offs[k % offs.length]!));
				const lean = lessRough(rough);
				expect(lean.outer.length).toBeLessThan(rough.outer.length / 20);
				expect(difference([lean], [rough])).toEqual([]);
				const givenUp = regionArea(rough) - regionArea(lean);
				expect(givenUp).toBeLessThan(5 * pathLength([...L_SHAPE, L_SHAPE[0]!]));
			}),
			{ numRuns: 20 },
		);
	});

	it("is so where a single wall is rough, the manifold's", () => {
		const drawn = singleRoom({ outer: L_SHAPE, spacing: 150, maxLoopLength: 60, wall: 5 });
		const outer = [...L_SHAPE.slice(0, 5), ...traced(L_SHAPE, scattered).slice(-400)];
		const layout = routeFloor({
			...singleRoom({ outer, spacing: 150, maxLoopLength: 60 }),
			manifolds: drawn.manifolds,
		});
		expect(layout.notices).toEqual([]);
		expect(layout.features).toHaveLength(routeFloor(drawn).features.length);
	});

	it.each([48, 100, 240])("stays as it is where it is a drawn curve of %i corners", (corners) => {
		const tower = solid(regularPolygon(corners, 2500));
		expect(lessRough(tower)).toBe(tower);
	});
});

describe("a manifold whose facing is a few degrees off square to its wall", () => {
	const square = singleRoom({ outer: rectangle(0, 0, 5000, 4000), spacing: 100, maxLoopLength: 60 });
	const turnedBy = (degrees: number) => ({
		...square,
		manifolds: square.manifolds.map((manifold) => ({ ...manifold, facing: manifold.facing + degrees })),
	});

	it("is laid as if it were square: its ports hang along the wall, not half of them in it", () => {
		const layout = routeFloor(square);
		expect(layout.features.length).toBeGreaterThan(3);
		expect(layout.notices).toEqual([]);
		fc.assert(
			fc.property(fc.double({ min: -10, max: 10, noNaN: true }), (degrees) => {
				const { features } = routeFloor(turnedBy(Math.abs(degrees) < 0.3 ? 0.3 : degrees));
				expect(features.map(({ geometry }) => geometry)).toEqual(layout.features.map(({ geometry }) => geometry));
			}),
			{ numRuns: 6 },
		);
	});

	it("is so on slanting walls as well", () => {
		const slanting = movedFloor(turnedBy(4), 0.4, 1200, -300);
		const layout = routeFloor(slanting);
		expect(layout.notices).toEqual([]);
		expect(faultsOf(slanting, layout)).toEqual([]);
	});
});
