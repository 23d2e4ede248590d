import { offset, type Point, type Region, regionArea } from "@oxturn/geometry";
import ClipperLib from "clipper-lib";
import fc from "fast-check";
import { expect, test } from "vitest";

/** A star round a place, anticlockwise: with few corners it is spiky, with many it is jagged. */
const star = (x: number, y: number, size: number) =>
	fc.array(fc.integer({ min: 20, max: 100 }), { minLength: 3, maxLength: 24 }).map((radii) =>
		radii.map((radius, i): Point => {
			const angle = (2 * Math.PI * i) / radii.length;
			return [
				Math.round(x + ((size * radius) / 100) * Math.cos(angle)),
				Math.round(y + ((size * radius) / 100) * Math.sin(angle)),
			];
		}),
	);

/** A star with another one cut out of its middle, or without. */
const region = fc
	.tuple(star(0, 0, 3000), fc.option(star(0, 0, 500)))
	.map(([outer, hole]): Region => ({ outer, holes: hole ? [[...hole].reverse()] : [] }));

/** The same by clipper-lib's own offsetter: area in mm2 of all that is left, and the number of its rings. */
function byClipper({ outer, holes }: Region, distance: number, isRound: boolean): { area: number; rings: number } {
	const offsetter = new ClipperLib.ClipperOffset(20, 250);
	const join = isRound ? ClipperLib.JoinType.jtRound : ClipperLib.JoinType.jtMiter;
	for (const ring of [outer, ...holes])
		offsetter.AddPath(
			ring.map(([x, y]) => ({ X: x * 1000, Y: y * 1000 })),
			join,
			ClipperLib.EndType.etClosedPolygon,
		);
	const paths: { X: number; Y: number }[][] = [];
	offsetter.Execute(paths, -distance * 1000);
	return { area: paths.reduce((sum, path) => sum + ClipperLib.Clipper.Area(path), 0) / 1e6, rings: paths.length };
}

test("inward offsets are those that clipper-lib makes in its own way", () => {
	fc.assert(
		fc.property(region, fc.integer({ min: 1, max: 900 }), fc.boolean(), (from, distance, isRound) => {
			const found = offset([from], -distance, { join: isRound ? "round" : "miter" });
			const wanted = byClipper(from, distance, isRound);
			expect(found.reduce((sum, each) => sum + regionArea(each), 0)).toBeCloseTo(wanted.area, 3);
			expect(found.reduce((sum, { holes }) => sum + 1 + holes.length, 0)).toBe(wanted.rings);
		}),
		{ numRuns: 500 },
	);
});
