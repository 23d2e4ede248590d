import type { Point } from "@oxturn/geometry";
import fc from "fast-check";
import { expect, test } from "vitest";
import { auditLayout } from "../../packages/routing/src/audit/auditLayout.ts";
import type { AuditFinding } from "../../packages/routing/src/types.ts";
import {
	floorOf,
	layoutOf,
	loopOf,
	manifoldAt,
	rectangle,
	roomOf,
	roundCorners,
	roundSpine,
	zigzagSpine,
} from "./handmade.ts";

// tails 50 mm apart, 3 % of it given to flattening
const APART = 48.5;
// a 16 mm pipe and 1 mm of air
const APART_AT_MANIFOLD = 17;

const floor = floorOf([roomOf("r1", rectangle(-20000, 0, 20000, 20000))], [manifoldAt([1000, 0])]);

const closeSpots = (paths: readonly (readonly Point[])[]): AuditFinding[] =>
	auditLayout(floor, layoutOf(paths.map((path, i) => loopOf(`L${i + 1}`, path))), { coverage: false }).findings.filter(
		({ rule }) => rule === "clearance" || rule === "crossing",
	);

/** Up at `left`, across at `top`, down at `right`. */
const hairpin = (left: number, right: number, top: number, bottom = 0): Point[] =>
	roundCorners(
		[
			[left, bottom],
			[left, top],
			[right, top],
			[right, bottom],
		],
		80,
	);

test("two loops keep 0.97 of the tail spacing", () => {
	expect(closeSpots([hairpin(700, 1000, 4000, 1000), hairpin(1048.6, 1400, 4000, 1000)])).toEqual([]);
	const found = closeSpots([hairpin(700, 1000, 4000, 1000), hairpin(1048, 1400, 4000, 1000)]);
	expect(found).toMatchObject([{ rule: "clearance", subjects: ["L1", "L2"], limit: APART }]);
	expect(found[0]!.value).toBeCloseTo(48, 6);
});

test("within 800 mm of a manifold the skins only must not touch", () => {
	const fan = (gap: number): Point[][] => [
		hairpin(700, 1000, 4000),
		roundCorners(
			[
				[1000 + gap, 0],
				[1000 + gap, 300],
				[1150, 600],
				[1150, 4000],
				[1500, 4000],
				[1500, 0],
			],
			80,
		),
	];
	expect(closeSpots(fan(17.1))).toEqual([]);
	expect(closeSpots(fan(16))).toMatchObject([{ rule: "clearance", limit: APART_AT_MANIFOLD }]);
});

test("the manifold's zone ends at 800 mm", () => {
	const straight = (x: number, top: number): Point[] => [
		[x, 0],
		[x, top],
	];
	// 25 mm apart, the middle of the gap up to (1012.5, top)
	expect(closeSpots([straight(1000, 790), straight(1025, 790)])).toEqual([]);
	const found = closeSpots([straight(1000, 2000), straight(1025, 2000)]);
	expect(found).toMatchObject([{ rule: "clearance", limit: APART }]);
	expect(found[0]!.at![1]).toBeGreaterThan(760);
});

test("a loop may not come near itself, but a tight bend is no matter of clearance", () => {
	expect(closeSpots([hairpin(1000, 1049, 4000, 1000)])).toEqual([]);
	expect(closeSpots([hairpin(1000, 1047, 4000, 1000)])).toMatchObject([
		{
			rule: "clearance",
			subjects: ["L1"],
			message: expect.stringMatching(
				/^Loop "L1" comes within 47\.0 mm of itself at \(.*\) mm, at least 48\.5 mm needed\.$/,
			),
		},
	]);
	// legs of 100 mm: nowhere more than half a turn of pipe between them
	expect(closeSpots([hairpin(1000, 1030, 1100, 1000)])).toEqual([]);
});

test("a crossing is reported once, where it is, and not as a lack of clearance too", () => {
	const across: Point[] = [
		[500, 2000],
		[1500, 2000],
	];
	const up: Point[] = [
		[1000, 1000],
		[1000, 3000],
	];
	expect(closeSpots([across, up])).toEqual([
		expect.objectContaining({ rule: "crossing", at: [1000, 2000], subjects: ["L1", "L2"] }),
	]);
});

test("pipe that ends on another pipe crosses it", () => {
	const tee: Point[] = [
		[1000, 1000],
		[1000, 2000],
	];
	const across: Point[] = [
		[500, 2000],
		[1500, 2000],
	];
	expect(closeSpots([across, tee]).map(({ rule }) => rule)).toEqual(["crossing"]);
});

test("a loop that crosses itself is found, even within one bend", () => {
	const knot: Point[] = [
		[1000, 1000],
		[1100, 1000],
		[1100, 1100],
		[1050, 1100],
		[1050, 900],
	];
	expect(closeSpots([knot])).toContainEqual(expect.objectContaining({ rule: "crossing", at: [1050, 1000] }));
});

test("pipe folded back on itself crosses itself", () => {
	const fold: Point[] = [
		[1000, 1000],
		[1000, 3000],
		[1000, 2000],
	];
	expect(closeSpots([fold]).some(({ rule }) => rule === "crossing")).toBe(true);
});

test("a vertex moved towards the next run is found exactly when too little is left", () => {
	const path = roundCorners(roundSpine(zigzagSpine(4800, 4000, 200), 100), 100);
	const runs = path
		.slice(1)
		.map((b, i) => ({ i, a: path[i]!, b }))
		.filter(({ a, b }) => Math.abs(a[1] - b[1]) < 1e-6 && Math.abs(a[0] - b[0]) > 2000 && a[1] > 1000 && a[1] < 3000);
	fc.assert(
		fc.property(
			fc.nat({ max: runs.length - 1 }),
			fc.integer({ min: 300, max: 700 }),
			fc.oneof(fc.integer({ min: 1, max: 47 }), fc.integer({ min: 50, max: 190 })),
			fc.constantFrom(-1, 1),
			(which, share, left, side) => {
				const { i, a, b } = runs[which]!;
				const x = a[0] + ((b[0] - a[0]) * share) / 1000;
				const dented = path.toSpliced(i + 1, 0, [x, a[1] + side * (200 - left)]);
				const found = closeSpots([dented]);
				if (left > APART) expect(found).toEqual([]);
				else {
					expect(found.map(({ rule }) => rule)).toEqual(["clearance"]);
					expect(found[0]!.value).toBeCloseTo(left, 6);
					expect(Math.abs(found[0]!.at![0] - x)).toBeLessThan(1);
				}
			},
		),
	);
});

test("straight pipes in any position are found when a plain comparison of all pairs finds them", () => {
	const place = fc.tuple(fc.integer({ min: -3000, max: 3000 }), fc.integer({ min: 2000, max: 8000 }));
	fc.assert(
		fc.property(fc.array(fc.tuple(place, place), { minLength: 2, maxLength: 8 }), (pipes) => {
			const long = pipes.filter(([a, b]) => Math.hypot(a[0] - b[0], a[1] - b[1]) > 1);
			const near = new Set<string>();
			for (let i = 0; i < long.length; i++)
				for (let j = 0; j < i; j++) {
					// nearest distance by stepping along one pipe; the last 2 mm before the limit are left open
					const [[ax, ay], [bx, by]] = long[i]!;
					const steps = Math.ceil(Math.hypot(ax - bx, ay - by));
					let nearest = Infinity;
					for (let k = 0; k <= steps; k++) {
						const [[cx, cy], [dx, dy]] = long[j]!;
						const px = ax + ((bx - ax) * k) / steps;
						const py = ay + ((by - ay) * k) / steps;
						const along = ((px - cx) * (dx - cx) + (py - cy) * (dy - cy)) / ((dx - cx) ** 2 + (dy - cy) ** 2);
						const t = Math.min(1, Math.max(0, along));
						nearest = Math.min(nearest, Math.hypot(cx + t * (dx - cx) - px, cy + t * (dy - cy) - py));
					}
					if (nearest < APART - 2) near.add(`L${j + 1} L${i + 1}`);
					else if (nearest < APART + 2) near.add(`L${j + 1} L${i + 1} perhaps`);
				}
			const found = new Set(closeSpots(long).map(({ subjects }) => subjects.join(" ")));
			for (const pair of near) if (!pair.endsWith("perhaps")) expect(found).toContain(pair);
			for (const pair of found) expect(near.has(pair) || near.has(`${pair} perhaps`)).toBe(true);
		}),
		{ numRuns: 60 },
	);
});
