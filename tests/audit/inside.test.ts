import type { Floor } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import fc from "fast-check";
import { expect, test } from "vitest";
import { auditLayout } from "../../packages/routing/src/audit/auditLayout.ts";
import type { AuditFinding } from "../../packages/routing/src/types.ts";
import { floorOf, layoutOf, loopOf, manifoldAt, moved, rectangle, roomOf } from "./handmade.ts";

// a 16 mm pipe: its skin is 8 mm from its centre; walls forgive 2 mm, keep-outs 1 mm
const room = roomOf("r1", rectangle(0, 0, 5000, 5000));
const manifold = manifoldAt([2500, 0]);
const floor = floorOf([room], [manifold]);

const outside = (path: readonly Point[], where: Floor = floor): AuditFinding[] =>
	auditLayout(where, layoutOf([loopOf("L1", path)]), { coverage: false }).findings.filter(
		({ rule }) => rule === "inside",
	);

const upAt = (x: number): Point[] => [
	[x, 1000],
	[x, 4000],
];

test("the pipe's skin stays in the room, 2 mm forgiven", () => {
	expect(outside(upAt(6.1))).toEqual([]);
	const found = outside(upAt(5.5));
	expect(found).toMatchObject([{ subjects: ["L1"], limit: 0 }]);
	expect(found[0]!.value).toBeCloseTo(2.5, 6);
});

test("near a manifold the pipe may touch the wall, its centre may not leave", () => {
	const along = (y: number): Point[] => [
		[2000, y],
		[3000, y],
	];
	expect(outside(along(0))).toEqual([]);
	expect(outside(along(-1.9))).toEqual([]);
	expect(outside(along(-2.1))).toHaveLength(1);
	expect(outside([...along(0), [3400, 0]])).toHaveLength(1);
});

test("how far out is measured, and one excursion is one place", () => {
	const found = outside([
		[2500, 1000],
		[5200, 1000],
		[5200, 1500],
		[2500, 1500],
	]);
	expect(found).toHaveLength(1);
	expect(found[0]!.value).toBeCloseTo(208, 6);
});

test("holes are outside", () => {
	const column = { outer: room.region.outer, holes: [rectangle(2000, 2000, 2400, 2400)] };
	const withColumn = floorOf([{ ...room, region: column }], [manifold]);
	expect(outside(upAt(1994), withColumn)).toEqual([]);
	expect(outside(upAt(1994.5), withColumn)).toHaveLength(1);
	expect(outside(upAt(2200), withColumn)).toHaveLength(1);
});

test("keep-outs forgive 1 mm", () => {
	const region = { outer: rectangle(2000, 2000, 2400, 2400), holes: [] };
	const withTray = floorOf([room], [manifold], { keepouts: [{ id: "k1", name: "tray", region }] });
	expect(outside(upAt(1992.9), withTray)).toEqual([]);
	const found = outside(upAt(1993.2), withTray);
	expect(found).toHaveLength(1);
	expect(found[0]!.value).toBeCloseTo(1.2, 6);
});

test("walls are passed through doorways only", () => {
	const next = roomOf("r2", rectangle(5100, 0, 9000, 5000), { heated: false });
	const region = { outer: rectangle(4999, 2000, 5101, 2800), holes: [] };
	const across: Point[] = [
		[4000, 2400],
		[6000, 2400],
	];
	const walled = floorOf([room, next], [manifold]);
	expect(outside(across, walled)).toHaveLength(1);
	const withDoor = { ...walled, doorways: [{ id: "d1", region, between: ["r1", "r2"] as const }] };
	expect(outside(across, withDoor)).toEqual([]);
	// 7 mm from the jamb
	expect(
		outside(
			[
				[4000, 2005],
				[6000, 2005],
			],
			withDoor,
		),
	).toHaveLength(1);
});

test("any straight pipe 8 mm or more inside a turned room passes, one 12 mm through its wall does not", () => {
	const coordinate = fc.integer({ min: 8, max: 4992 });
	fc.assert(
		fc.property(
			fc.tuple(coordinate, coordinate),
			fc.tuple(coordinate, coordinate),
			fc.integer({ min: 0, max: 359 }),
			(a, b, degrees) => {
				fc.pre(Math.hypot(a[0] - b[0], a[1] - b[1]) > 1);
				const move = moved((degrees * Math.PI) / 180, 3e5, -2e5);
				const turned = floorOf([roomOf("r1", room.region.outer.map(move))], [manifoldAt(move(manifold.position))]);
				expect(
					outside(
						[a, b].map((point) => move(point)),
						turned,
					),
				).toEqual([]);
				const through: Point[] = [a, [a[0], 5012]];
				expect(outside(through.map(move), turned)).toHaveLength(1);
			},
		),
	);
});
