import { offset, type Point, type Region, regionArea } from "@oxturn/geometry";
import ClipperLib from "clipper-lib";
import fc from "fast-check";
import { expect, test } from "vitest";

/** A star round a place, anticlockwise: with few corners it is spiky, with many it is jagged. */
const star = (x: number, y: number, size: number, least: number) =>
	fc.array(fc.integer({ min: least, max: 100 }), { minLength: 3, maxLength: 24 }).map((radii) =>
		radii.map((radius, i): Point => {
			const angle = (2 * Math.PI * i) / radii.length;
			return [
				Math.round(x + ((size * radius) / 100) * Math.cos(angle)),
				Math.round(y + ((size * radius) / 100) * Math.sin(angle)),
			];
		}),
	);

/** A star with another one cut out of its middle, or without. */
const holed = fc
	.tuple(star(0, 0, 3000, 20), fc.option(star(0, 0, 500, 20)))
	.map(([outer, hole]): Region => ({ outer, holes: hole ? [[...hole].reverse()] : [] }));

/** Nearly round, so that most are convex. */
const plump = star(0, 0, 3000, 85).map((outer): Region => ({ outer, holes: [] }));

/** Square to its axes, as rooms are: steps up to the right from one width and height to the next. */
const stepped = fc
	.array(fc.tuple(fc.integer({ min: 50, max: 2000 }), fc.integer({ min: 50, max: 2000 })), {
		minLength: 1,
		maxLength: 5,
	})
	.map((steps): Region => {
		const width = steps.reduce((sum, [w]) => sum + w, 0);
		const outer: Point[] = [
			[0, 0],
			[width, 0],
		];
		let [x, y] = [width, 0];
		for (const [w, h] of steps) {
			y += h;
			outer.push([x, y], [x - w, y]);
			x -= w;
		}
		return { outer, holes: [] };
	});

const region = fc.oneof(holed, plump, stepped);

interface Outlines {
	/** mm2 of all that is left. */
	readonly area: number;
	/** Length of all outlines, mm. */
	readonly around: number;
	readonly rings: number;
}

const aroundRings = (rings: readonly (readonly Point[])[]): number =>
	rings
		.flatMap((ring) => ring.map(([x, y], i) => Math.hypot(x - ring.at(i - 1)![0], y - ring.at(i - 1)![1])))
		.reduce((sum, side) => sum + side, 0);

/** The same by clipper-lib's own offsetter. */
function byClipper({ outer, holes }: Region, distance: number, isRound: boolean): Outlines {
	const offsetter = new ClipperLib.ClipperOffset(20, 250);
	const join = isRound ? ClipperLib.JoinType.jtRound : ClipperLib.JoinType.jtMiter;
	for (const ring of [outer, ...holes])
		offsetter.AddPath(
			ring.map(([x, y]) => ({ X: x * 1000, Y: y * 1000 })),
			join,
			ClipperLib.EndType.etClosedPolygon,
		);
	const paths: { X: number; Y: number }[][] = [];
	offsetter.Execute(paths, distance * 1000);
	return {
		area: paths.reduce((sum, path) => sum + ClipperLib.Clipper.Area(path), 0) / 1e6,
		around: aroundRings(paths.map((path) => path.map(({ X, Y }): Point => [X / 1000, Y / 1000]))),
		rings: paths.length,
	};
}

/** Either rounds its corners to steps of 1 um. */
const STEP = 0.001;
/** What is hardly there may be there or not, mm2. */
const HARDLY = 1;

for (const [name, sense] of [
	["inward", -1],
	["outward", 1],
] as const)
	test(`${name} offsets are those that clipper-lib makes in its own way, to its steps`, () => {
		fc.assert(
			fc.property(region, fc.integer({ min: 1, max: 900 }), fc.boolean(), (from, distance, isRound) => {
				const found = offset([from], sense * distance, { join: isRound ? "round" : "miter" });
				const wanted = byClipper(from, sense * distance, isRound);
				const area = found.reduce((sum, each) => sum + regionArea(each), 0);
				expect(Math.abs(area - wanted.area)).toBeLessThan(STEP * (wanted.around + 1));
				if (wanted.area < HARDLY) return;
				const rings = found.flatMap(({ outer, holes }) => [outer, ...holes]);
				expect(rings.length).toBe(wanted.rings);
				expect(aroundRings(rings)).toBeCloseTo(wanted.around, 1);
			}),
			{ numRuns: 1000 },
		);
	});
