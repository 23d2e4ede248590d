import { type Point, type Region, type Ring, regionArea, union } from "@oxturn/geometry";
import { routeFloor } from "@oxturn/routing";
import fc from "fast-check";
import { describe, expect, it, test } from "vitest";
import { type RunsAlong, steppedBands } from "../../packages/routing/src/zones/steppedBands.ts";
import { faultsOf } from "../support/checkLayout.ts";
import { type SingleRoom, singleRoom } from "../support/floors.ts";
import { quarterTurns } from "../support/quarterTurns.ts";
import { moved, rectangle, solid } from "../support/shapes.ts";

const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);

/** Runs 200 mm apart, half of that from walls, tails coming from the left. */
const runs: RunsAlong = {
	spacing: 200,
	easy: 200,
	betweenZones: 200,
	edge: 100,
	closest: 160,
	manifold: [0, 0],
};

/** Eighteen runs of 10 m lie side by side in this: the first 100 mm off its wall, the last 3500 mm. */
const bay = solid(rectangle(0, 0, 10_000, 3600));

/** An L whose upper arm has three fifths of its width and begins a little over half-way up. */
const lShape = (w: number, h: number): readonly Point[] => [
	[0, 0],
	[w, 0],
	[w, Math.round(0.55 * h)],
	[Math.round(0.6 * w), Math.round(0.55 * h)],
	[Math.round(0.6 * w), h],
	[0, h],
];

const cornersOf = ({ outer }: Region): string[] => outer.map(([x, y]) => `${Math.round(x)} ${Math.round(y)}`).sort();

describe("bands that hold an even number of runs each", () => {
	test("have straight borders where that is all it takes", () => {
		const cells = steppedBands(bay, 0, [1 / 3, 1 / 3, 1 / 3], runs)!;
		const expected = [
			[0, 1200],
			[1200, 2400],
			[2400, 3600],
		].map(([y0, y1]) => cornersOf(solid(rectangle(0, y0!, 10_000, y1!))));
		expect(cells.map(cornersOf)).toEqual(expected);
	});

	test("have a border that steps by two runs where one zone is to have a part of these", () => {
		// 6.6 runs for the first zone: six, and two more on three tenths of their length, far from the manifold.
		const cells = steppedBands(bay, 0, [6.6 / 18, 5.4 / 18, 6 / 18], runs)!;
		const first: Ring = [
			[0, 0],
			[10_000, 0],
			[10_000, 1600],
			[7000, 1600],
			[7000, 1200],
			[0, 1200],
		];
		expect(cornersOf(cells[0]!)).toEqual(cornersOf(solid(first)));
		expect(cornersOf(cells[2]!)).toEqual(cornersOf(solid(rectangle(0, 2400, 10_000, 3600))));
	});

	test("step at the end that is far from the manifold, on whichever side that hangs", () => {
		const [first] = steppedBands(bay, 0, [6.6 / 18, 5.4 / 18, 6 / 18], { ...runs, manifold: [10_000, 0] })!;
		expect(cornersOf(first!)).toContain("3000 1600");
	});

	test("leave it at straight borders for less than a fortieth of a zone", () => {
		const cells = steppedBands(bay, 0, [6.1 / 18, 5.95 / 18, 5.95 / 18], runs)!;
		expect(cells.map(({ outer }) => outer.length)).toEqual([4, 4, 4]);
	});

	test("lie a little farther apart rather than closer where the wall asks for an odd number", () => {
		// 19 runs at 200 mm: 18 at 212 mm, 1270 mm up to the first border.
		const [first] = steppedBands(solid(rectangle(0, 0, 10_000, 3800)), 0, [1 / 3, 1 / 3, 1 / 3], runs)!;
		expect(Math.max(...first!.outer.map(([, y]) => y))).toBeCloseTo(100 + (5 * 3200) / 15 + 100, 2);
	});

	test("lie so far apart that loops keep within their limit, as far as a twelfth allows", () => {
		const highest = (easy: number): number => {
			const [first] = steppedBands(solid(rectangle(0, 0, 10_000, 5000)), 0, [1 / 3, 1 / 3, 1 / 3], { ...runs, easy })!;
			return Math.max(...first!.outer.map(([, y]) => y));
		};
		// 25 runs at 200 mm would fill it: 24 at 209 mm, and no fewer, since 22 would lie 232 mm apart.
		expect(highest(200)).toBeCloseTo(100 + (7 * 4400) / 21 + 100, 2);
		expect(highest(Infinity)).toBeCloseTo(highest(200), 6);
	});

	test("share out the floor without loss and without overlap, wherever it lies", () => {
		const weights = fc.array(fc.double({ min: 0.8, max: 1.25, noNaN: true }), { minLength: 3, maxLength: 9 });
		const metres = (min: number, max: number) => fc.integer({ min: 1000 * min, max: 1000 * max });
		fc.assert(
			fc.property(
				weights,
				metres(8, 20),
				metres(3, 12),
				fc.double({ min: 0, max: 6, noNaN: true }),
				(all, w, h, angle) => {
					const place = moved(angle, 4000, -7000);
					const floor = solid(rectangle(0, 0, w, h).map(place));
					// Four runs a zone, on average: of fewer, two are hardly ever to spare.
					fc.pre(h >= 800 * all.length);
					const shares = all.map((weight) => weight / sum(all));
					const cells = steppedBands(floor, angle, shares, { ...runs, manifold: place([0, 0]) });
					if (!cells) return;
					const whole = regionArea(floor);
					expect(sum(union(cells).map(regionArea)) / whole).toBeCloseTo(1, 4);
					expect(sum(cells.map(regionArea)) / whole).toBeCloseTo(1, 4);
					// No step is shorter than four spacings, so two borders may be off by that much of two runs.
					const slack = (0.025 * whole) / shares.length + 2 * 800 * 2 * 216;
					for (const [i, cell] of cells.entries())
						expect(Math.abs(regionArea(cell) - shares[i]! * whole)).toBeLessThan(slack);
				},
			),
		);
	});

	test("are left to others where they are shorter than wide, and where a zone holds many runs", () => {
		expect(steppedBands(solid(rectangle(0, 0, 3600, 14_000)), 0, [1 / 3, 1 / 3, 1 / 3], runs)).toBeUndefined();
		expect(steppedBands(solid(rectangle(0, 0, 20_000, 15_600)), 0, [1 / 3, 1 / 3, 1 / 3], runs)).toBeUndefined();
	});

	test("are left to others where there are two of them, or three in a room with an inward corner", () => {
		const third = 1 / 3;
		const quarters = [0.25, 0.25, 0.25, 0.25];
		const corner = solid(lShape(10_000, 4400));
		expect(steppedBands(bay, 0, [0.5, 0.5], runs)).toBeUndefined();
		expect(steppedBands(corner, 0, [third, third, third], runs)).toBeUndefined();
		expect(steppedBands(corner, 0, quarters, runs)).toHaveLength(4);
	});

	describe("need a wall to begin at and one to end at", () => {
		const quarters = [0.25, 0.25, 0.25, 0.25];
		/** Four bands of twenty-two runs in 4.4 m, of which a corner is cut off as far as `cut` tells, mm. */
		const cutCorner = (cut: number): Region =>
			solid([
				[0, 0],
				[10_000, 0],
				[10_000, 2000],
				[10_000 - cut, 4400],
				[0, 4400],
			]);

		test("and a corner that is cut off between the two takes its part of a few runs only", () => {
			const floor = cutCorner(3000);
			const cells = steppedBands(floor, 0, quarters, runs)!;
			expect(cells).toHaveLength(4);
			expect(sum(cells.map(regionArea)) / regionArea(floor)).toBeCloseTo(1, 4);
			// Steps of two runs, 200 mm apart or a little more, are the only borders across.
			const heights = cells[1]!.outer.map(([, y]) => Math.round(y)).sort((a, b) => a - b);
			expect(heights.at(-1)! - heights[0]!).toBeLessThan(8 * 216);
		});

		test("of more than half of the floor's width", () => {
			expect(steppedBands(cutCorner(4900), 0, quarters, runs)).toHaveLength(4);
			expect(steppedBands(cutCorner(5100), 0, quarters, runs)).toBeUndefined();
		});

		test("and go round a column as runs do, whose floor no zone is given for its own", () => {
			const column = rectangle(4000, 1600, 4400, 2000).toReversed();
			const floor: Region = { outer: rectangle(0, 0, 10_000, 4400), holes: [column] };
			const cells = steppedBands(floor, 0, quarters, runs)!;
			expect(sum(cells.map(regionArea))).toBeCloseTo(44e6 - 400 * 400, -3);
			for (const cell of cells) expect(Math.abs(regionArea(cell) / regionArea(floor) - 0.25)).toBeLessThan(0.25 * 0.1);
		});
	});
});

describe("a large room whose loops have few long runs", () => {
	const room = (outer: Ring, along: number, spacing: number, maxLoopLength: number): SingleRoom => ({
		outer,
		along,
		spacing,
		maxLoopLength,
		edgeDistance: 100,
	});
	/** Amid this one stands a column of 0.6 x 0.7 m. */
	const withColumn: SingleRoom = {
		...room(rectangle(0, 0, 8247, 8222), 0.33, 200, 60),
		wall: 1,
		holes: [rectangle(3502, 3785, 4121, 4525).toReversed()],
		outerDiameter: 12,
		minBendRadius: 95,
	};
	const cutOff: Ring = [
		[0, 0],
		[9600, 0],
		[9600, 5400],
		[6600, 8400],
		[0, 8400],
	];
	const withCorner: SingleRoom = { ...room(cutOff, 0.5, 200, 60), wall: 4, minBendRadius: 109 };
	it.each<[string, SingleRoom]>([
		["8.4 x 21.1 m", room(rectangle(0, 0, 8375, 21_104), 0.37, 125, 120)],
		["10.3 x 23.2 m", room(rectangle(0, 0, 10_290, 23_159), 0.17, 200, 120)],
		["11.3 x 11.5 m", room(rectangle(0, 0, 11_342, 11_520), 0.29, 150, 80)],
		["12.6 x 10.6 m", room(rectangle(0, 0, 12_641, 10_554), 0.23, 250, 100)],
		["9.6 x 7.5 m", room(rectangle(0, 0, 9585, 7482), 0.84, 100, 80)],
		["an L of 15.0 x 12.7 m", room(lShape(14_978, 12_650), 0.34, 150, 100)],
		["an L of 6.4 x 12.5 m", room(lShape(6407, 12_519), 0.39, 150, 80)],
		["an L of 7.9 x 14.0 m", room(lShape(7902, 13_960), 0.53, 125, 100)],
		["8.2 x 8.2 m round a column", withColumn],
		["9.6 x 8.4 m with a corner cut off", withCorner],
	])(
		"has loops within a tenth of each other: %s",
		(_, made) => {
			const floor = singleRoom(made);
			const layout = routeFloor(floor);
			const lengths = layout.features.map(({ properties }) => properties.length);
			expect(faultsOf(floor, layout)).toEqual([]);
			expect(layout.notices).toEqual([]);
			const needed = regionArea(solid(made.outer)) / 1000 / made.spacing! / made.maxLoopLength!;
			expect(lengths.length).toBeLessThanOrEqual(Math.ceil(needed));
			expect((Math.max(...lengths) - Math.min(...lengths)) / (sum(lengths) / lengths.length)).toBeLessThan(0.1);
		},
		60_000,
	);

	it("has them along its zones, although their number does not fit the width", () => {
		const floor = singleRoom(room(rectangle(0, 0, 7620, 18_506), 0.74, 250, 80));
		const { features } = routeFloor(floor);
		const turns = sum(features.map(({ geometry }) => quarterTurns(geometry.coordinates)));
		const metres = sum(features.map(({ properties }) => properties.length));
		// Runs across zones of a metre or two would make six and more quarter turns on 10 m of pipe.
		expect((10 * turns) / metres).toBeLessThan(3.5);
	}, 60_000);
});
