import { mkdirSync, writeFileSync } from "node:fs";
import { channelSchedule, drawPlan, loopSchedule } from "@oxturn/drawing";
import type { Floor, Layout } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import { auditLayout, routeFloor } from "@oxturn/routing";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { faultsOf } from "../support/checkLayout.ts";
import { movedFloor } from "../support/floors.ts";
import { type Box, type PlannedFloor, plannedFloor } from "../support/plannedFloor.ts";
import { pipesThrough, type Way, waysOf } from "../support/waysOf.ts";

/*
 * Small rooms side by side may share one loop. Worked floors come first, then any bath with any toilet.
 *
 *   +--------------+
 *   | bath         +-------+      One loop leaves the manifold for the bath, goes round a part of it, through the
 *   |              | wc    |      doorway and round the toilet, back through the same doorway and round the rest of
 *   |                      |      the bath. Two pipes pass each of the two doorways, and only the bath has a port.
 *   |              |       |
 *   +---    -------+-------+
 *   | hall                 |
 *   +--------M-------------+
 */

const BATH: Box = [0, 1600, 2600, 4100];
const WC: Box = [2700, 1600, 3900, 3300];

const bathAndToilet = (changes: Partial<PlannedFloor> = {}): Floor =>
	plannedFloor({
		rooms: { hall: [0, 0, 4200, 1500], bath: BATH, wc: WC },
		doors: { "door-bath": [1000, 1500, 1800, 1600], "door-wc": [2600, 2300, 2700, 3000] },
		manifolds: { m1: { at: [2600, 0], facing: 90 } },
		spacing: 150,
		share: { bath: true, wc: true },
		...changes,
	});

interface Worked {
	readonly floor: Floor;
	readonly layout: Layout;
	readonly ways: readonly Way[];
	/** The rooms of each loop, from port 1 on. */
	readonly loops: readonly string[];
}

mkdirSync("tests/output", { recursive: true });

function worked(name: string, floor: Floor): Worked {
	const layout = routeFloor(floor);
	writeFileSync(`tests/output/shared-${name}.svg`, drawPlan({ floor, layout, title: name }));
	return {
		floor,
		layout,
		ways: waysOf(floor, layout),
		loops: layout.features.map(({ properties }) => properties.rooms.join("+")),
	};
}

/** The rooms of the loops that heat bath, toilet or store, in order of name. */
const loopsOf = (floor: Floor): string[] =>
	routeFloor(floor)
		.features.map(({ properties }) => properties.rooms.join("+"))
		.filter((rooms) => /bath|wc|store/.test(rooms))
		.sort();

const sound = (floor: Floor, layout: Layout): void => {
	expect(faultsOf(floor, layout)).toEqual([]);
	expect(auditLayout(floor, layout, { coverage: false }).findings).toEqual([]);
};

/** Share of each room's floor within one spacing of a pipe in that room. */
const warmth = (floor: Floor, layout: Layout): Map<string, number> =>
	new Map(auditLayout(floor, layout).coverage.map(({ room, within100 }) => [room, within100]));

describe("a bath and the toilet that opens off it", () => {
	const shared = worked("bath-and-toilet", bathAndToilet());

	it("are heated by one loop, and the hall by another", () => {
		sound(shared.floor, shared.layout);
		expect([...shared.loops].sort()).toEqual(["bath+wc", "hall"]);
		expect(shared.layout.notices).toEqual([]);
	});

	it("are warm all over", () => {
		const warm = warmth(shared.floor, shared.layout);
		for (const room of ["bath", "wc"]) expect(warm.get(room), room).toBeGreaterThan(0.98);
	});

	it("have their loop go from the bath into the toilet once, and back by the same doorway", () => {
		const way = shared.ways[shared.loops.indexOf("bath+wc")]!;
		expect(way.passes.map(({ doorway, from, to }) => `${from} - ${doorway} - ${to}`)).toEqual([
			"hall - door-bath - bath",
			"bath - door-wc - wc",
			"wc - door-wc - bath",
			"bath - door-bath - hall",
		]);
		expect(Object.fromEntries(pipesThrough(shared.ways))).toEqual({ "door-bath": 2, "door-wc": 2 });
	});

	it("take as much pipe as their floor divided by the spacing, less what rounded turns save", () => {
		// a half turn saves (2 - pi / 2) x 150 mm of the corner that it cuts: 64 mm, in a run and turn of 2.4 m
		const { pipe } = shared.ways[shared.loops.indexOf("bath+wc")]!;
		for (const [room, area] of [
			["bath", 2600 * 2500],
			["wc", 1200 * 1700],
		] as const) {
			const share = (pipe.get(room)! * 150) / area;
			expect(share, room).toBeGreaterThan(0.9);
			expect(share, room).toBeLessThan(1.1);
		}
	});

	it("stand in one line of the schedule, and the doorway between them among the channels", () => {
		const rows = loopSchedule(shared).map(({ rooms }) => rooms.join(" and "));
		expect(rows).toContain("bath and wc");
		const channel = channelSchedule(shared).find(({ doorway }) => doorway === "door-wc")!;
		expect(channel).toMatchObject({ room: "bath", to: "wc", pipes: 2 });
		expect(channel.width).toBeGreaterThan(49);
		expect(channel.width).toBeLessThan(600);
	});

	it("need a port less than apart, and tails less", () => {
		const apart = routeFloor(bathAndToilet({ share: {} }));
		const pipe = ({ features }: Layout): number => features.reduce((sum, { properties }) => sum + properties.length, 0);
		expect(shared.layout.features.length).toBe(apart.features.length - 1);
		expect(pipe(shared.layout)).toBeLessThan(pipe(apart));
	});

	it("keep every rule and stay warm when there is no time to look for anything better", () => {
		const layout = routeFloor(shared.floor, { timeBudget: 0 });
		sound(shared.floor, layout);
		for (const [room, warm] of warmth(shared.floor, layout)) expect(warm, room).toBeGreaterThan(0.95);
	});

	it("come out alike wherever the floor lies and however it is turned", () => {
		const moved = movedFloor(shared.floor, 2.1, -31_000, 12_500);
		const layout = routeFloor(moved);
		sound(moved, layout);
		expect(layout.features.map(({ properties }) => properties.rooms.join("+"))).toEqual(shared.loops);
	});
});

describe("who may share", () => {
	it("rooms below 4 m2 share unless they say otherwise; larger ones do when they say so", () => {
		const rooms = { hall: [0, 0, 4200, 1500], bath: [0, 1600, 1900, 3600], wc: [2000, 1600, 2900, 3100] } as const;
		const doors = { "door-bath": [700, 1500, 1500, 1600], "door-wc": [1900, 2000, 2000, 2700] } as const;
		expect(loopsOf(bathAndToilet({ rooms, doors, share: "default" }))).toEqual(["bath+wc"]);
		const larger = { ...rooms, bath: [0, 1600, 1900, 3800] } as const;
		expect(loopsOf(bathAndToilet({ rooms: larger, doors, share: "default" }))).toEqual(["bath", "wc"]);
		expect(loopsOf(bathAndToilet({ rooms: larger, doors, share: { bath: true, wc: true } }))).toEqual(["bath+wc"]);
	});

	it("neither room shares against its will", () => {
		expect(loopsOf(bathAndToilet({ share: { bath: true, wc: false } }))).toEqual(["bath", "wc"]);
		expect(loopsOf(bathAndToilet({ share: { bath: false, wc: true } }))).toEqual(["bath", "wc"]);
	});

	it("a loop that would be too long is not shared", () => {
		// 8.5 m2 at 150 mm are 57 m, and the tails come on top
		expect(loopsOf(bathAndToilet({ maxLoopLength: 70 }))).toEqual(["bath+wc"]);
		expect(loopsOf(bathAndToilet({ maxLoopLength: 55 }))).toEqual(["bath", "wc"]);
	});

	it("rooms that are to be laid differently do not share", () => {
		expect(loopsOf(bathAndToilet({ spacings: { wc: 100 } }))).toEqual(["bath", "wc"]);
		expect(loopsOf(bathAndToilet({ patterns: { bath: "serpentine", wc: "spiral" } }))).toEqual(["bath", "wc"]);
		expect(loopsOf(bathAndToilet({ patterns: { bath: "spiral", wc: "spiral" } }))).toEqual(["bath+wc"]);
	});

	it.each(["serpentine", "spiral"] as const)(
		"a room that takes either pattern shares a loop in its neighbour's: %s",
		(pattern) => {
			for (const wanting of ["bath", "wc"]) {
				const floor = bathAndToilet({ patterns: { [wanting]: pattern } });
				const layout = routeFloor(floor);
				sound(floor, layout);
				const shared = layout.features.filter(({ properties }) => properties.rooms.length > 1);
				expect(shared.map(({ properties }) => [properties.rooms.join("+"), properties.pattern])).toEqual([
					["bath+wc", pattern],
				]);
			}
		},
	);

	it("a room that is not heated has no loop to share", () => {
		expect(loopsOf(bathAndToilet({ unheated: ["wc"] }))).toEqual(["bath"]);
	});

	it("a room through which tails go on to others keeps a loop of its own", () => {
		// hall - bath - wc - store, one behind the other: the store hangs on the wc's loop, the wc not on the bath's
		const row = bathAndToilet({
			rooms: { hall: [0, 0, 6000, 1500], bath: BATH, wc: WC, store: [4000, 1600, 5200, 3300] },
			doors: {
				"door-bath": [1000, 1500, 1800, 1600],
				"door-wc": [2600, 2300, 2700, 3000],
				"door-store": [3900, 2300, 4000, 3000],
			},
			share: { bath: true, wc: true, store: true },
		});
		expect(loopsOf(row)).toEqual(["bath", "wc+store"]);
	});
});

describe("other neighbours", () => {
	it("a bath's loop goes on to a toilet on one side and a store on the other", () => {
		/*
		 *          +---------+
		 *   +------+ bath    +-------+
		 *   | wc                store|
		 *   +------+--    ---+-------+
		 *   | hall                   |
		 *   +--M---------------------+
		 */
		const { floor, layout, loops, ways } = worked(
			"two-guests",
			plannedFloor({
				rooms: {
					hall: [0, 0, 6000, 1500],
					bath: [1300, 1600, 3900, 4100],
					wc: [0, 1600, 1200, 3300],
					store: [4000, 1600, 5200, 3300],
				},
				doors: {
					"door-bath": [2000, 1500, 2800, 1600],
					"door-wc": [1200, 2300, 1300, 3000],
					"door-store": [3900, 2000, 4000, 2700],
				},
				manifolds: { m1: { at: [600, 0], facing: 90 } },
				spacing: 150,
				share: { bath: true, wc: true, store: true },
			}),
		);
		sound(floor, layout);
		expect([...loops].sort()).toEqual(["bath+wc+store", "hall"]);
		expect(Object.fromEntries(pipesThrough(ways))).toEqual({ "door-bath": 2, "door-wc": 2, "door-store": 2 });
		for (const [room, warm] of warmth(floor, layout)) expect(warm, room).toBeGreaterThan(0.97);
	});

	it("a toilet with a door to the hall as well hangs on the shower next to it", () => {
		const { floor, layout, loops, ways } = worked(
			"two-doors",
			plannedFloor({
				rooms: {
					hall: [0, 0, 6000, 1500],
					wc: [0, 1600, 1200, 3300],
					shower: [1300, 1600, 3400, 3300],
				},
				doors: {
					"door-wc": [200, 1500, 900, 1600],
					"door-shower": [2000, 1500, 2800, 1600],
					"door-between": [1200, 2300, 1300, 3000],
				},
				manifolds: { m1: { at: [4600, 0], facing: 90 } },
				spacing: 150,
				share: "default",
			}),
		);
		sound(floor, layout);
		expect([...loops].sort()).toEqual(["hall", "shower+wc"]);
		expect(Object.fromEntries(pipesThrough(ways))).toEqual({ "door-shower": 2, "door-between": 2 });
	});

	it("a small lobby's loop, right at its manifold, goes on to the toilet", () => {
		const { floor, layout, loops } = worked(
			"at-the-manifold",
			plannedFloor({
				rooms: { lobby: [0, 0, 3000, 1250], wc: [3100, 0, 4300, 1600] },
				doors: { "door-wc": [3000, 300, 3100, 1000] },
				manifolds: { m1: { at: [1200, 0], facing: 90 } },
				spacing: 150,
				share: "default",
			}),
		);
		sound(floor, layout);
		expect(loops).toEqual(["lobby+wc"]);
	});
});

describe("a toilet beside the bath, both off one hall", () => {
	/*
	 *   +-----------+------+
	 *   | bath      | wc   |    From the manifold the loop goes into the bath. Half-way round it comes out again by the
	 *   |           |      |    same doorway, goes along the wall into the toilet, round it and back: four pipes pass
	 *   +--    -----+-    -+--+  the bath's doorway, two the toilet's.
	 *   | hall                |
	 *   +-M-------------------+
	 */
	const beside = (changes: Partial<PlannedFloor> = {}): Floor =>
		plannedFloor({
			rooms: { hall: [0, 0, 6000, 1500], bath: [1300, 1600, 3400, 4000], wc: [3500, 1600, 4700, 3300] },
			doors: { "door-bath": [1900, 1500, 2700, 1600], "door-wc": [3700, 1500, 4400, 1600] },
			manifolds: { m1: { at: [800, 0], facing: 90 } },
			spacing: 150,
			share: { bath: true, wc: true },
			...changes,
		});
	const shared = worked("beside", beside());

	it("hangs on the bath's loop", () => {
		sound(shared.floor, shared.layout);
		expect([...shared.loops].sort()).toEqual(["bath+wc", "hall"]);
		expect(shared.layout.notices).toEqual([]);
		for (const [room, warm] of warmth(shared.floor, shared.layout)) expect(warm, room).toBeGreaterThan(0.98);
	});

	it("is reached out of the bath's door and in by its own, and left the same way", () => {
		const way = shared.ways[shared.loops.indexOf("bath+wc")]!;
		const passes = way.passes.map(({ from, to }) => `${from} - ${to}`);
		const there = ["hall - bath", "bath - hall", "hall - wc"];
		expect(passes).toEqual([...there, "wc - hall", "hall - bath", "bath - hall"]);
		expect(Object.fromEntries(pipesThrough(shared.ways))).toEqual({ "door-bath": 4, "door-wc": 2 });
	});

	it("has every pair of pipes that passes a doorway among the channels", () => {
		const rows = channelSchedule(shared).map(({ doorway, pipes }) => `${doorway}: ${pipes}`);
		expect(rows.sort()).toEqual(["door-bath: 2", "door-bath: 2", "door-wc: 2"]);
	});

	it("has a loop of its own where the tails of others pass between the two doors", () => {
		const rooms = {
			hall: [0, 0, 6000, 1500],
			bath: [1300, 1600, 3400, 4000],
			den: [3500, 1600, 5100, 5000],
			wc: [5200, 1600, 6400, 3300],
		} as const;
		const doors = {
			"door-bath": [2500, 1500, 3300, 1600],
			"door-den": [3600, 1500, 4400, 1600],
			"door-wc": [5250, 1500, 5950, 1600],
		} as const;
		expect(loopsOf(beside({ rooms, doors }))).toEqual(["bath", "wc"]);
		// the den lets the loop pass when it needs no pipe
		expect(loopsOf(beside({ rooms, doors, unheated: ["den"] }))).toEqual(["bath+wc"]);
	});

	it("has a loop of its own when the doors lie far apart or in two walls", () => {
		const far = { hall: [0, 0, 9000, 1500], bath: [1300, 1600, 3400, 4000], wc: [6500, 1600, 7700, 3300] } as const;
		const doors = { "door-bath": [1900, 1500, 2700, 1600], "door-wc": [6700, 1500, 7400, 1600] } as const;
		expect(loopsOf(beside({ rooms: far, doors }))).toEqual(["bath", "wc"]);
		const opposite = {
			hall: [0, 0, 6000, 1500],
			bath: [1300, 1600, 3400, 4000],
			wc: [3500, -1800, 4700, -100],
		} as const;
		const across = { "door-bath": [1900, 1500, 2700, 1600], "door-wc": [3700, -100, 4400, 0] } as const;
		expect(loopsOf(beside({ rooms: opposite, doors: across }))).toEqual(["bath", "wc"]);
	});

	it("has a loop of its own when the bath's doorway takes no four pipes", () => {
		// four pipes 50.5 mm apart and 11 mm from either jamb want 174 mm
		const doors = { "door-bath": [2000, 1500, 2170, 1600], "door-wc": [3700, 1500, 4400, 1600] } as const;
		expect(loopsOf(beside({ doors }))).toEqual(["bath", "wc"]);
	});
});

/*
 * Any bath off a hall with a toilet behind it, to its left or to its right, and a doorway between the two or one from
 * the hall into either; walls, doorways, tubs, pipes and spacings as they come; the whole turned.
 */

const mm = (min: number, max: number): fc.Arbitrary<number> =>
	fc.integer({ min: min / 10, max: max / 10 }).map((tens) => 10 * tens);

/** The stretch of `width` mm at most at a share of the way from a to b. */
function stretch(a: number, b: number, width: number, share: number): readonly [number, number] {
	const long = Math.min(width, b - a);
	const from = Math.round(a + share * (b - a - long));
	return [from, from + long];
}

const SIDES = ["left", "right", "behind", "off the hall"] as const;
type Side = (typeof SIDES)[number];

const share = fc.double({ min: 0, max: 1, noNaN: true });

const anyPair = fc
	.record({
		wall: mm(80, 300),
		hallDepth: mm(1200, 1800),
		bathAt: mm(200, 1200),
		bath: fc.tuple(mm(1700, 3200), mm(1700, 3200)),
		wc: fc.tuple(mm(900, 1700), mm(1100, 2000)),
		side: fc.constantFrom(...SIDES),
		shift: share,
		door: fc.tuple(mm(600, 900), share),
		wcDoor: fc.tuple(mm(600, 900), share),
		tub: fc.option(fc.tuple(mm(400, 700), mm(500, 900)), { nil: undefined }),
		manifold: share,
		pipe: fc.constantFrom(12, 16, 20),
		spacing: fc.constantFrom(125, 150, 200, 250),
		maxLoopLength: fc.constantFrom(60, 80, 100),
		angle: fc.constantFrom(0, 0, 90, 17, 233),
	})
	.map((drawn): Floor => {
		const { wall, hallDepth, side } = drawn;
		const [bathWidth, bathDepth] = drawn.bath;
		const [wcWidth, wcDepth] = drawn.wc;
		const [x0, y0] = [drawn.bathAt, hallDepth + wall];
		const [x1, y1] = [x0 + bathWidth, y0 + bathDepth];
		const along = (from: number, to: number): number => Math.round(from + drawn.shift * (to - from));
		const beside = side === "left" ? x0 - wall - wcWidth : x1 + wall;
		const corners: Record<Side, Point> = {
			behind: [along(x0, x1 - 850), y1 + wall],
			left: [beside, along(y0, y1 - 850)],
			right: [beside, along(y0, y1 - 850)],
			"off the hall": [beside, y0],
		};
		const [wcX, wcY] = corners[side];
		const acrossX = stretch(Math.max(x0, wcX), Math.min(x1, wcX + wcWidth), ...drawn.wcDoor);
		const acrossY = stretch(Math.max(y0, wcY), Math.min(y1, wcY + wcDepth), ...drawn.wcDoor);
		const offHall = stretch(wcX, wcX + wcWidth, ...drawn.wcDoor);
		const doors: Record<Side, Box> = {
			behind: [acrossX[0], y1, acrossX[1], y1 + wall],
			left: [x0 - wall, acrossY[0], x0, acrossY[1]],
			right: [x1, acrossY[0], x1 + wall, acrossY[1]],
			"off the hall": [offHall[0], hallDepth, offHall[1], y0],
		};
		const wcDoor = doors[side];
		const [door0, door1] = stretch(x0, x1, ...drawn.door);
		// in the corner that is farthest from both doors, and never in front of one
		const [tubWidth, tubDepth] = drawn.tub ?? [0, 0];
		const tub: Box = side === "left" ? [x1 - tubWidth, y1 - tubDepth, x1, y1] : [x0, y1 - tubDepth, x0 + tubWidth, y1];
		const meets = ([a0, b0, a1, b1]: Box, by: number): boolean =>
			a0 - by < tub[2] && tub[0] < a1 + by && b0 - by < tub[3] && tub[1] < b1 + by;
		const hasTub = drawn.tub && !meets(wcDoor, 600) && !meets([door0, hallDepth, door1, y0], 600);
		const hall: Box = [0, 0, Math.max(4500, x1 + 300, side === "off the hall" ? wcX + wcWidth : 0), hallDepth];
		const planned = plannedFloor({
			rooms: { hall, bath: [x0, y0, x1, y1], wc: [wcX, wcY, wcX + wcWidth, wcY + wcDepth] },
			doors: { "door-bath": [door0, hallDepth, door1, y0], "door-wc": wcDoor },
			keepouts: hasTub ? { tub } : {},
			manifolds: { m1: { at: [Math.round(600 + drawn.manifold * (hall[2] - 1200)), 0], facing: 90 } },
			spacing: drawn.spacing,
			maxLoopLength: drawn.maxLoopLength,
			share: { bath: true, wc: true },
		});
		const pipe = { outerDiameter: drawn.pipe, wallThickness: 2, minBendRadius: Math.max(60, 3.9 * drawn.pipe) };
		return movedFloor({ ...planned, system: { ...planned.system, pipe } }, (drawn.angle * Math.PI) / 180, 0, 0);
	});

describe("any bath with any toilet", () => {
	const RUNS = 40;
	const isShared = ({ features }: Layout): boolean => features.some(({ properties }) => properties.rooms.length > 1);

	it("keeps every rule, and where they share a loop, as most do, it is one that warms both", () => {
		let sharing = 0;
		fc.assert(
			fc.property(anyPair, (floor) => {
				const layout = routeFloor(floor);
				sound(floor, layout);
				const warm = warmth(floor, layout);
				if (!isShared(layout)) return;
				sharing++;
				expect(layout.features.filter(({ properties }) => /bath|wc/.test(properties.rooms.join()))).toHaveLength(1);
				for (const room of ["bath", "wc"]) expect(warm.get(room), room).toBeGreaterThanOrEqual(0.95);
			}),
			{ numRuns: RUNS },
		);
		// the others are too long, or the bath takes two loops by itself
		expect(sharing).toBeGreaterThanOrEqual(0.75 * RUNS);
	}, 120_000);

	it("has a loop more when one of them may not share", () => {
		fc.assert(
			fc.property(anyPair, fc.constantFrom("bath", "wc"), (floor, unwilling) => {
				const rooms = floor.rooms.map((room) => (room.id === unwilling ? { ...room, share: false } : room));
				const [shared, apart] = [routeFloor(floor), routeFloor({ ...floor, rooms })];
				expect(isShared(apart)).toBe(false);
				if (isShared(shared)) expect(apart.features.length).toBeGreaterThan(shared.features.length);
			}),
			{ numRuns: 12 },
		);
	}, 120_000);
});
