import type { Floor, Layout } from "@oxturn/floor";
import { nearestOnRing, type Path, type Ring, ringContains, rotate } from "@oxturn/geometry";
import { auditLayout, routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { keepsClear } from "../../packages/routing/src/field/keepsClear.ts";
import { runsAlongRim } from "../../packages/routing/src/field/runsAlongRim.ts";
import { faultsOf } from "../support/checkLayout.ts";
import { plannedFloor } from "../support/plannedFloor.ts";
import { quarterTurns } from "../support/quarterTurns.ts";
import { rectangle } from "../support/shapes.ts";

/** A hall 6 m long, its manifold at one end and two rooms on either side: their tails pass along both walls, each as far as its door. */
const hallBesideTails = (width: number) =>
	plannedFloor({
		rooms: {
			hall: [0, 0, 6000, width],
			study: [0, -3600, 2900, -110],
			bedroom: [3000, -3600, 6000, -110],
			kitchen: [0, width + 110, 2900, width + 3600],
			bath: [3000, width + 110, 6000, width + 3600],
		},
		doors: {
			"hall-study": [1900, -110, 2700, 0],
			"hall-bedroom": [5000, -110, 5800, 0],
			"hall-kitchen": [1200, width, 2000, width + 110],
			"hall-bath": [3200, width, 4000, width + 110],
		},
		manifolds: { m1: { at: [0, width / 2], facing: 0 } },
		spacing: 200,
		maxLoopLength: 100,
	});

/** A hall in the shape of an L, 1.2 m wide, its manifold in the corner and a room at the end of either arm. */
const bentHall = () =>
	plannedFloor({
		rooms: {
			hall: [
				[0, 0],
				[6000, 0],
				[6000, 1200],
				[1200, 1200],
				[1200, 6000],
				[0, 6000],
			],
			study: [3100, -3600, 6000, -110],
			bedroom: [-3600, 3000, -110, 6000],
		},
		doors: {
			"hall-study": [5000, -110, 5800, 0],
			"hall-bedroom": [-110, 5000, 0, 5800],
		},
		manifolds: { m1: { at: [1200, 3000], facing: 180 } },
		spacing: 200,
		maxLoopLength: 100,
	});

/** Quarter turns in 10 m of the pipe laid to a room. */
const turnsIn = (layout: Layout, room: string): number => {
	const loops = layout.features.filter(({ properties }) => properties.rooms.includes(room));
	const turns = loops.map(({ geometry }) => quarterTurns(geometry.coordinates));
	const metres = loops.map(({ properties }) => properties.length);
	const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);
	return (10 * sum(turns)) / sum(metres);
};

const warmthOf = (floor: Floor, layout: Layout, room: string) =>
	auditLayout(floor, layout, { cell: 40 }).coverage.find((each) => each.room === room)!;

describe("a narrow hall between the tails of other rooms", () => {
	it("has runs along it that follow the steps which the tails leave", () => {
		const floor = hallBesideTails(1200);
		const layout = routeFloor(floor);
		expect(faultsOf(floor, layout)).toEqual([]);
		// Runs across it are 0.8 m long: a half turn on every one would make 25 quarter turns on 10 m, and a wavy pipe 10.
		expect(turnsIn(layout, "hall")).toBeLessThan(8);
		expect(warmthOf(floor, layout, "hall").within055).toBeGreaterThan(0.98);
	});

	it("has them nearer to each other where it is a little too wide for them, since its rim stays warm", () => {
		const floor = hallBesideTails(1600);
		const layout = routeFloor(floor);
		expect(faultsOf(floor, layout)).toEqual([]);
		expect(turnsIn(layout, "hall")).toBeLessThan(6);
		expect(warmthOf(floor, layout, "hall").within055).toBeGreaterThan(0.96);
	});

	it("has them along both arms where it is bent", () => {
		const floor = bentHall();
		const layout = routeFloor(floor);
		expect(faultsOf(floor, layout)).toEqual([]);
		expect(turnsIn(layout, "hall")).toBeLessThan(6);
		expect(warmthOf(floor, layout, "hall").within055).toBeGreaterThan(0.98);
	});
});

/** Where centrelines may lie in a hall 8 m long that widens twice, at 200 mm: room for two runs, four and six. */
const widening: Ring = [
	[0, 0],
	[8000, 0],
	[8000, 1000],
	[5000, 1000],
	[5000, 600],
	[2000, 600],
	[2000, 220],
	[0, 220],
];

/** How often a ring crosses the line square to the x axis at `x`. */
const crossingsAt = (ring: Ring, x: number): number =>
	ring.filter(([ax], i) => ax > x !== ring[(i + 1) % ring.length]![0] > x).length;

describe("a floor that widens by steps", () => {
	const options = {
		floor: [{ outer: widening, holes: [] }],
		spacing: 200,
		minBendRadius: 80,
		apart: 50,
		others: [],
		directions: [0, Math.PI / 2],
	};

	it("has two more runs side by side after each", () => {
		const fields = runsAlongRim(options);
		expect(fields).not.toEqual([]);
		for (const { ring } of fields) expect([1000, 3800, 6800].map((x) => crossingsAt(ring, x))).toEqual([2, 4, 6]);
	});

	it("has them on the floor and clear of each other", () => {
		const rings = runsAlongRim(options).map(({ ring }) => ring);
		expect(rings.every((ring) => keepsClear(ring, options.apart))).toBe(true);
		const offFloor = rings.flat().filter((p) => !ringContains(widening, p));
		// Past the edge of a step an arc of 80 mm that turns by 45 degrees cuts 80 mm (1 / cos 22.5 - 1) off the corner.
		expect(Math.max(0, ...offFloor.map((p) => nearestOnRing(widening, p).distance))).toBeLessThan(6.6);
	});

	it("has them whichever way it lies", () => {
		const [cos, sin] = [Math.cos(0.7), Math.sin(0.7)];
		const turned = widening.map((p) => rotate(p, cos, sin));
		const fields = runsAlongRim({
			...options,
			floor: [{ outer: turned, holes: [] }],
			directions: [0.7 + Math.PI / 2, 0.7],
		});
		const back = fields.map(({ ring }) => ring.map((p) => rotate(p, cos, -sin)));
		expect(back.map((ring) => crossingsAt(ring, 6800))).toEqual(runsAlongRim(options).map(() => 6));
	});
});

describe("a floor a little too wide for four runs", () => {
	/** 112 mm wider than three gaps of the spacing, 52 mm wider than three gaps that leave no floor cold between them. */
	const [length, width, spacing] = [4000, 712, 200];
	const gap = 160;
	const tails: Path = [...rectangle(-gap, -gap, length + gap, width + gap), [-gap, -gap]];
	const fieldsBeside = (others: readonly Path[], most: number) =>
		runsAlongRim({
			floor: [{ outer: rectangle(0, 0, length, most), holes: [] }],
			spacing,
			minBendRadius: 80,
			apart: 50,
			others,
			directions: [0],
		});
	/** How far the runs lie across the floor in its middle. */
	const runsOf = (ring: Ring): number[] =>
		ring
			.flatMap(([ax, ay], i): number[] => {
				const [bx, by] = ring[(i + 1) % ring.length]!;
				return ax > length / 2 !== bx > length / 2 ? [(ay + by) / 2] : [];
			})
			.sort((a, b) => a - b);
	const offRim = (width - 3 * 1.1 * spacing) / 2;

	it("has four off its rim that leave none of it cold between them, where tails pass all round", () => {
		const fields = fieldsBeside([tails], width);
		expect(fields).not.toEqual([]);
		for (const { ring } of fields) {
			const runs = runsOf(ring);
			const expected = [0, 1, 2, 3].map((k) => offRim + k * 1.1 * spacing);
			expect(runs.length).toBe(4);
			for (const [i, run] of runs.entries()) expect(run).toBeCloseTo(expected[i]!, 0);
		}
	});

	it("has them on its rim where no pipe warms that, or on a smaller part of it", () => {
		for (const others of [[], [tails.slice(0, 2)]]) {
			const fields = fieldsBeside(others, width);
			expect(fields).not.toEqual([]);
			for (const { ring } of fields) expect(runsOf(ring)[0]).toBeCloseTo(0, 0);
		}
	});

	it("has them no farther off its rim than tails warm, however wide it is", () => {
		const wider = fieldsBeside([[...rectangle(-gap, -gap, length + gap, 810 + gap), [-gap, -gap]]], 810);
		expect(wider).not.toEqual([]);
		for (const { ring } of wider) expect(runsOf(ring)[0]! + gap).toBeLessThan(1.1 * spacing + 1);
	});
});

describe("a floor as wide as a room", () => {
	it("is left to other fields", () => {
		const room = [{ outer: rectangle(0, 0, 4000, 3000), holes: [] }];
		expect(
			runsAlongRim({ floor: room, spacing: 200, minBendRadius: 80, apart: 50, others: [], directions: [0] }),
		).toEqual([]);
	});
});
