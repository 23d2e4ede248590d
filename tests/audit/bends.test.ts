import type { Point } from "@oxturn/geometry";
import fc from "fast-check";
import { expect, test } from "vitest";
import { auditLayout } from "../../packages/routing/src/audit/auditLayout.ts";
import type { AuditFinding } from "../../packages/routing/src/types.ts";
import { floorOf, layoutOf, loopOf, manifoldAt, rectangle, roomOf, roundCorners } from "./handmade.ts";

const RADIUS = 80;
const floor = floorOf([roomOf("r1", rectangle(-9000, -9000, 9000, 9000))], [manifoldAt([0, 0])]);

const tightBends = (path: readonly Point[]): AuditFinding[] =>
	auditLayout(floor, layoutOf([loopOf("L1", path)]), { coverage: false }).findings.filter(
		({ rule }) => rule === "bend",
	);

const quarterTurn: Point[] = [
	[0, 0],
	[1000, 0],
	[1000, 1000],
];

/** Two quarter turns without a straight between them. */
const halfTurn = (radius: number): Point[] =>
	roundCorners(
		[
			[0, 0],
			[1000, 0],
			[1000, 2 * radius],
			[0, 2 * radius],
		],
		radius,
	);

test("a quarter turn keeps its radius, 8 % forgiven", () => {
	expect(tightBends(roundCorners(quarterTurn, RADIUS))).toEqual([]);
	expect(tightBends(roundCorners(quarterTurn, 0.93 * RADIUS))).toEqual([]);
	const found = tightBends(roundCorners(quarterTurn, 0.91 * RADIUS));
	expect(found).toMatchObject([{ subjects: ["L1"] }]);
	expect(found[0]!.value).toBeCloseTo(Math.PI / 2, 6);
});

test("a half turn keeps its radius, 4 % forgiven", () => {
	expect(tightBends(halfTurn(RADIUS))).toEqual([]);
	expect(tightBends(halfTurn(0.97 * RADIUS))).toEqual([]);
	expect(tightBends(halfTurn(0.95 * RADIUS))).toHaveLength(1);
});

test("a sharp corner is found where it is", () => {
	expect(tightBends(quarterTurn)).toMatchObject([{ at: [1000, 0] }]);
});

test("a slight corner of up to 20 degrees is flattening or rounding", () => {
	const kink = (degrees: number): Point[] => {
		const angle = (degrees * Math.PI) / 180;
		return [
			[0, 0],
			[1000, 0],
			[1000 + 1000 * Math.cos(angle), 1000 * Math.sin(angle)],
		];
	};
	expect(tightBends(kink(19.9))).toEqual([]);
	expect(tightBends(kink(20.2))).toHaveLength(1);
});

test("many slight corners in a row are one tight bend", () => {
	const radius = 40;
	const circle = Array.from({ length: 40 }, (_, k): Point => {
		const angle = (k * Math.PI) / 40;
		return [radius * Math.sin(angle), -radius * Math.cos(angle)];
	});
	expect(tightBends([[-500, -radius], ...circle, [-500, radius]])).toHaveLength(1);
});

test("wriggling both ways in too little pipe is found, an S of two full bends is not", () => {
	const wriggle = Array.from({ length: 30 }, (_, k): Point => [10 * k, k % 2 === 0 ? 0 : 1.5]);
	expect(tightBends([[-500, 0], ...wriggle, [800, 0]]).length).toBeGreaterThan(0);
	const bow: Point[] = [
		[0, 0],
		[500, 0],
		[500, 2 * RADIUS],
		[1000, 2 * RADIUS],
	];
	expect(tightBends(roundCorners(bow, RADIUS))).toEqual([]);
});

test("any path rounded at the smallest radius or more passes, and its places repeat along a loop", () => {
	const turn = fc.integer({ min: -120, max: 120 });
	fc.assert(
		fc.property(fc.array(turn, { minLength: 1, maxLength: 6 }), fc.integer({ min: 80, max: 140 }), (turns, radius) => {
			const corners: Point[] = [
				[0, 0],
				[600, 0],
			];
			let heading = 0;
			for (const degrees of turns) {
				heading += (degrees * Math.PI) / 180;
				const [x, y] = corners.at(-1)!;
				corners.push([x + 600 * Math.cos(heading), y + 600 * Math.sin(heading)]);
			}
			expect(tightBends(roundCorners(corners, radius))).toEqual([]);
			const tight = turns.filter((degrees) => Math.abs(degrees) >= 60).length;
			// 0.8 of the radius: a bend of 60 degrees lacks 0.21 rad of length
			expect(tightBends(roundCorners(corners, 0.8 * RADIUS)).length).toBeGreaterThanOrEqual(tight);
		}),
	);
});
