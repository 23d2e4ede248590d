import type { Layout, LoopFeature } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import fc from "fast-check";
import { expect, test } from "vitest";
import { auditLayout } from "../../packages/routing/src/audit/auditLayout.ts";
import type { RouteError } from "../../packages/routing/src/errors.ts";
import {
	floorOf,
	layoutOf,
	loopOf,
	manifoldAt,
	moved,
	rectangle,
	roomOf,
	roundCorners,
	roundSpine,
	spiralSpine,
	zigzagSpine,
} from "./handmade.ts";

const WIDTH = 4800;
const HEIGHT = 4000;
const room = roomOf("r1", rectangle(0, 0, WIDTH, HEIGHT));
const floor = floorOf([room], [manifoldAt([200, 0])]);
const pipe = roundCorners(roundSpine(zigzagSpine(WIDTH, HEIGHT, 200), 100), 100);
const layout = layoutOf([loopOf("L1", pipe)]);

const rulesBroken = (changed: Layout): string[] => auditLayout(floor, changed).findings.map(({ rule }) => rule);

test("a serpentine laid by hand keeps every promise", () => {
	const report = auditLayout(floor, layout);
	expect(report.findings).toEqual([]);
	expect(report.passed).toBe(true);
	expect(report.coverage).toHaveLength(1);
});

test.each([
	["serpentine", zigzagSpine],
	["spiral", spiralSpine],
])("a %s passes however the floor is turned and wherever it lies", (_, spineOf) => {
	fc.assert(
		fc.property(
			fc.integer({ min: 0, max: 359 }),
			fc.integer({ min: -1e6, max: 1e6 }),
			fc.integer({ min: -1e6, max: 1e6 }),
			fc.integer({ min: 4, max: 10 }),
			fc.integer({ min: 4, max: 10 }),
			(degrees, dx, dy, lanesWide, lanesHigh) => {
				const move = moved((degrees * Math.PI) / 180, dx, dy);
				const width = 400 * lanesWide;
				const height = 400 * lanesHigh;
				const outer = rectangle(0, 0, width, height).map(move);
				const path = roundCorners(roundSpine(spineOf(width, height, 200), 100).map(move), 100);
				const report = auditLayout(
					floorOf([roomOf("r1", outer)], [manifoldAt(move([200, 0]))]),
					layoutOf([loopOf("L1", path)]),
				);
				expect(report.findings).toEqual([]);
				const straight = roundCorners(roundSpine(spineOf(width, height, 200), 100), 100);
				const unmoved = auditLayout(
					floorOf([roomOf("r1", rectangle(0, 0, width, height))], [manifoldAt([200, 0])]),
					layoutOf([loopOf("L1", straight)]),
				);
				// the raster does not turn with the room
				expect(Math.abs(report.coverage[0]!.within055 - unmoved.coverage[0]!.within055)).toBeLessThan(0.02);
			},
		),
		{ numRuns: 30 },
	);
});

test("the place of a finding moves with the floor", () => {
	const broken = pipe.map((point, i): Point => (i === 100 ? [point[0] + 300, point[1] + 300] : point));
	const move = moved(0.7, -5000, 8000);
	const movedFloor = floorOf([roomOf("r1", room.region.outer.map(move))], [manifoldAt(move([200, 0]))]);
	const here = auditLayout(floor, layoutOf([loopOf("L1", broken)]), { coverage: false });
	const there = auditLayout(movedFloor, layoutOf([loopOf("L1", broken.map(move))]), { coverage: false });
	const bend = here.findings.find(({ rule }) => rule === "bend")!;
	const bendThere = there.findings.find(({ rule }) => rule === "bend")!;
	const expected = move(bend.at!);
	expect(bendThere.at![0]).toBeCloseTo(expected[0], 3);
	expect(bendThere.at![1]).toBeCloseTo(expected[1], 3);
	expect(bendThere.value).toBeCloseTo(bend.value!, 6);
});

test("coverage is left out on request", () => {
	expect(auditLayout(floor, layout, { coverage: false }).coverage).toEqual([]);
});

test("a fired signal stops the audit", () => {
	expect(() => auditLayout(floor, layout, { signal: AbortSignal.abort() })).toThrow(
		expect.objectContaining({ code: "ABORTED" }),
	);
});

test("a layout without loops leaves the room unserved, nothing else", () => {
	expect(rulesBroken(layoutOf([]))).toEqual(["served"]);
});

test("what is no collection of loops in mm is a document finding", () => {
	const stray = (value: unknown): Layout => value as Layout;
	expect(rulesBroken(stray(null))).toEqual(["document", "served"]);
	expect(rulesBroken(stray({ ...layout, features: "none" }))).toEqual(["document", "served"]);
	expect(rulesBroken(stray({ ...layout, units: "m" }))).toEqual(["document"]);
	expect(rulesBroken(stray({ ...layout, notices: {} }))).toEqual(["document"]);
});

test("features need an id of their own, a known kind, and rooms that exist", () => {
	const [loop] = layout.features as [LoopFeature];
	const withLoop = (change: object): Layout => layoutOf([{ ...loop, ...change }]);
	const withProperties = (change: object): Layout => withLoop({ properties: { ...loop.properties, ...change } });
	expect(rulesBroken(withLoop({ id: 7 }))).toEqual(["document"]);
	expect(rulesBroken(withLoop({ id: "" }))).toEqual(["document"]);
	expect(rulesBroken(withProperties({ kind: "pipe" }))).toEqual(["document", "served"]);
	expect(rulesBroken(withProperties({ rooms: ["r1", "attic"] }))).toEqual(["document"]);

	const far = pipe.map(([x, y]): Point => [x, y]);
	const twice = auditLayout(floor, layoutOf([loop, loopOf("L1", far, { port: 2 })]), { coverage: false });
	expect(twice.findings[0]).toMatchObject({ rule: "document", subjects: ["L1"] });
});

test.each([
	["one point", [[0, 0]]],
	[
		"a point that is not a number",
		[
			[0, 0],
			[Number.NaN, 5],
		],
	],
	[
		"an endless point",
		[
			[0, 0],
			[Number.POSITIVE_INFINITY, 5],
		],
	],
	["points that are no pairs", [0, 100]],
])("a LineString with %s is a document finding and judged no further", (_, coordinates) => {
	const [loop] = layout.features as [LoopFeature];
	const geometry = { type: "LineString", coordinates } as unknown as LoopFeature["geometry"];
	expect(rulesBroken(layoutOf([{ ...loop, geometry }]))).toEqual(["document", "served"]);
});

test("a vertex hundreds of kilometres astray is judged within seconds", () => {
	const astray = pipe.toSpliced(100, 1, [9e8, 9e8], [9e8, 8e8]);
	const start = performance.now();
	expect(rulesBroken(layoutOf([loopOf("L1", astray)]))).toEqual(expect.arrayContaining(["inside", "bend", "length"]));
	expect(performance.now() - start).toBeLessThan(10_000);
});

test("points that repeat are no fault", () => {
	const repeated = pipe.flatMap((point): Point[] => [point, point, [point[0] + 0.001, point[1]]]);
	expect(auditLayout(floor, layoutOf([loopOf("L1", repeated)])).findings).toEqual([]);
});

test.each([0, -20, Number.NaN, Number.POSITIVE_INFINITY])("a cell of %s mm is refused", (cell) => {
	expect(() => auditLayout(floor, layout, { cell })).toThrow(
		expect.objectContaining({
			code: "OPTION_INVALID",
			message: `Option cell: found ${cell}, expected a positive number of mm.`,
		}) as RouteError,
	);
});
