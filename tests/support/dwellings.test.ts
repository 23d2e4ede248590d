import { floorToGeoJson, readFloor } from "@oxturn/floor";
import { regionArea } from "@oxturn/geometry";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { anyDwelling, dwelling } from "./dwellings.ts";

describe("an invented dwelling", () => {
	it("is a floor document that reads without a remark", () => {
		fc.assert(
			fc.property(anyDwelling(), (floor) => {
				const read = readFloor(JSON.parse(JSON.stringify(floorToGeoJson(floor))));
				expect(read.notices).toEqual([]);
				expect(read.floor.rooms.map(({ id }) => id)).toEqual(floor.rooms.map(({ id }) => id));
				expect(read.floor.doorways.map(({ between }) => between)).toEqual(floor.doorways.map(({ between }) => between));
			}),
			{ seed: 300, numRuns: 100 },
		);
	});

	it("has three heated rooms or more on 25 to 220 m2, all to be reached from its hall", () => {
		fc.assert(
			fc.property(anyDwelling(), ({ rooms, doorways }) => {
				expect(rooms.filter(({ heated }) => heated).length).toBeGreaterThanOrEqual(3);
				const area = rooms.reduce((sum, { region }) => sum + regionArea(region), 0) / 1e6;
				expect(area).toBeGreaterThan(25);
				expect(area).toBeLessThan(220);
				const reached = new Set(["hall"]);
				for (const _ of rooms)
					for (const { between } of doorways)
						if (between.some((id) => reached.has(id))) for (const id of between) reached.add(id);
				expect(reached.size).toBe(rooms.length);
			}),
			{ seed: 301, numRuns: 100 },
		);
	});

	it("is the same for the same seed, and another for another", () => {
		expect(dwelling(7)).toEqual(dwelling(7));
		expect(dwelling(8)).not.toEqual(dwelling(7));
	});

	it("comes in every kind that routing has to cope with", () => {
		const floors = Array.from({ length: 80 }, (_, seed) => dwelling(seed));
		const share = (is: (floor: (typeof floors)[number]) => boolean): number => floors.filter(is).length / floors.length;
		expect(share(({ manifolds }) => manifolds.length === 2)).toBeGreaterThan(0.05);
		expect(share(({ rooms }) => rooms.some(({ id }) => id === "cupboard"))).toBeGreaterThan(0.05);
		expect(share(({ keepouts }) => keepouts.length > 0)).toBeGreaterThan(0.5);
		expect(share(({ rooms }) => rooms.some(({ heated }) => !heated))).toBeGreaterThan(0.2);
		expect(share(({ doorways, rooms }) => doorways.length >= rooms.length)).toBeGreaterThan(0.1);
		expect(
			share(({ doorways, rooms }) =>
				rooms.some(({ id }) => !doorways.some(({ between }) => between.includes(id) && between.includes("hall"))),
			),
		).toBeGreaterThan(0.3);
	});
});
