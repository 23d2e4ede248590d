import type { Floor } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import fc from "fast-check";
import { expect, test } from "vitest";
import { auditLayout } from "../../packages/routing/src/audit/auditLayout.ts";
import { coverageOfRoom } from "../../packages/routing/src/audit/coverage.ts";
import { floorOf, layoutOf, loopOf, manifoldAt, moved, rectangle, roomOf } from "./handmade.ts";

const SPACING = 200;
const room = roomOf("r1", rectangle(0, 0, 4000, 3000));
const floor = floorOf([room], [manifoldAt([0, 0])]);

/** Area within `radius` of a straight pipe, m2. */
const stadium = (length: number, radius: number): number => (2 * radius * length + Math.PI * radius ** 2) / 1e6;

test.each([0, 17, 45, 90])("a straight pipe at %i degrees covers a stadium", (degrees) => {
	const angle = (degrees * Math.PI) / 180;
	// off the raster, on which a diagonal would meet its cells' centres by the row
	const pipe = [-1000, 1000].map((x) => moved(angle, 2001.3, 1497.1)([x, 0]));
	const coverage = coverageOfRoom(floor, room, [pipe], { cell: 5 });
	expect(coverage.area).toBeCloseTo(12, 6);
	expect(coverage.pipe).toBeCloseTo(2, 6);
	expect(coverage.density).toBeCloseTo((2000 * SPACING) / 12e6, 6);
	expect(coverage.within055 * 12).toBeCloseTo(stadium(2000, 0.55 * SPACING), 2);
	expect(coverage.within100 * 12).toBeCloseTo(stadium(2000, SPACING), 2);
});

test("the coarse raster agrees with the fine one to half a percent of the floor", () => {
	const pipe: Point[] = [
		[300, 400],
		[3500, 900],
		[2000, 2700],
	];
	const fine = coverageOfRoom(floor, room, [pipe], { cell: 5 });
	const coarse = coverageOfRoom(floor, room, [pipe]);
	expect(Math.abs(coarse.within055 - fine.within055)).toBeLessThan(0.005);
	expect(Math.abs(coarse.within100 - fine.within100)).toBeLessThan(0.005);
	expect(Math.abs(coarse.coldSpot - fine.coldSpot)).toBeLessThan(40);
});

test("shares agree with distances measured one by one", () => {
	const x = fc.integer({ min: -200, max: 4200 });
	const y = fc.integer({ min: -200, max: 3200 });
	fc.assert(
		fc.property(fc.array(fc.tuple(x, y), { minLength: 2, maxLength: 6 }), (raw) => {
			// nothing leaves the room, so all of the pipe counts
			const pipe = raw.map(([px, py]): Point => [Math.min(3990, Math.max(10, px)), Math.min(2990, Math.max(10, py))]);
			// all points in one place are no pipe
			fc.pre(pipe.some(([px, py]) => px !== pipe[0]![0] || py !== pipe[0]![1]));
			const cell = 50;
			let near = 0;
			let warm = 0;
			for (let cy = cell / 2; cy < 3000; cy += cell)
				for (let cx = cell / 2; cx < 4000; cx += cell) {
					let nearest = Infinity;
					pipe.slice(1).forEach(([bx, by], i) => {
						const [ax, ay] = pipe[i]!;
						const length2 = (bx - ax) ** 2 + (by - ay) ** 2;
						const along = length2 > 0 ? ((cx - ax) * (bx - ax) + (cy - ay) * (by - ay)) / length2 : 0;
						const t = Math.min(1, Math.max(0, along));
						nearest = Math.min(nearest, Math.hypot(ax + t * (bx - ax) - cx, ay + t * (by - ay) - cy));
					});
					if (nearest <= 0.55 * SPACING + 1e-6) near++;
					if (nearest <= SPACING + 1e-6) warm++;
				}
			const coverage = coverageOfRoom(floor, room, [pipe], { cell });
			expect(coverage.within055 * 4800).toBeCloseTo(near, 6);
			expect(coverage.within100 * 4800).toBeCloseTo(warm, 6);
		}),
		{ numRuns: 60 },
	);
});

test("the cold spot is the largest circle in what stays cold", () => {
	const along: Point[] = [
		[20, 100],
		[3980, 100],
	];
	// warm up to y = 300: 2700 mm are left up to the far wall
	expect(coverageOfRoom(floor, room, [along], { cell: 10 }).coldSpot).toBeCloseTo(2700, -1.5);
	const both = [along, along.map(([x, y]): Point => [x, 3000 - y])];
	expect(coverageOfRoom(floor, room, both, { cell: 10 }).coldSpot).toBeCloseTo(2400, -1.5);
});

test("a room without pipe is cold as wide as it is, one full of pipe nowhere", () => {
	expect(coverageOfRoom(floor, room, [])).toMatchObject({ within055: 0, within100: 0, density: 0, pipe: 0 });
	expect(coverageOfRoom(floor, room, []).coldSpot).toBeCloseTo(3000, -2);
	const full = Array.from({ length: 15 }, (_, k): Point[] => [
		[0, 200 * k + 100],
		[4000, 200 * k + 100],
	]);
	expect(coverageOfRoom(floor, room, full)).toMatchObject({ within055: 1, within100: 1, coldSpot: 0 });
});

test("holes and keep-outs are no floor", () => {
	const region = { outer: room.region.outer, holes: [rectangle(1000, 1000, 2000, 2000)] };
	const keepout = { id: "k1", name: "", region: { outer: rectangle(2500, 0, 3500, 1000), holes: [] } };
	const spoilt = { ...room, region };
	const coverage = coverageOfRoom(floorOf([spoilt], [], { keepouts: [keepout] }), spoilt, []);
	expect(coverage.area).toBeCloseTo(10, 6);
	const blocked = { ...keepout, region: room.region };
	expect(coverageOfRoom(floorOf([room], [], { keepouts: [blocked] }), room, [])).toMatchObject({
		area: 0,
		within055: 1,
		within100: 1,
		coldSpot: 0,
		density: 0,
	});
});

test("pipe behind a wall warms nothing, pipe in a doorway does", () => {
	const next = roomOf("r2", rectangle(4100, 0, 8000, 3000));
	const region = { outer: rectangle(4000, 1000, 4100, 2000), holes: [] };
	const withDoor: Floor = floorOf([room, next], [], { doorways: [{ id: "d1", region, between: ["r1", "r2"] }] });
	const behind: Point[] = [
		[4150, 100],
		[4150, 2900],
	];
	expect(coverageOfRoom(withDoor, room, [behind]).within100).toBe(0);
	const inDoor: Point[] = [
		[4050, 1020],
		[4050, 1980],
	];
	const coverage = coverageOfRoom(withDoor, room, [inDoor], { cell: 5 });
	expect(coverage.pipe).toBe(0);
	// the strip 150 mm deep beside the pipe, and a quarter of the round end cut at 50 mm at either end
	const { acos, sqrt } = Math;
	const cap = (200 ** 2 * acos(50 / 200) - 50 * sqrt(200 ** 2 - 50 ** 2)) / 2;
	expect(coverage.within100 * 12e6).toBeCloseTo(150 * 960 + 2 * cap, -3.5);
});

test("cells are 20 mm, and 25 mm on more than 300 m2 of heated floor", () => {
	const hall = roomOf("r1", rectangle(0, 0, 20000, 15100));
	const along: Point[] = [
		[500, 500],
		[19000, 13000],
	];
	const measure = (cell?: number) =>
		coverageOfRoom(floorOf([hall], []), hall, [along], cell === undefined ? {} : { cell });
	expect(measure()).toEqual(measure(25));
	expect(measure()).not.toEqual(measure(20));
	expect(coverageOfRoom(floor, room, [along])).toEqual(coverageOfRoom(floor, room, [along], { cell: 20 }));
});

test("every heated room of a layout is measured in the order of the floor", () => {
	const cellar = roomOf("r2", rectangle(5000, 0, 6000, 1000), { heated: false });
	const bath = roomOf("r3", rectangle(7000, 0, 9000, 1000), { spacing: 100 });
	const layout = layoutOf([
		loopOf("L1", [
			[100, 500],
			[3900, 500],
		]),
	]);
	const { coverage } = auditLayout(floorOf([room, cellar, bath], [manifoldAt([0, 0])]), layout);
	expect(coverage.map(({ room: id }) => id)).toEqual(["r1", "r3"]);
	expect(coverage[0]!.pipe).toBeCloseTo(3.8, 6);
	expect(coverage[1]!.within100).toBe(0);
});
