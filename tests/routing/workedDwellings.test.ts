import { mkdirSync, writeFileSync } from "node:fs";
import { drawPlan } from "@oxturn/drawing";
import type { Floor, Layout, Notice } from "@oxturn/floor";
import { auditLayout, routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { faultsOf } from "../support/checkLayout.ts";
import { plannedFloor } from "../support/plannedFloor.ts";
import { orderThrough, pipesThrough, tailsOf, type Way, waysOf } from "../support/waysOf.ts";

/*
 * Dwellings small enough to work out by hand. Pipes cannot cross, so from a manifold the loops go round the walls of
 * its room in one order: ports are numbered from the left of who looks at the wall, and the loop at port 1 takes the
 * first door that one comes to when one goes along the wall from the manifold, its wall on the right hand.
 *
 *        4   3
 *    +-- - --- --+
 *    |           |       M hangs at the lower wall and looks up. Who looks at it has the left hand on the right of
 *   5|           |2      the drawing: port 1 is there, and goes to the door 1.
 *    |           |
 *    +----M-- ---+
 *            1
 *
 * The plans are drawn to tests/output.
 */

interface Worked {
	readonly floor: Floor;
	readonly layout: Layout;
	readonly ways: readonly Way[];
	/** The rooms that the ports serve, from port 1 on; a room with several loops once. */
	readonly order: readonly string[];
	/** Loops of a room. */
	readonly loops: (room: string) => number;
	readonly told: (room: string) => readonly Notice[];
}

mkdirSync("tests/output", { recursive: true });

function worked(name: string, floor: Floor, manifold = "m1"): Worked {
	const layout = routeFloor(floor);
	writeFileSync(`tests/output/worked-${name}.svg`, drawPlan({ floor, layout, title: name }));
	const served = layout.features
		.filter(({ properties }) => properties.manifold === manifold)
		.sort((a, b) => a.properties.port - b.properties.port)
		.map(({ properties }) => properties.rooms.join("+"));
	return {
		floor,
		layout,
		ways: waysOf(floor, layout),
		order: served.filter((room, i) => room !== served[i - 1]),
		loops: (room) => layout.features.filter(({ properties }) => properties.rooms.includes(room)).length,
		told: (room) => layout.notices.filter(({ subject }) => subject === room),
	};
}

const sound = ({ floor, layout }: Worked): void => {
	expect(faultsOf(floor, layout)).toEqual([]);
	expect(auditLayout(floor, layout, { coverage: false }).findings).toEqual([]);
};

/** Share of a room's floor within one spacing of a pipe. */
const warmth = ({ floor, layout }: Worked, room: string): number =>
	auditLayout(floor, layout).coverage.find((each) => each.room === room)!.within100;

describe("a strip of a hall with doors on both sides", () => {
	/*
	 *   +-----------+-----------+-----------+
	 *   | NW        | N         | NE        |
	 *   |           |           |           |
	 *   +---- 5 ----+---- 4 ----+---- 3 ----+
	 *   | hall                              |     along the lower wall to the right: SE (1, 2: two loops),
	 *   +---- 6 ----+----M------+---- 1 ----+     back along the upper wall: NE, N, NW, then SW
	 *   | SW        | S (store) | SE        |
	 *   |           |           |           |
	 *   +-----------+-----------+-----------+
	 */
	const strip = worked(
		"strip-hall",
		plannedFloor({
			rooms: {
				hall: [0, 4100, 12200, 5900],
				SW: [0, 0, 4000, 4000],
				S: [4100, 0, 8100, 4000],
				SE: [8200, 0, 12200, 4000],
				NW: [0, 6000, 4000, 10000],
				N: [4100, 6000, 8100, 10000],
				NE: [8200, 6000, 12200, 10000],
			},
			unheated: ["S"],
			doors: {
				"door-SW": [1500, 4000, 2400, 4100],
				"door-SE": [9800, 4000, 10700, 4100],
				"door-NW": [1500, 5900, 2400, 6000],
				"door-N": [5600, 5900, 6500, 6000],
				"door-NE": [9800, 5900, 10700, 6000],
			},
			manifolds: { m1: { at: [6100, 4100], facing: 90 } },
			spacings: { SE: 100 },
		}),
	);

	it("gives the ports to the rooms in the order in which their doors come along the walls", () => {
		sound(strip);
		expect(strip.order.filter((room) => room !== "hall")).toEqual(["SE", "NE", "N", "NW", "SW"]);
	});

	it("heats every room and passes the store by", () => {
		expect(["SE", "NE", "N", "NW", "SW"].map(strip.loops)).toEqual([2, 1, 1, 1, 1]);
		expect(strip.loops("S")).toBe(0);
		expect(warmth(strip, "hall")).toBeGreaterThan(0.95);
		expect(strip.layout.notices).toEqual([]);
	});

	it("counts two pipes a loop through each door", () => {
		expect(Object.fromEntries(pipesThrough(strip.ways))).toEqual({
			"door-SE": 4,
			"door-NE": 2,
			"door-N": 2,
			"door-NW": 2,
			"door-SW": 2,
		});
	});
});

describe("a manifold in a cupboard behind a door", () => {
	/*
	 *   +---------+---------------+
	 *   | west    | north         |
	 *   |         +----- 2 -------+
	 *   |         3               |
	 *   |         | hall          |     every pipe comes through the cupboard's door; then along the wall with
	 *   +-- 4 ----+-----+-- + ----+     the wall on the right hand: east, north, west
	 *                   |cup|     1
	 *                   +-M-+
	 */
	const cupboard = worked(
		"cupboard",
		plannedFloor({
			rooms: {
				hall: [4100, 2000, 9000, 4500],
				west: [0, 0, 4000, 8000],
				north: [4100, 4600, 9000, 8000],
				cupboard: [5500, 800, 7000, 1900],
				east: [9100, 2000, 12000, 8000],
			},
			unheated: ["cupboard"],
			doors: {
				"door-cupboard": [5700, 1900, 6700, 2000],
				"door-east": [9000, 2600, 9100, 3500],
				"door-north": [6000, 4500, 6900, 4600],
				"door-west": [4000, 2800, 4100, 3700],
			},
			manifolds: { m1: { at: [6250, 800], facing: 90 } },
		}),
	);

	it("brings all loops through its door side by side, and on from there in the order of the walls", () => {
		sound(cupboard);
		expect(cupboard.order.filter((room) => room !== "hall")).toEqual(["east", "north", "west"]);
		const pairs = cupboard.layout.features.flatMap(({ id }) => [id, id]);
		expect(orderThrough(cupboard.ways, "door-cupboard")).toEqual(pairs);
	});

	it("lists the door's channel with two pipes for each loop, 50 mm apart", () => {
		const channel = cupboard.layout.channels.find(({ doorway }) => doorway === "door-cupboard");
		const pipes = 2 * cupboard.layout.features.length;
		expect(channel?.pipes).toBe(pipes);
		expect(channel!.width).toBeGreaterThanOrEqual((pipes - 1) * 50);
		expect(channel!.width).toBeLessThan(1000);
	});

	it("lays no loop in the cupboard", () => {
		expect(cupboard.loops("cupboard")).toBe(0);
		expect(["hall", "east", "north", "west"].map((room) => cupboard.loops(room) > 0)).toEqual([true, true, true, true]);
	});
});

describe("a room reached through another", () => {
	/*
	 *   +-----------+-----------+
	 *   | den       | study     |
	 *   |           2           |       den and study come through one door, next to each other
	 *   +-----------+---- 1 ----+
	 *   | hall                  |
	 *   +------M----+---- 0 ----+
	 *               | porch     |
	 *               +-----------+
	 */
	const through = worked(
		"through-a-room",
		plannedFloor({
			rooms: {
				hall: [0, 0, 8100, 2000],
				den: [0, 2100, 4000, 5600],
				study: [4100, 2100, 8100, 5600],
				porch: [4100, -2600, 8100, -100],
			},
			doors: {
				"door-porch": [5600, -100, 6500, 0],
				"door-study": [5600, 2000, 6500, 2100],
				"door-den": [4000, 3500, 4100, 4400],
			},
			manifolds: { m1: { at: [2000, 0], facing: 90 } },
		}),
	);

	it("takes the tails of both through the first door, side by side", () => {
		sound(through);
		expect(through.order.filter((room) => room !== "hall")).toContain("den");
		expect(through.order.filter((room) => room !== "hall")[0]).toBe("porch");
		const [, ...behind] = through.order.filter((room) => room !== "hall");
		expect(new Set(behind)).toEqual(new Set(["study", "den"]));
		expect(pipesThrough(through.ways).get("door-study")).toBe(2 * (through.loops("study") + through.loops("den")));
	});

	it("passes the room on the way by the doors that lead there", () => {
		const way = through.ways.find(({ loop }) => {
			const feature = through.layout.features.find(({ id }) => id === loop)!;
			return feature.properties.rooms.includes("den");
		})!;
		expect(way.passes.map(({ doorway }) => doorway)).toEqual(["door-study", "door-den", "door-den", "door-study"]);
	});

	it("leaves no cold strip where they pass", () => {
		expect(warmth(through, "study")).toBeGreaterThan(0.95);
		expect(through.layout.notices).toEqual([]);
	});
});

describe("a hall round a corner, with a door opposite the wall that the bundle follows", () => {
	/*
	 *   +----+
	 *   5    |
	 *   |    M-------------+---------+      The pipes to study, pantry and workshop follow the wall below M and the one
	 *   |    | study       | pantry  |      that study and pantry share with the hall. The workshop's door lies opposite:
	 *   |    +---- 1 ------+-- 2 ----+      over the hall it is 1.3 m from there, round the far end of the hall 10 m.
	 *   | hall                       |
	 *   +----+------ 3 --------------+      From M with the wall on the right hand: bedroom, the near part of the hall,
	 *        | workshop           |         workshop, the far part of the hall, pantry, study.
	 *        +--------------------+
	 */
	const corner = worked(
		"over-the-hall",
		plannedFloor({
			rooms: {
				hall: [
					[0, 0],
					[10000, 0],
					[10000, 1300],
					[1300, 1300],
					[1300, 8000],
					[0, 8000],
				],
				bedroom: [-4100, 4000, -100, 8000],
				study: [1400, 1400, 5400, 5000],
				pantry: [5500, 1400, 10000, 5000],
				workshop: [1400, -5000, 8000, -100],
			},
			doors: {
				"door-bedroom": [-100, 6500, 0, 7300],
				"door-study": [3800, 1300, 4600, 1400],
				"door-pantry": [8300, 1300, 9100, 1400],
				"door-workshop": [4800, -100, 5700, 0],
			},
			manifolds: { m1: { at: [1300, 4600], facing: 180 } },
			spacings: { workshop: 100 },
		}),
	);

	it("leads the tails along the wall and straight over", () => {
		sound(corner);
		expect(corner.loops("workshop")).toBeGreaterThanOrEqual(3);
		for (const way of corner.ways.filter(({ passes }) => passes.some(({ doorway }) => doorway === "door-workshop"))) {
			// there and back: 3.3 m down the hall, 3.5 to 4.4 m along it and 1.3 m over, and what the bundle takes at corners
			expect(tailsOf(way, ["workshop"])).toBeGreaterThan(2 * 8000);
			expect(tailsOf(way, ["workshop"])).toBeLessThan(2 * 10500);
		}
	});

	it("heats the hall behind them by a loop of its own, led there beside them", () => {
		const far = corner.layout.features.find(
			({ properties, geometry }) => properties.rooms.includes("hall") && geometry.coordinates.some(([x]) => x! > 9000),
		);
		expect(far).toBeDefined();
		expect(warmth(corner, "hall")).toBeGreaterThan(0.97);
		const led = corner.layout.channels.filter(({ room, doorway }) => room === "hall" && doorway === undefined);
		expect(led.map(({ pipes }) => pipes)).toEqual([2]);
	});

	it("gives the ports in the order of the walls", () => {
		expect(corner.order).toEqual(["bedroom", "hall", "workshop", "hall", "pantry", "study"]);
	});
});

describe("a doorway too narrow for its pipes", () => {
	/*
	 *   +---------------+-------+
	 *   | workshop      | bath  |
	 *   |               |       |
	 *   +---- 200 ------+-- ----+       four pipes fit side by side on 200 mm, skins clear of the jambs;
	 *   | hall                  |       30 m2 at 100 mm take 300 m of pipe: four loops of 80 m or more, eight pipes,
	 *   +----------M------------+       and at 150 mm still three
	 */
	const house = (doorway: number) =>
		plannedFloor({
			rooms: { hall: [0, 0, 9000, 1800], workshop: [0, 1900, 6000, 6900], bath: [6100, 1900, 9000, 6900] },
			doors: { "door-workshop": [2800, 1800, 2800 + doorway, 1900], "door-bath": [7000, 1800, 7800, 1900] },
			manifolds: { m1: { at: [5000, 0], facing: 90 } },
			spacings: { workshop: 100 },
			maxLoopLength: 80,
		});
	const narrow = worked("narrow-doorway", house(200));

	it("takes no more pipes than fit, and says how many were wanted and how many fit", () => {
		sound(narrow);
		expect(pipesThrough(narrow.ways).get("door-workshop") ?? 0).toBeLessThanOrEqual(4);
		const notice = narrow.told("workshop").find(({ code }) => code === "DOORWAY_TOO_NARROW");
		const [, wanted, doorway, fit] = /(\d+) pipes .*"([^"]+)" and (\d+) of them/.exec(notice?.message ?? "") ?? [];
		expect(doorway).toBe("door-workshop");
		expect(Number(wanted)).toBeGreaterThanOrEqual(8);
		expect(Number(fit)).toBeLessThanOrEqual(4);
	});

	it("does not keep the other rooms from being heated", () => {
		expect(narrow.loops("bath")).toBeGreaterThan(0);
		expect(warmth(narrow, "bath")).toBeGreaterThan(0.95);
		expect(warmth(narrow, "hall")).toBeGreaterThan(0.95);
	});

	it("gives a room fewer loops at a wider spacing rather than none, where that is enough: six pipes fit on 300 mm", () => {
		const wider = worked("narrow-doorway-wider", house(300));
		sound(wider);
		expect(wider.loops("workshop")).toBe(3);
		expect(wider.told("workshop").map(({ code }) => code)).toEqual(["SPACING_WIDENED"]);
		expect(warmth(wider, "workshop")).toBeGreaterThan(0.95);
	});
});

describe("a hall that its tails alone heat", () => {
	/*
	 *   +-------+-------+
	 *   | NW    | NE    |      the tails of eight loops on 1 m of floor: sixteen pipes as far as the first doors and
	 *   |       |       |      eight beyond, where a pipe every 300 mm would do
	 *   +--- ---+--- ---+
	 *   M hall          |
	 *   +--- ---+--- ---+
	 *   | SW    | SE    |
	 *   |       |       |
	 *   +-------+-------+
	 */
	const crowded = worked(
		"heated-by-tails",
		plannedFloor({
			rooms: {
				hall: [0, 3600, 6560, 4600],
				SW: [0, 0, 3500, 3500],
				SE: [3600, 0, 7100, 3500],
				NW: [0, 4700, 3500, 8200],
				NE: [3600, 4700, 7100, 8200],
			},
			doors: {
				"door-SW": [2500, 3500, 3300, 3600],
				"door-SE": [5800, 3500, 6500, 3600],
				"door-NW": [2500, 4600, 3300, 4700],
				"door-NE": [5800, 4600, 6500, 4700],
			},
			manifolds: { m1: { at: [0, 4100], facing: 0 } },
			spacing: 100,
			spacings: { hall: 300 },
		}),
	);

	it("gets no loop of its own, and a notice that says why", () => {
		sound(crowded);
		expect(crowded.loops("hall")).toBe(0);
		expect(crowded.told("hall").map(({ code }) => code)).toContain("HEATED_BY_TAILS");
	});

	it("is warm all the same", () => {
		expect(warmth(crowded, "hall")).toBeGreaterThan(0.95);
	});

	it("has the tails in the order of the doors", () => {
		// M looks to the right of the drawing: who looks at it has the left hand at the lower wall
		expect(crowded.order).toEqual(["SW", "SE", "NE", "NW"]);
	});
});

describe("two manifolds", () => {
	const rooms = {
		hall: [0, 4100, 16400, 5900],
		SW: [0, 0, 5000, 4000],
		SE: [11400, 0, 16400, 4000],
		NW: [0, 6000, 5000, 10000],
		NE: [11400, 6000, 16400, 10000],
	} as const;
	const doors = {
		"door-SW": [2000, 4000, 2900, 4100],
		"door-SE": [13500, 4000, 14400, 4100],
		"door-NW": [2000, 5900, 2900, 6000],
		"door-NE": [13500, 5900, 14400, 6000],
	} as const;
	const manifolds = { west: { at: [0, 5000], facing: 0 }, east: { at: [16400, 5000], facing: 180 } } as const;

	/*
	 *   +--------+               +--------+
	 *   | NW     |               | NE     |
	 *   +-- -----+---------------+---- ---+
	 *   M west         hall          east M      each room is served from its own end of the hall
	 *   +-- -----+---------------+---- ---+
	 *   | SW     |               | SE     |
	 *   +--------+               +--------+
	 */
	it("share one hall: each serves the rooms that are nearer to it, and their pipes keep clear of each other", () => {
		const floor = plannedFloor({ rooms, doors, manifolds });
		const west = worked("two-manifolds-one-hall", floor, "west");
		const east = worked("two-manifolds-one-hall", floor, "east");
		expect(west.order.filter((room) => room !== "hall")).toEqual(["SW", "NW"]);
		expect(east.order.filter((room) => room !== "hall")).toEqual(["NE", "SE"]);
		expect(warmth(west, "hall")).toBeGreaterThan(0.95);
		sound(west);
	});

	/*
	 *   +--------+       +-------+--------+
	 *   | NW     |       |       | NE     |
	 *   +-- -----+-------+-------+---- ---+
	 *   M west   hall    |   landing      |
	 *   |                |           east M      a wall parts the hall: each side is a floor of its own
	 *   +-- -----+-------+-------+---- ---+
	 *   | SW     |       |       | SE     |
	 *   +--------+       +-------+--------+
	 */
	it("serve each their own side of a wall without a door", () => {
		const floor = plannedFloor({
			rooms: { ...rooms, hall: [0, 4100, 8100, 5900], landing: [8200, 4100, 16400, 5900] },
			doors,
			manifolds,
		});
		const west = worked("two-manifolds-two-halls", floor, "west");
		const east = worked("two-manifolds-two-halls", floor, "east");
		sound(west);
		expect(west.order.filter((room) => room !== "hall")).toEqual(["SW", "NW"]);
		expect(east.order.filter((room) => room !== "landing")).toEqual(["NE", "SE"]);
		expect(["hall", "landing", "NE", "SE", "SW", "NW"].filter((room) => west.loops(room) === 0)).toEqual([]);
	});

	it("pass rooms on to the other when their ports are used up, and say what stays without", () => {
		const floor = plannedFloor({
			rooms,
			doors,
			unheated: ["hall"],
			maxLoopLength: 140,
			manifolds: { west: { ...manifolds.west, ports: 1 }, east: { ...manifolds.east, ports: 2 } },
		});
		const west = worked("two-manifolds-few-ports", floor, "west");
		expect(west.layout.features.filter(({ properties }) => properties.manifold === "west")).toHaveLength(1);
		const unserved = ["SW", "NW", "SE", "NE"].filter((room) => west.loops(room) === 0);
		expect(unserved).toHaveLength(1);
		expect(west.told(unserved[0]!)).not.toEqual([]);
		sound({ ...west, floor: { ...floor, rooms: floor.rooms.filter(({ id }) => id !== unserved[0]) } });
	});
});

describe("a room that is cut off", () => {
	/*
	 *   +--------+--------+--------+
	 *   | den    | shut   | split  |      no door leads to "shut"; kitchen units cut "split" in two from wall to wall,
	 *   |        |        |########|      and only its lower half has a door
	 *   |        |        |        |
	 *   +-- -----+--------+-- -----+
	 *   | hall                     |
	 *   +------------M-------------+
	 */
	const cutOff = worked(
		"cut-off",
		plannedFloor({
			rooms: {
				hall: [0, 0, 11600, 1800],
				den: [0, 1900, 3800, 6900],
				shut: [3900, 1900, 7700, 6900],
				split: [7800, 1900, 11600, 6900],
			},
			doors: { "door-den": [1500, 1800, 2400, 1900], "door-split": [9500, 1800, 10400, 1900] },
			keepouts: { units: [7800, 4400, 11600, 5000] },
			manifolds: { m1: { at: [5800, 0], facing: 90 } },
		}),
	);

	it("gets no loop and a notice when no door leads to it", () => {
		expect(cutOff.loops("shut")).toBe(0);
		expect(cutOff.told("shut").map(({ code }) => code)).toEqual(["ROOM_UNSERVED"]);
	});

	it("is heated where it can be reached, with the square metres that cannot: 3.8 m by 1.9 m", () => {
		expect(cutOff.loops("split")).toBeGreaterThan(0);
		const notice = cutOff.told("split").find(({ code }) => code === "FLOOR_CUT_OFF");
		expect(Number(/has ([\d.]+) m2/.exec(notice?.message ?? "")?.[1])).toBeCloseTo(3.8 * 1.9, 2);
	});

	it("does not keep the others from being heated, in the order of the walls", () => {
		expect(cutOff.order.filter((room) => room !== "hall")).toEqual(["split", "den"]);
		expect(faultsOf(cutOff.floor, cutOff.layout)).toEqual([]);
	});
});

describe("a manifold near the wall that leads to the only door", () => {
	/*
	 *   +---------+---------+---------+
	 *   | W       | N       | E       |     Ten pipes come out of ports 25 mm apart, 300 mm below the wall of the door, and
	 *   |         |         |         |     have to lie 50 mm apart beyond: there is no room to spread upwards, so they spread
	 *   +--- -----+---- ----+---- ----+     downwards, and need not go round the room.
	 *   | hall                        |
	 *   +- --------+---- -------------+
	 *   | plant    M  S               |
	 *   +----------+------------------+
	 */
	const plant = worked(
		"plant-room",
		plannedFloor({
			rooms: {
				plant: [0, 0, 4200, 2100],
				hall: [0, 2200, 10_000, 4000],
				W: [0, 4100, 3200, 8000],
				N: [3300, 4100, 6600, 8000],
				E: [6700, 4100, 10_000, 8000],
				S: [4300, 0, 10_000, 2100],
			},
			doors: {
				plantDoor: [200, 2100, 1000, 2200],
				wDoor: [1400, 4000, 2200, 4100],
				nDoor: [4500, 4000, 5300, 4100],
				eDoor: [8000, 4000, 8800, 4100],
				sDoor: [6000, 2100, 6800, 2200],
			},
			manifolds: { m1: { at: [4200, 1790], facing: 180 } },
		}),
	);

	it("is laid soundly, and serves every room", () => {
		sound(plant);
		for (const room of ["plant", "hall", "W", "N", "E", "S"]) expect(plant.loops(room)).toBe(1);
	});

	it("sends its tails straight to the door", () => {
		// There and back along the wall and out: 3.6 m and 0.4 m to the middle of the door, twice.
		const straight = 2 * (3600 + 420);
		const there = plant.ways.filter(({ passes }) => passes.length > 0).map(({ pipe }) => pipe.get("plant")!);
		expect(there).toHaveLength(5);
		for (const length of there) expect(length).toBeLessThan(1.15 * straight);
	});
});

describe("a manifold from which many pipes turn off to one side", () => {
	/*
	 *   +------+------+---------------+
	 *   | NW   | N    | NE            |      To the right, ten pipes follow the lower wall, so what goes across the hall can
	 *   +--- --+-- ---+--- -----------+      fan out to the right only far from the ports, where pipes have to be at their
	 *   | hall                        |      pitch already. To the left nothing is in the way.
	 *   +-------M--- ---- --- --- --- +
	 *   | store  | 5  | 4  | 3 | 2 | 1|
	 *   +--------+----+----+---+---+--+
	 */
	const wide = worked(
		"many-to-one-side",
		plannedFloor({
			rooms: {
				hall: [0, 4000, 15_000, 5600],
				store: [0, 0, 3900, 3900],
				A: [4000, 0, 6100, 3900],
				B: [6200, 0, 8300, 3900],
				C: [8400, 0, 10_500, 3900],
				D: [10_600, 0, 12_700, 3900],
				E: [12_800, 0, 15_000, 3900],
				NW: [0, 5700, 2900, 9000],
				N: [3000, 5700, 6000, 9000],
				NE: [6100, 5700, 9000, 9000],
			},
			unheated: ["store"],
			doors: {
				aDoor: [4600, 3900, 5400, 4000],
				bDoor: [6800, 3900, 7600, 4000],
				cDoor: [9000, 3900, 9800, 4000],
				dDoor: [11_200, 3900, 12_000, 4000],
				eDoor: [13_400, 3900, 14_200, 4000],
				nwDoor: [1600, 5600, 2400, 5700],
				nDoor: [3100, 5600, 3900, 5700],
				neDoor: [7000, 5600, 7800, 5700],
			},
			manifolds: { m1: { at: [3400, 4000], facing: 90 } },
		}),
	);

	it("is laid soundly, and serves every room", () => {
		sound(wide);
		for (const room of ["hall", "A", "B", "C", "D", "E", "NW", "N", "NE"]) expect(wide.loops(room)).toBeGreaterThan(0);
	});

	it("sends tails across the hall, not round its end", () => {
		const tailsTo = (room: string): number =>
			wide.ways.find(({ passes }) => passes[passes.length / 2 - 1]?.to === room)!.pipe.get("hall")!;
		// Across, 1.6 m, and along the far wall to the middle of the door: 1.4, 0.1 and 4 m; there and back.
		expect(tailsTo("NW")).toBeLessThan(2 * 1.15 * (1600 + 1400));
		expect(tailsTo("N")).toBeLessThan(2 * 1.15 * (1600 + 100));
		expect(tailsTo("NE")).toBeLessThan(2 * 1.15 * (1600 + 4000));
	});
});
