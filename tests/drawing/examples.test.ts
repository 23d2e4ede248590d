import { readdirSync, readFileSync } from "node:fs";
import { drawPlan } from "@oxturn/drawing";
import { type Floor, type Layout, readFloorText } from "@oxturn/floor";
import type { Point, Region } from "@oxturn/geometry";
import { describe, expect, test } from "vitest";
import { parseXml } from "./parseXml.ts";

const folder = new URL("../../docs/examples/", import.meta.url);
const read = (file: string): Floor => {
	const { floor, notices } = readFloorText(readFileSync(new URL(file, folder), "utf8"));
	expect(notices).toEqual([]);
	return floor;
};
const roomFiles = readdirSync(new URL("rooms/", folder)).sort();

function shoelace(ring: readonly Point[]): number {
	return ring.reduce((sum, [x, y], i) => {
		const [nx, ny] = ring[(i + 1) % ring.length]!;
		return sum + (x * ny - nx * y) / 2;
	}, 0);
}

const edges = ({ outer }: Region): (readonly [Point, Point])[] =>
	outer.map((p, i) => [p, outer[(i + 1) % outer.length]!] as const);

/** Distance from a point to an axis-parallel or slanted edge, and how far along the edge its foot is, mm. */
function footOn([px, py]: Point, [[ax, ay], [bx, by]]: readonly [Point, Point]) {
	const length = Math.hypot(bx - ax, by - ay);
	const along = ((px - ax) * (bx - ax) + (py - ay) * (by - ay)) / length;
	const clamped = Math.min(length, Math.max(0, along));
	const distance = Math.hypot(px - ax - ((bx - ax) * clamped) / length, py - ay - ((by - ay) * clamped) / length);
	return { length, along, distance };
}

describe("dwelling.json", () => {
	const floor = read("dwelling.json");

	test("is a home of nine rooms and some 120 m2, one of them unheated, with one manifold", () => {
		expect(floor.rooms).toHaveLength(9);
		expect(floor.rooms.filter((room) => !room.heated).map((room) => room.id)).toEqual(["rope-store"]);
		expect(floor.manifolds).toHaveLength(1);
		// by hand, m2: 14.688 + 26.24 + 17.974 + 7.68 + 5.76 + 8.8404 + 10.176 + 9.54 + 19.032
		const area = floor.rooms.reduce((sum, { region }) => sum + shoelace(region.outer), 0) / 1e6;
		expect(area).toBeCloseTo(119.9304, 6);
	});

	test("joins every room to another through a doorway", () => {
		const joined = new Set(floor.doorways.flatMap(({ between }) => between));
		expect([...joined].sort()).toEqual(floor.rooms.map((room) => room.id).sort());
	});
});

describe.each(roomFiles)("rooms/%s", (file) => {
	const dwelling = read("dwelling.json");
	const floor = read(`rooms/${file}`);
	const room = floor.rooms[0]!;
	const original = dwelling.rooms.find(({ id }) => id === file.replace(".json", ""));

	test("is that room of the dwelling: the same outline, system and fixed units", () => {
		expect(floor.rooms).toEqual([original]);
		expect(floor.system).toEqual(dwelling.system);
		const inRoom = dwelling.keepouts.filter(({ region }) =>
			region.outer.every(([x, y]) => {
				const xs = room.region.outer.map((p) => p[0]);
				const ys = room.region.outer.map((p) => p[1]);
				return x >= Math.min(...xs) && x <= Math.max(...xs) && y >= Math.min(...ys) && y <= Math.max(...ys);
			}),
		);
		expect(floor.keepouts).toEqual(inRoom);
		expect(floor.doorways).toEqual([]);
	});

	test("has its manifold on a straight wall, facing into the room, 300 mm clear of corners and fixed units", () => {
		const { position, facing } = floor.manifolds[0]!;
		const wall = edges(room.region).find((edge) => footOn(position, edge).distance === 0)!;
		const { along, length } = footOn(position, wall);
		expect(Math.min(along, length - along)).toBeGreaterThan(300);
		// outer rings run anticlockwise: the room lies at the left of each wall
		const [[ax, ay], [bx, by]] = wall;
		const inwards = (Math.atan2(bx - ax, -(by - ay)) * 180) / Math.PI;
		expect((facing - inwards + 720) % 360).toBeCloseTo(0, 9);
		for (const keepout of floor.keepouts)
			for (const edge of edges(keepout.region)) expect(footOn(position, edge).distance).toBeGreaterThan(300);
	});

	test("draws to scale on one A3 sheet", () => {
		const layout: Layout = {
			type: "FeatureCollection",
			units: "mm",
			name: floor.name,
			features: [],
			channels: [],
			notices: [],
		};
		const root = parseXml(drawPlan({ floor, layout }));
		expect(root.attributes).toMatchObject({ width: "420mm", height: "297mm" });
		expect(root.text).toContain(room.name);
	});
});

test("every heated room of the dwelling has a file of its own", () => {
	const heated = read("dwelling.json").rooms.filter((room) => room.heated);
	expect(roomFiles).toEqual(heated.map((room) => `${room.id}.json`).sort());
});
