import { readFileSync } from "node:fs";
import { readFloorText } from "@oxturn/floor";
import { nearestOnRing, regionContains } from "@oxturn/geometry";
import { placeManifold, RouteError, routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";

const { floor } = readFloorText(readFileSync("docs/examples/dwelling.json", "utf8"));

describe("placeManifold", () => {
	it("proposes places on walls, facing into their room", () => {
		const places = placeManifold(floor);
		expect(places.length).toBeGreaterThan(1);
		for (const { position, facing, room } of places) {
			const { region } = floor.rooms.find(({ id }) => id === room)!;
			const angle = (facing * Math.PI) / 180;
			expect(nearestOnRing(region.outer, position).distance).toBeLessThan(1);
			expect(regionContains(region, [position[0] + 200 * Math.cos(angle), position[1] + 200 * Math.sin(angle)])).toBe(
				true,
			);
		}
	});

	it("puts the shortest tails first, loops and warm halls being equal", () => {
		const places = placeManifold(floor).filter(({ overheated }) => overheated.length === 0);
		const [first] = places;
		const rivals = places.filter(({ loops }) => loops === first!.loops).map(({ tails }) => tails);
		expect(rivals).toEqual(rivals.toSorted((a, b) => a - b));
	});

	it("keeps to the rooms that are allowed", () => {
		const room = floor.rooms[0]!.id;
		expect(new Set(placeManifold(floor, { rooms: [room] }).map((place) => place.room))).toEqual(new Set([room]));
	});

	it("counts a room's own loops and no tails where the room is the whole floor", () => {
		const alone = { ...floor, rooms: [floor.rooms[0]!], doorways: [], keepouts: [] };
		for (const { tails, loops } of placeManifold(alone, { count: 2 })) {
			expect(tails).toBe(0);
			expect(loops).toBeGreaterThan(0);
		}
	});

	it("proposes a place from which the floor can be routed", () => {
		const [best] = placeManifold(floor, { count: 1 });
		const manifold = { ...floor.manifolds[0]!, position: best!.position, facing: best!.facing, ports: undefined };
		const layout = routeFloor({ ...floor, manifolds: [manifold] });
		const served = new Set(layout.features.flatMap(({ properties }) => properties.rooms));
		const told = new Set(layout.notices.map(({ subject }) => subject));
		for (const { id, heated } of floor.rooms) if (heated) expect(served.has(id) || told.has(id)).toBe(true);
		expect(served.size).toBeGreaterThan(floor.rooms.length / 2);
	});

	it("names an unknown room and a count that is none", () => {
		expect(() => placeManifold(floor, { rooms: ["attic"] })).toThrow(/attic/);
		expect(() => placeManifold(floor, { count: 0 })).toThrow(RouteError);
	});
});
