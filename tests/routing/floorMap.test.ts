import { type Point, pointSegmentDistance2 } from "@oxturn/geometry";
import fc from "fast-check";
import { expect, test } from "vitest";
import { mapFloor, shortfall } from "../../packages/routing/src/field/coverage.ts";
import { scanOf, widthsAt } from "../../packages/routing/src/field/scan.ts";
import { orthogonalRing, rectangle, solid, starRing } from "../support/shapes.ts";

const place: fc.Arbitrary<Point> = fc
	.tuple(fc.integer({ min: 0, max: 30 }), fc.integer({ min: 0, max: 20 }))
	.map(([x, y]): Point => [100 * x, 100 * y]);
/** Upright, level and slanting stretches, none shorter than a cell. */
const pipe = fc.array(place, { minLength: 2, maxLength: 6 });

/** mm; no cell of the map has its centre at the limit of what a run along the axes reaches. */
const SPACING = 201;

test("what pipes leave cold is as much as cell by cell, near and far", () => {
	const map = mapFloor([solid(rectangle(0, 0, 3000, 2040))], 60);
	fc.assert(
		fc.property(pipe, (path) => {
			const found = shortfall(map, [path], SPACING);
			const beyond = { near: 0, far: 0 };
			for (let row = 0; row < map.rows; row++)
				for (let column = 0; column < map.columns; column++) {
					const centre: Point = [map.x + (column + 0.5) * map.cell, map.y + (row + 0.5) * map.cell];
					const distances = path.slice(1).map((end, i) => Math.sqrt(pointSegmentDistance2(centre, path[i]!, end)));
					const nearest = Math.min(...distances);
					if (nearest > 0.55 * SPACING) beyond.near++;
					if (nearest > SPACING) beyond.far++;
				}
			expect(Math.round(found.beyond055 * map.cells)).toBe(beyond.near);
			expect(Math.round(found.beyond100 * map.cells)).toBe(beyond.far);
		}),
	);
});

test("widths at many heights are as those of one section each", () => {
	fc.assert(
		fc.property(fc.oneof(starRing(), orthogonalRing(700)), fc.integer({ min: 2, max: 60 }), (ring, count) => {
			const scan = scanOf([solid(ring)]);
			const step = (scan.maxY - scan.minY) / (count + 1);
			const ys = Float64Array.from({ length: count }, (_, i) => scan.minY + (i + 1) * step);
			const together = widthsAt(scan, ys, -Infinity, Infinity);
			for (const [i, y] of ys.entries())
				expect(together[i]!).toBeCloseTo(widthsAt(scan, Float64Array.of(y), -Infinity, Infinity)[0]!, 6);
		}),
	);
});
