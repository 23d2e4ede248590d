import { difference, type Point, pathLength, pointBetween, type Ring, regionArea } from "@oxturn/geometry";
import { auditLayout, routeFloor } from "@oxturn/routing";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { asDrawn } from "../../packages/routing/src/asDrawn.ts";
import { faultsOf } from "../support/checkLayout.ts";
import { singleRoom } from "../support/floors.ts";
import { regularPolygon, solid } from "../support/shapes.ts";

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
				const lean = asDrawn(rough);
				expect(lean.outer.length).toBeLessThan(rough.outer.length / 20);
				expect(difference([lean], [rough])).toEqual([]);
				const givenUp = regionArea(rough) - regionArea(lean);
				expect(givenUp).toBeLessThan(5 * pathLength([...L_SHAPE, L_SHAPE[0]!]));
			}),
			{ numRuns: 20 },
		);
	});

	it("is routed like the same as drawn where a single wall is rough, the manifold's", () => {
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
		expect(asDrawn(tower)).toBe(tower);
	});
});
