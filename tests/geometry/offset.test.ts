import {
	boundingBox,
	difference,
	direction,
	nearestOnRing,
	offset,
	type Point,
	type Region,
	regionArea,
	regionContains,
	ringsOf,
	thicken,
	union,
} from "@oxturn/geometry";
import { EndType, inflatePathsD, JoinType } from "clipper2-ts";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dumbbell, moved, perimeter, rectangle, regularPolygon, solid, starRing } from "../support/shapes.ts";

const totalArea = (regions: readonly Region[]): number => regions.reduce((sum, region) => sum + regionArea(region), 0);

/** Ends in the middle of a floor, so that the floor round it has an arc that points inwards. */
const pipe: Point[] = [
	[-500, 1500],
	[1500, 1500],
];

describe("offset", () => {
	it.each([3, 4, 5, 6, 12, 24])("takes the distance off the inradius of a regular %i-gon", (corners) => {
		// A = n r^2 tan(pi / n) with inradius r (Euclid's regular polygons, textbook formula).
		const area = (inradius: number): number => corners * inradius ** 2 * Math.tan(Math.PI / corners);
		const inradius = 2000 * Math.cos(Math.PI / corners);
		const polygon = [solid(regularPolygon(corners, 2000))];
		expect(totalArea(offset(polygon, -300))).toBeCloseTo(area(inradius - 300), -2);
		expect(totalArea(offset(polygon, 300, { join: "miter" }))).toBeCloseTo(area(inradius + 300), -2);
	});

	it("grows a convex polygon with round corners by the perimeter times the distance and one disc", () => {
		// A + P d + pi d^2: Steiner's formula for parallel bodies (Steiner 1840), textbook.
		for (const outer of [rectangle(0, 0, 4000, 2500), regularPolygon(7, 1800)]) {
			const [d, area] = [400, regionArea(solid(outer))];
			const grown = totalArea(offset([solid(outer)], d, { join: "round", arcTolerance: 0.01 }));
			expect(Math.abs(grown - (area + perimeter(outer) * d + Math.PI * d ** 2))).toBeLessThan(30);
		}
	});

	it("shrinks a rectangle to a smaller rectangle, and to nothing at half its width", () => {
		const room = [solid(rectangle(0, 0, 4000, 2500))];
		const [inner, ...rest] = offset(room, -1000);
		expect(rest).toEqual([]);
		expect(boundingBox(inner!.outer)).toEqual([1000, 1000, 3000, 1500]);
		expect(offset(room, -1250)).toEqual([]);
		expect(offset([], -100)).toEqual([]);
	});

	it("falls apart at a neck narrower than twice the distance", () => {
		expect(offset([solid(dumbbell)], -90)).toHaveLength(1);
		expect(offset([solid(dumbbell)], -110)).toHaveLength(2);
	});

	it("widens a hole as it shrinks the floor round it", () => {
		const room = { outer: rectangle(0, 0, 4000, 4000), holes: [[...rectangle(1800, 1800, 2200, 2200)].reverse()] };
		const [shrunk] = offset([room], -100);
		expect(boundingBox(shrunk!.holes[0]!)).toEqual([1700, 1700, 2300, 2300]);
		expect(regionArea(shrunk!)).toBeCloseTo(3800 ** 2 - 600 ** 2, 0);
	});

	it("gives the same result wherever the floor lies", () => {
		const outer = regularPolygon(9, 3000).map(([x, y]): Point => [Math.round(x), Math.round(y)]);
		const near = totalArea(offset([solid(outer)], -170, { speck: 0.1 }));
		const far = totalArea(offset([solid(outer.map(moved(0, 8_000_000, -3_000_000)))], -170));
		expect(Math.abs(far - near)).toBeLessThan(1);
	});

	it.each([0.001, 0.08])("is hardly changed by a corner that clipping has left twice, %d mm apart", (apart) => {
		const inwards = (outer: readonly Point[]): number => totalArea(offset([solid(outer)], -170, { speck: 0.1 }));
		const bay = difference([solid(rectangle(0, 0, 4000, 3000))], thicken([pipe], 300, { join: "round" }));
		const [{ outer }] = bay as [Region];
		for (const [i, [x, y]] of outer.entries()) {
			const back = direction(outer[(i + 1) % outer.length]!, [x, y]);
			const twin: Point = [x + apart * Math.sign(back[0]), y + apart * Math.sign(back[1])];
			const [before, after] = [outer.slice(0, i + 1), outer.slice(i + 1)];
			// Such a side, moved where it points, takes in or leaves out 10 times as much.
			expect(Math.abs(inwards([...before, twin, ...after]) - inwards(outer))).toBeLessThan(500);
			// The same ring, begun between the two.
			expect(Math.abs(inwards([twin, ...after, ...before]) - inwards(outer))).toBeLessThan(500);
		}
	});

	it("refuses coordinates that are no numbers", () => {
		const broken: Point[] = [
			[0, 0],
			[1000, Number.NaN],
			[1000, 1000],
		];
		expect(() => offset([solid(broken)], 10)).toThrow(RangeError);
	});

	it("lies everywhere at the distance from the outline, inwards and round outwards", () => {
		fc.assert(
			fc.property(starRing(), fc.integer({ min: 20, max: 600 }), fc.boolean(), (outer, d, inwards) => {
				const arcTolerance = 0.1;
				const result = offset([solid(outer)], inwards ? -d : d, { join: "round", arcTolerance });
				for (const region of result)
					for (const p of ringsOf(region).flat()) {
						const away = nearestOnRing(outer, p).distance;
						expect(Math.abs(away - d)).toBeLessThan(arcTolerance + 0.01);
						expect(regionContains(solid(outer), p)).toBe(inwards);
					}
			}),
			{ seed: 101, numRuns: 60 },
		);
	});

	it("agrees with a second library on any outline", () => {
		// Reference: clipper2-ts 2.0.1, another generation of offsetting with its own code.
		fc.assert(
			fc.property(starRing(), fc.integer({ min: -900, max: 900 }), (outer, d) => {
				const round = totalArea(offset([solid(outer)], d, { join: "round", arcTolerance: 0.05 }));
				const path = outer.map(([x, y]) => ({ x, y }));
				const other = inflatePathsD([path], d, JoinType.Round, EndType.Polygon, 2, 3, 0.05);
				const otherArea = other.reduce((sum, p) => {
					const ring = p.map(({ x, y }): Point => [x, y]);
					return sum + ring.reduce((s, [x, y], i) => s + (ring.at(i - 1)![0] * y - x * ring.at(i - 1)![1]) / 2, 0);
				}, 0);
				expect(Math.abs(round - otherArea)).toBeLessThan(1 + 0.2 * perimeter(outer));
			}),
			{ seed: 102, numRuns: 60 },
		);
	});
});

describe("thicken", () => {
	const wall: Point[] = [
		[0, 0],
		[3000, 0],
	];

	it("makes a strip of twice the distance, cut off square", () => {
		const [strip] = thicken([wall], 75);
		expect(boundingBox(strip!.outer)).toEqual([0, -75, 3000, 75]);
		expect(regionArea(strip!)).toBeCloseTo(3000 * 150, 0);
	});

	it("adds a disc when ends and corners are round", () => {
		// The neighbourhood of a segment: 2 d L + pi d^2 (Steiner's formula again).
		const [strip] = thicken([wall], 75, { join: "round", arcTolerance: 0.01 });
		expect(Math.abs(regionArea(strip!) - (2 * 75 * 3000 + Math.PI * 75 ** 2))).toBeLessThan(5);
	});

	it("joins strips that overlap and closes round a hole", () => {
		const ringWalk: Point[] = [
			[0, 0],
			[2000, 0],
			[2000, 2000],
			[0, 2000],
			[0, 50],
		];
		const [strip, ...rest] = thicken([ringWalk], 100);
		expect(rest).toEqual([]);
		expect(strip!.holes).toHaveLength(1);
	});

	it("has nothing to thicken in a path of fewer than two points", () => {
		expect(thicken([[], [[5, 5]]], 100)).toEqual([]);
	});

	it("joins the strips of a whole bundle, however many pipes it has", () => {
		for (const pipes of [2, 4, 5, 17]) {
			const bundle = Array.from({ length: pipes }, (_, i): Point[] => [
				[0, 50 * i],
				[2000, 50 * i],
				[2000, 4000],
			]);
			const strip = thicken(bundle, 75, { join: "round", arcTolerance: 0.01 });
			expect(strip).toHaveLength(1);
			const oneByOne = union(bundle.flatMap((pipe) => thicken([pipe], 75, { join: "round", arcTolerance: 0.01 })));
			expect(totalArea(strip)).toBeCloseTo(totalArea(oneByOne), 0);
		}
	});

	it("covers every place within the distance and none beyond it", () => {
		const path = fc.array(fc.tuple(fc.integer({ min: 0, max: 4000 }), fc.integer({ min: 0, max: 4000 })), {
			minLength: 2,
			maxLength: 8,
		});
		fc.assert(
			fc.property(path, fc.integer({ min: 30, max: 400 }), (walk, d) => {
				fc.pre(walk.every((p, i) => i === 0 || p[0] !== walk[i - 1]![0] || p[1] !== walk[i - 1]![1]));
				const strip = thicken([walk], d, { join: "round", arcTolerance: 0.1 });
				const ring = [...walk, ...walk.slice(1, -1).reverse()];
				const rim = strip.flatMap(ringsOf).flat();
				for (const p of rim) expect(Math.abs(nearestOnRing(ring, p).distance - d)).toBeLessThan(0.15);
				const within = offset([solid(rectangle(0, 0, 4000, 4000))], 500);
				expect(totalArea(difference(strip, within))).toBeLessThan(1);
			}),
			{ seed: 103, numRuns: 60 },
		);
	});
});
