import { drawPlan, type Theme, tokens } from "@oxturn/drawing";
import type { Floor, Layout } from "@oxturn/floor";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { allElements, parseXml, type XmlElement } from "./parseXml.ts";
import { loop, rectangle, region, room, smallFloor, smallLayout } from "./samples.ts";

const empty: Layout = { ...smallLayout, features: [], channels: [], notices: [] };

function find(root: XmlElement, claim: (element: XmlElement) => boolean): XmlElement {
	const found = allElements(root).filter(claim);
	expect(found).toHaveLength(1);
	return found[0]!;
}

const byId = (root: XmlElement, id: string): XmlElement => find(root, (element) => element.attributes.id === id);
const byClass = (root: XmlElement, name: string): XmlElement =>
	find(root, (element) => element.attributes.class === name);

function numbers(text: string | undefined): number[] {
	return (text?.match(/-?\d+(\.\d+)?/g) ?? []).map(Number);
}

/** Corner points of path data. */
function corners(element: XmlElement): [number, number][] {
	const values = numbers(element.attributes.d);
	return Array.from({ length: values.length / 2 }, (_, i) => [values[2 * i]!, values[2 * i + 1]!]);
}

/** Box of a rect element. */
function boxOf({ attributes }: XmlElement): [left: number, top: number, right: number, bottom: number] {
	const [x, y, width, height] = [attributes.x, attributes.y, attributes.width, attributes.height].map(Number);
	return [x!, y!, x! + width!, y! + height!];
}

/** The small layout with `count` more loops beside each other, to crowd a sheet. */
function crowded(count: number): Layout {
	const features = Array.from({ length: count }, (_, i) => {
		const x = 100 + (i * 3800) / count;
		return loop(
			`L${i + 1}`,
			[
				[x, 0],
				[x, 2300],
				[x + 20, 2300],
				[x + 20, 0],
			],
			{ port: i + 1, rooms: ["workshop"] },
		);
	});
	return { ...empty, features };
}

describe("the file", () => {
	test.each(["light", "dark"] as const)("is the same drawing as last time (%s)", async (theme) => {
		const svg = drawPlan({ floor: smallFloor, layout: smallLayout, theme });
		await expect(svg).toMatchFileSnapshot(`./__snapshots__/sail-loft-${theme}.svg`);
	});

	test("has the same bytes each run", () => {
		const again = structuredClone({ floor: smallFloor, layout: smallLayout });
		expect(drawPlan(again)).toBe(drawPlan({ floor: smallFloor, layout: smallLayout }));
	});

	test("gives every element with an id one of its own", () => {
		const floor: Floor = {
			...smallFloor,
			rooms: [
				...smallFloor.rooms,
				room("a b", "", region(rectangle(0, 3100, 900, 4000))),
				room("a_20_b", "", region(rectangle(1000, 3100, 1900, 4000))),
			],
		};
		const ids = allElements(parseXml(drawPlan({ floor, layout: smallLayout }))).flatMap(
			({ attributes }) => attributes.id ?? [],
		);
		expect(ids.length).toBeGreaterThan(10);
		expect(new Set(ids).size).toBe(ids.length);
	});

	test("rounds every coordinate of the plan to 0.01 mm", () => {
		const root = parseXml(drawPlan({ floor: smallFloor, layout: smallLayout, scale: 37 }));
		const data = allElements(root).flatMap(({ attributes }) => attributes.d ?? []);
		expect(data.join(" ").match(/\.\d{3,}|e-|NaN|Infinity/)).toBeNull();
	});

	test.each(["sepia", "", "toString", "__proto__", null, 3])("refuses the theme %j, which there is not", (theme) => {
		const draw = () => drawPlan({ floor: smallFloor, layout: empty, theme: theme as Theme });
		expect(draw).toThrow(new RangeError(`Theme ${JSON.stringify(theme)}: expected "light" or "dark".`));
	});

	test("refuses a scale or a coordinate that is not a number to draw with", () => {
		expect(() => drawPlan({ floor: smallFloor, layout: empty, scale: 0 })).toThrow(/Scale 0/);
		expect(() => drawPlan({ floor: smallFloor, layout: empty, scale: Number.NaN })).toThrow(/Scale NaN/);
		const features = [
			loop("L1", [
				[0, 0],
				[Number.NaN, 100],
			]),
		];
		expect(() => drawPlan({ floor: smallFloor, layout: { ...empty, features } })).toThrow(RangeError);
	});

	test("draws an empty floor as an empty sheet", () => {
		const floor: Floor = { ...smallFloor, name: "", rooms: [], doorways: [], keepouts: [], manifolds: [] };
		expect(parseXml(drawPlan({ floor, layout: empty })).text).toContain("Unnamed floor");
	});
});

describe("scale", () => {
	test("is the largest usual one at which the plan fits A3: 6.34 m of walls and floor are 317 mm at 1:20, 254 mm at 1:25", () => {
		const root = parseXml(drawPlan({ floor: smallFloor, layout: smallLayout }));
		expect(root.attributes["data-scale"]).toBe("25");
		expect(root.attributes).toMatchObject({ width: "420mm", height: "297mm", viewBox: "0 0 420 297" });
	});

	// on A3 (420 x 297 mm), margins, panel and foot leave 281 x 265 mm for the plan; A2 and A1 each are half as long again
	test.each([
		[4, 20, "A3"],
		[20, 100, "A3"],
		[40, 100, "A2"],
		[60, 100, "A1"],
		[120, 200, "A1"],
	])("and its sheet are the first usual ones that take a hall %i m long: 1:%i on %s", (long, scale, sheet) => {
		const rooms = [room("hall", "Hall", region(rectangle(0, 0, 1000 * long, 3000)))];
		const floor: Floor = { ...smallFloor, rooms, doorways: [], keepouts: [], manifolds: [] };
		const root = parseXml(drawPlan({ floor, layout: empty }));
		expect(root.attributes["data-scale"]).toBe(String(scale));
		expect(byClass(root, "title-block").text).toContain(`1:${scale} on ${sheet}`);
	});

	test.each([10, 20, 25, 50, 100, 200])("1:%i shows a wall of 1000 mm as 1000 / n mm on paper", (scale) => {
		const root = parseXml(drawPlan({ floor: smallFloor, layout: smallLayout, scale }));
		const [width, height] = [root.attributes.width, root.attributes.height].map((size) => numbers(size)[0]);
		// a user unit is a paper mm
		expect(numbers(root.attributes.viewBox)).toEqual([0, 0, width, height]);
		const [a, b, c] = corners(byId(root, "room-porch"));
		expect(b![0] - a![0]).toBeCloseTo(2000 / scale, 1);
		// the porch is 1000 mm deep; y goes up on the floor and down on paper
		expect(b![1] - c![1]).toBeCloseTo(1000 / scale, 1);
	});

	test("grows the sheet when the plan is larger than A3 at a stated scale", () => {
		const root = parseXml(drawPlan({ floor: smallFloor, layout: smallLayout, scale: 5 }));
		const [, , width, height] = numbers(root.attributes.viewBox);
		expect(width).toBeGreaterThan(6100 / 5);
		expect(height).toBeGreaterThan(4100 / 5);
		for (const id of ["room-workshop", "room-drying", "room-porch"])
			for (const [x, y] of corners(byId(root, id))) {
				expect(x > 0 && x < width!).toBe(true);
				expect(y > 0 && y < height!).toBe(true);
			}
	});

	test("is told truly by the bar: its four parts are as long as its figures say", () => {
		const root = parseXml(drawPlan({ floor: smallFloor, layout: smallLayout, scale: 50 }));
		const bar = byClass(root, "scale-bar");
		expect(bar.text.replace(/\s+/g, " ")).toContain("0 0.5 1 1.5 2 m");
		for (const part of bar.children.filter(({ name }) => name === "rect"))
			expect(Number(part.attributes.width)).toBeCloseTo(500 / 50, 2);
	});
});

describe("names", () => {
	const hostile = `<script>alert("1")</script> & 'two' ]]> \u0000\u0008\u001b[31m\ud800 \ufffe 🛶`;

	test("from documents never become markup", () => {
		const floor: Floor = {
			...smallFloor,
			name: hostile,
			rooms: smallFloor.rooms.map((r) => ({ ...r, name: hostile })),
			keepouts: smallFloor.keepouts.map((k) => ({ ...k, id: hostile, name: hostile })),
			manifolds: smallFloor.manifolds.map((m) => ({ ...m, id: hostile })),
		};
		const layout: Layout = {
			...smallLayout,
			features: smallLayout.features.map((f, i) => ({
				...f,
				id: `${hostile}${i}`,
				properties: { ...f.properties, manifold: hostile },
			})),
			channels: smallLayout.channels.map((c) => ({ ...c, id: hostile })),
			notices: [{ code: hostile, subject: hostile, message: hostile }],
		};
		const root = parseXml(drawPlan({ floor, layout }));
		expect(allElements(root).map(({ name }) => name)).not.toContain("script");
		expect(byClass(root, "notices").text).toContain(`<script>alert("1")</script> & 'two' ]]> [31m 🛶`);
	});

	test("of any kind give well-formed XML", () => {
		fc.assert(
			fc.property(fc.string({ unit: "binary", maxLength: 60 }), (name) => {
				const floor: Floor = { ...smallFloor, name, rooms: smallFloor.rooms.map((r) => ({ ...r, name })) };
				const notices = [{ code: name, subject: name, message: name }];
				expect(parseXml(drawPlan({ floor, layout: { ...empty, notices } })).name).toBe("svg");
			}),
			{ numRuns: 60 },
		);
	});

	test("too long for their room are shortened, and wrapped in the tables", () => {
		const name =
			"The exceedingly long-named room for mending sails, nets and everything else that a boat may need before it sets out in spring";
		const floor: Floor = { ...smallFloor, rooms: smallFloor.rooms.map((r) => ({ ...r, name })) };
		const root = parseXml(drawPlan({ floor, layout: smallLayout }));
		const label = byClass(root, "room-labels").children[0]!;
		const [left, , right] = boxOf(label.children[0]!);
		const wall = corners(byId(root, "room-workshop")).map(([x]) => x);
		expect(label.text).toMatch(/The exceedingly.*…/);
		expect(left).toBeGreaterThan(Math.min(...wall));
		expect(right).toBeLessThan(Math.max(...wall));
		expect(byClass(root, "schedule").text).toContain("The exceedingly");
	});
});

describe("the plan", () => {
	const root = parseXml(drawPlan({ floor: smallFloor, layout: smallLayout }));

	test("names each room with its floor area, holes off", () => {
		const labels = byClass(root, "room-labels").text;
		// 4 x 3 m less a column of 0.3 x 0.3 m
		expect(labels).toContain("Workshop");
		expect(labels).toContain("11.9 m² · 200 mm");
		expect(labels).toContain("6.0 m² · 200 mm");
		expect(labels).toContain("2.0 m² · unheated");
		expect(byClass(root, "keepout-labels").text).toContain("Work bench");
	});

	test("shows every loop, its id at its port and in its field", () => {
		for (const { id, properties } of smallLayout.features) {
			expect(byId(root, `loop-${id}`).name).toBe("g");
			const field = byClass(root, "loop-labels").children.filter((tag) => tag.attributes["data-loop"] === id);
			expect(field.map(({ text }) => text.trim())).toEqual([id]);
			const port = find(root, (e) => e.attributes["data-port"] === String(properties.port));
			expect(port.text.trim().split(/\s+/)).toEqual([String(properties.port), id]);
		}
	});

	test("puts a loop's label on the floor of the room that it heats", () => {
		for (const { id, properties } of smallLayout.features) {
			const tag = byClass(root, "loop-labels").children.find((t) => t.attributes["data-loop"] === id)!;
			const [left, top, right, bottom] = boxOf(tag.children[0]!);
			const walls = corners(byId(root, `room-${properties.rooms[0]}`));
			expect(left).toBeGreaterThan(Math.min(...walls.map(([x]) => x)));
			expect(right).toBeLessThan(Math.max(...walls.map(([x]) => x)));
			expect(top).toBeGreaterThan(Math.min(...walls.map(([, y]) => y)));
			expect(bottom).toBeLessThan(Math.max(...walls.map(([, y]) => y)));
		}
	});

	test("labels a loop in each of the rooms that share it", () => {
		const [drying, workshop] = smallLayout.features;
		const shared = { ...drying!, properties: { ...drying!.properties, rooms: ["drying", "workshop"] } };
		const across = loop(
			"L3",
			[
				[200, 1200],
				[5900, 1200],
				[5900, 1400],
				[200, 1400],
			],
			{ port: 3, rooms: ["workshop", "drying"] },
		);
		const drawn = parseXml(
			drawPlan({ floor: smallFloor, layout: { ...smallLayout, features: [shared, workshop!, across] } }),
		);
		const tags = byClass(drawn, "loop-labels").children.filter((tag) => tag.attributes["data-loop"] === "L3");
		expect(tags).toHaveLength(2);
	});

	test("turns from solid to dashed at half of the pipe's length", () => {
		for (const { id, geometry } of smallLayout.features) {
			const [flow, back] = byId(root, `loop-${id}`).children.filter(
				({ name, attributes }) => name === "path" && attributes.class !== "arrow",
			);
			expect(flow!.attributes["stroke-dasharray"]).toBeUndefined();
			expect(back!.attributes["stroke-dasharray"]).toBeDefined();
			const long = (points: readonly (readonly [number, number])[]): number =>
				points.reduce(
					(sum, p, i) => (i === 0 ? 0 : sum + Math.hypot(p[0] - points[i - 1]![0], p[1] - points[i - 1]![1])),
					0,
				);
			const whole = long(geometry.coordinates) / 25;
			// 0.5 %: rounding to 0.01 mm on some two hundred short chords
			expect(Math.abs(long(corners(flow!)) - whole / 2)).toBeLessThan(0.005 * whole);
			expect(Math.abs(long(corners(back!)) - whole / 2)).toBeLessThan(0.005 * whole);
			expect(corners(flow!).at(-1)).toEqual(corners(back!)[0]);
		}
	});

	test("points arrowheads along the pipe: towards its end, solid on the flow half, open on the return", () => {
		const straight = loop("L1", [
			[500, 200],
			[500, 2200],
			[700, 2200],
			[700, 200],
		]);
		const drawn = parseXml(drawPlan({ floor: smallFloor, layout: { ...empty, features: [straight] } }));
		const arrows = allElements(drawn).filter(({ attributes }) => attributes.class === "arrow");
		expect(arrows).toHaveLength(2);
		const [up, down] = arrows.map(corners);
		expect(up![0]![1]).toBeLessThan(up![1]![1]);
		expect(down![0]![1]).toBeGreaterThan(down![1]![1]);
		expect(arrows.map(({ attributes }) => attributes.fill)).toEqual([tokens.light.loops[0], tokens.light.floor]);
	});

	test("counts the pipes of each channel", () => {
		expect(byClass(root, "channel-labels").text.trim()).toBe("×2");
	});

	test("lets no label overlap another, even where the loops lie closer than their labels are wide", () => {
		const layout = { ...crowded(14), channels: smallLayout.channels };
		const drawn = parseXml(drawPlan({ floor: smallFloor, layout, scale: 100 }));
		const labels = ["room-labels", "keepout-labels", "loop-labels", "channel-labels"].flatMap((name) =>
			byClass(drawn, name).children.map((tag) => boxOf(tag.children[0]!)),
		);
		const strip = byId(drawn, "manifold-m1").children.filter(({ name }) => name === "rect");
		const boxes = [...labels, ...strip.map(boxOf)];
		expect(boxes.length).toBeGreaterThan(18);
		for (const [i, a] of boxes.entries())
			for (const b of boxes.slice(i + 1)) expect(a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3]).toBe(false);
	});
});

/**
 * A hall with a kitchen behind the wall that the manifold hangs in, and a bedroom opposite. Two loops of the hall; the
 * tails of a third cross it from the manifold to the bedroom's doorway in a bundle along x = 5900.
 */
const innerFloor: Floor = {
	...smallFloor,
	rooms: [
		room("hall", "Hall", region(rectangle(0, 4000, 8000, 6000))),
		room("kitchen", "Kitchen", region(rectangle(0, 0, 8000, 3900))),
		room("bedroom", "Bedroom", region(rectangle(0, 6100, 8000, 9000))),
	],
	doorways: [{ id: "door", region: region(rectangle(5500, 5999, 6300, 6101)), between: ["hall", "bedroom"] }],
	keepouts: [],
	manifolds: [{ id: "m1", position: [4000, 4000], facing: 90, portPitch: 50, ports: undefined }],
};

const hairpin = (id: string, port: number, rooms: readonly string[], x: number, far: number) =>
	loop(
		id,
		[
			[x, 4000],
			[x, far],
			[x + 25, far],
			[x + 25, 4000],
		],
		{ port, rooms },
	);

const innerLayout: Layout = {
	...empty,
	features: [
		hairpin("L1", 1, ["hall"], 4050, 5800),
		hairpin("L2", 2, ["hall"], 4000, 5800),
		hairpin("L3", 3, ["bedroom"], 3950, 8500),
	],
	channels: [
		{
			id: "c1",
			room: "hall",
			doorway: "door",
			pipes: 2,
			width: 50,
			path: [
				[5900, 4000],
				[5900, 6050],
			],
		},
	],
};

describe("a name", () => {
	test("is written smaller rather than cut short", () => {
		const rooms = [
			room("hall", "Hall", region(rectangle(0, 0, 20000, 3000))),
			room("desk", "Drawing room 1", region(rectangle(0, 3100, 2300, 6000))),
		];
		const floor: Floor = { ...smallFloor, rooms, doorways: [], keepouts: [], manifolds: [] };
		const root = parseXml(drawPlan({ floor, layout: empty, scale: 100 }));
		expect(byClass(root, "room-labels").text).toContain("Drawing room 1");
	});

	test("is cut to what a room that stands at an angle has room for, though its box is much wider", () => {
		const turn = (35 * Math.PI) / 180;
		const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
		const outline = rectangle(0, 0, 5000, 1500).map(([x, y]) => [x * cos - y * sin, x * sin + y * cos] as const);
		const rooms = [room("loft", "Loft for sails, nets and all that a boat may need in spring", region(outline))];
		const floor: Floor = { ...smallFloor, rooms, doorways: [], keepouts: [], manifolds: [] };
		const root = parseXml(drawPlan({ floor, layout: empty, scale: 50 }));
		const [label] = byClass(root, "room-labels").children;
		expect(label?.text).toMatch(/Loft.*….*7\.5 m²/s);
		// an outline that runs anticlockwise has its inside at its left: negative here, where y goes down
		const walls = corners(byId(root, "room-loft"));
		const [left, top, right, bottom] = boxOf(label!.children[0]!);
		for (const [x, y] of rectangle(left, bottom, right, top))
			for (const [i, [ax, ay]] of walls.entries()) {
				const [bx, by] = walls[(i + 1) % walls.length]!;
				expect((bx - ax) * (y - ay) - (by - ay) * (x - ax)).toBeLessThan(0);
			}
	});
});

describe("a whole floor", () => {
	const drawn = parseXml(drawPlan({ floor: innerFloor, layout: innerLayout }));
	const wallsOf = (id: string): [left: number, top: number, right: number, bottom: number] => {
		const points = corners(byId(drawn, `room-${id}`));
		const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
		return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
	};
	const overlaps = (a: readonly number[], b: readonly number[]): boolean =>
		a[0]! < b[2]! && b[0]! < a[2]! && a[1]! < b[3]! && b[1]! < a[3]!;
	const plates = byId(drawn, "manifold-m1").children.filter(({ name }) => name === "rect");

	test("has the ports of a manifold in an inner wall listed beside the plan, and only its id at the manifold", () => {
		expect(plates.map(({ attributes }) => attributes.class)).toEqual([undefined, "tag"]);
		for (const id of ["hall", "kitchen", "bedroom"]) expect(overlaps(boxOf(plates[0]!), wallsOf(id))).toBe(false);
		expect(byId(drawn, "manifold-m1").text.replace(/\s+/g, " ")).toContain("Manifold m1");
		expect(allElements(drawn).filter(({ attributes }) => attributes.class === "leader")).toEqual([]);
		const [left, top, right, bottom] = boxOf(plates[1]!);
		const [, hallTop, , hallBottom] = wallsOf("hall");
		// in the wall of 100 mm between hall and kitchen, but for the letters' height
		expect((top + bottom) / 2).toBeGreaterThan(hallBottom);
		expect((top + bottom) / 2).toBeLessThan(wallsOf("kitchen")[1]);
		expect(right - left).toBeLessThan(8);
		expect(hallTop).toBeLessThan(hallBottom);
	});

	test("stays on its sheet with that list", () => {
		const [, , width, height] = numbers(drawn.attributes.viewBox);
		const [left, top, right, bottom] = boxOf(plates[0]!);
		expect(Math.min(left, top)).toBeGreaterThan(0);
		expect(right).toBeLessThan(width!);
		expect(bottom).toBeLessThan(height!);
	});

	test("keeps leaders to the ports of a manifold in an outer wall", () => {
		const sample = parseXml(drawPlan({ floor: smallFloor, layout: smallLayout }));
		expect(allElements(sample).filter(({ attributes }) => attributes.class === "leader")).toHaveLength(2);
	});

	test("hangs a manifold along its wall, as its ports do, where its facing is off square", () => {
		const bodyAt = (facing: number) => {
			const manifolds = smallFloor.manifolds.map((manifold) => ({ ...manifold, facing }));
			return corners(
				byId(parseXml(drawPlan({ floor: { ...smallFloor, manifolds }, layout: smallLayout })), "manifold-m1")
					.children[0]!,
			);
		};
		expect(bodyAt(60)).toEqual(bodyAt(90));
		expect(bodyAt(125)).toEqual(bodyAt(90));
	});

	test("counts a channel's pipes on the wall beside its doorway", () => {
		const [left, top, right, bottom] = boxOf(byClass(drawn, "channel-labels").children[0]!.children[0]!);
		const [doorLeft, doorRight] = [5500, 6300].map((x) => wallsOf("hall")[0] + x / 50);
		expect(right < doorLeft! + 0.01 || left > doorRight! - 0.01).toBe(true);
		// the middle of the wall lies 6050 mm up, 50 mm above the hall
		expect((top + bottom) / 2).toBeCloseTo(wallsOf("hall")[1] - 50 / 50, 1);
	});

	test("tints the floor that a channel takes, half of a pitch on either side of its pipes", () => {
		expect(Number(byId(drawn, "channel-c1").attributes["stroke-width"])).toBeCloseTo((50 + 50) / 50, 2);
	});

	test("keeps a room's name off the tails of other rooms", () => {
		// without them the name would stand in the middle of the hall, where the tails are
		const [left, , right] = boxOf(byClass(drawn, "room-labels").children[0]!.children[0]!);
		const tails = corners(byId(drawn, "loop-L3").children[0]!).map(([x]) => x);
		expect(tails.length).toBeGreaterThan(1);
		for (const x of tails) expect(x > left && x < right).toBe(false);
	});

	test("lists its channels beside the plan", () => {
		expect(byClass(drawn, "channel-list").text.replace(/\s+/g, " ")).toContain("Hall Bedroom door 2 50");
		const without = parseXml(drawPlan({ floor: innerFloor, layout: { ...innerLayout, channels: [] } }));
		expect(allElements(without).filter(({ attributes }) => attributes.class === "channel-list")).toEqual([]);
	});
});

describe("the tables", () => {
	test("stand clear of the plan and of each other, whatever their length", () => {
		const message = "A long message that goes on about the floor, and on, until it needs several lines. ".repeat(3);
		const notices = Array.from({ length: 25 }, (_, i) => ({ code: `NOTICE_${i}`, subject: "workshop", message }));
		const root = parseXml(
			drawPlan({ floor: smallFloor, layout: { ...crowded(24), notices, channels: smallLayout.channels } }),
		);
		const extents = ["schedule", "channel-list", "notices", "legend", "title-block"].map((name) => {
			const texts = allElements(byClass(root, name)).filter((e) => e.name === "text");
			const ys = texts.map(({ attributes }) => Number(attributes.y));
			const xs = texts.map(({ attributes }) => Number(attributes.x));
			return { top: Math.min(...ys) - 2, bottom: Math.max(...ys), left: Math.min(...xs) };
		});
		for (const [i, block] of extents.entries()) {
			if (i > 0) expect(block.top).toBeGreaterThan(extents[i - 1]!.bottom);
			const right = Math.max(...corners(byId(root, "room-drying")).map(([x]) => x));
			expect(block.left).toBeGreaterThan(right);
		}
		expect(extents.at(-1)!.bottom).toBeLessThan(numbers(root.attributes.viewBox)[3]!);
		expect(numbers(root.attributes.viewBox)[3]).toBeGreaterThan(297);
	});

	test("say what a floor layer must know", () => {
		const root = parseXml(drawPlan({ floor: smallFloor, layout: smallLayout, title: "Sail loft, first floor" }));
		const block = byClass(root, "title-block").text.replace(/\s+/g, " ");
		for (const text of [
			"Sail loft, first floor",
			"1:25 on A3",
			"16 × 2 mm",
			"200 mm",
			"80 m",
			"3, 2 heated",
			"2 on 1 manifold",
		])
			expect(block).toContain(text);
		expect(block).toContain(
			"A plan is no substitute for the pipe maker's instructions, local codes and licensed people. " +
				"Pressure-test before covering. Keep the floor's surface no warmer than local codes and the maker of its covering allow. " +
				"Leave thermostats, actuators and pumps to a licensed electrician. Do not drill into a heated floor.",
		);
		const [frame, ...inside] = allElements(byClass(root, "title-block")).filter(
			({ name }) => name === "rect" || name === "text",
		);
		const [, top, , bottom] = boxOf(frame!);
		for (const { attributes } of inside) {
			expect(Number(attributes.y)).toBeGreaterThan(top + 2);
			expect(Number(attributes.y)).toBeLessThan(bottom - 2);
		}
		expect(byClass(root, "notices").text).toContain("ROOM_COLD");
		expect(byClass(root, "schedule").text).toMatch(/L1\s.*m1\/1/s);
	});
});

describe("colours", () => {
	const channels = (hex: string): number[] => [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255);
	const linear = (c: number): number => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
	// WCAG 2.1, relative luminance and contrast ratio
	const luminance = (hex: string): number => {
		const [r, g, b] = channels(hex).map(linear);
		return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
	};
	const contrast = (a: string, b: string): number => {
		const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
		return (high! + 0.05) / (low! + 0.05);
	};

	test.each(["light", "dark"] as const)("of pipes and text stand out from the %s floor", (theme) => {
		const set = tokens[theme];
		// WCAG 2.1: 3 for graphics, 4.5 for text
		for (const colour of set.loops) expect(contrast(colour, set.floor)).toBeGreaterThan(3);
		for (const text of [set.ink, set.muted, set.caution]) expect(contrast(text, set.paper)).toBeGreaterThan(4.5);
	});

	test.each(["light", "dark"] as const)("of neighbouring loops differ in lightness too (%s)", (theme) => {
		// lightness is what remains of a colour in grey print and under every kind of colour blindness;
		// 1.3 is a choice, no source
		const { loops } = tokens[theme];
		for (const [i, colour] of loops.entries())
			expect(contrast(colour, loops[(i + 1) % loops.length]!)).toBeGreaterThan(1.3);
	});
});
