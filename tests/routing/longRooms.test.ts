import type { Point } from "@oxturn/geometry";
import { routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { faultsOf } from "../support/checkLayout.ts";
import { type SingleRoom, singleRoom } from "../support/floors.ts";
import { quarterTurns } from "../support/quarterTurns.ts";
import { rectangle } from "../support/shapes.ts";

const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);

describe("a room that one loop cannot serve", () => {
	// Least number of loops: area / spacing / maxLoopLength, rounded up (common practice, no source).
	it.each<[string, SingleRoom, number]>([
		["12 x 4 m at 200 mm: 240 m", { outer: rectangle(0, 0, 12_000, 4000), along: 0.3 }, 3],
		["9 x 5 m at 150 mm: 300 m", { outer: rectangle(0, 0, 9000, 5000), spacing: 150 }, 3],
		["15 x 3 m at 200 mm from its short wall: 225 m", { outer: rectangle(0, 0, 15_000, 3000), wall: 1 }, 3],
	])("is split into the fewest zones, even in length: %s", (_, made, loops) => {
		const floor = singleRoom(made);
		const layout = routeFloor(floor, { pattern: "serpentine" });
		const lengths = layout.features.map(({ properties }) => properties.length);
		expect(faultsOf(floor, layout)).toEqual([]);
		expect(lengths).toHaveLength(loops);
		expect(Math.max(...lengths)).toBeLessThanOrEqual(floor.system.maxLoopLength);
		expect(Math.max(...lengths) / Math.min(...lengths)).toBeLessThan(1.1);
	});

	it("has a loop in every zone although its manifold hangs beside a corner", () => {
		const outer: Point[] = [
			[0, 0],
			[12_900, 0],
			[12_000, 7700],
			[0, 7700],
		];
		const floor = singleRoom({ outer, along: 500 / 12_900, spacing: 160, maxLoopLength: 90 });
		const layout = routeFloor(floor);
		// 95.9 m2 / 0.16 m = 599 m of pipe: seven loops of 90 m.
		expect(faultsOf(floor, layout)).toEqual([]);
		expect(layout.features).toHaveLength(7);
		expect(layout.notices).toEqual([]);
	}, 60_000);

	it("has a loop in every zone although its manifold hangs in the tip of an acute corner", () => {
		// The tip opens at 39 degrees, and the next wall juts out: there is no room for eight tails one spacing apart.
		const outer: Point[] = [
			[0, 0],
			[7500, 0],
			[7500, 5200],
			[0, 5200],
			[1000, 3600],
			[100, 2400],
			[800, 640],
		];
		const floor = singleRoom({ outer, along: 380 / 7500, spacing: 120, maxLoopLength: 80 });
		const layout = routeFloor(floor);
		// 33.9 m2 / 0.12 m = 282 m of pipe: four loops of 80 m.
		expect(faultsOf(floor, layout)).toEqual([]);
		expect(layout.features).toHaveLength(4);
		expect(layout.notices).toEqual([]);
	}, 120_000);

	it("is cut into zones that hold long runs, though their tails are longer than those to narrow strips", () => {
		const floor = singleRoom({ outer: rectangle(0, 0, 7000, 10_000), along: 6600 / 7000, maxLoopLength: 80 });
		const { features } = routeFloor(floor);
		const turns = features.map(({ geometry }) => quarterTurns(geometry.coordinates));
		const metres = features.map(({ properties }) => properties.length);
		// Strips of 1.4 m hold runs of 1.2 m at most: a half turn on every one makes 15 quarter turns on 10 m of pipe.
		expect((10 * sum(turns)) / sum(metres)).toBeLessThan(5);
		expect(Math.max(...turns)).toBeLessThan(50);
	});

	it("is a deep bay whose loops run along it as far as a whole number of runs allows", () => {
		// Nine bands of 1.1 m hold six runs of 20 m, 120 m and more with their tails: blocks leave them 18 m.
		const floor = singleRoom({ outer: rectangle(0, 0, 10_000, 20_000), spacing: 200, maxLoopLength: 120 });
		const layout = routeFloor(floor);
		const turns = layout.features.map(({ geometry }) => quarterTurns(geometry.coordinates));
		expect(faultsOf(floor, layout)).toEqual([]);
		expect(layout.features).toHaveLength(9);
		// Runs of 1 m across would make two hundred quarter turns a loop; one zone at the far end may have them.
		expect(turns.toSorted((a, b) => a - b)[7]).toBeLessThan(40);
	});

	it("takes one more loop when all is in vain with as many as area and spacing ask for", () => {
		const outer = rectangle(0, 0, 24_000, 4000);
		const floor = singleRoom({ outer, wall: 1, spacing: 200, maxLoopLength: 80 });
		const layout = routeFloor(floor);
		// 96 m2 / 0.2 m = 480 m of pipe: six loops of 80 m leave nothing for tails from the short wall.
		expect(faultsOf(floor, layout)).toEqual([]);
		expect(layout.features).toHaveLength(7);
		expect(layout.notices.map(({ code }) => code)).toEqual(["SPACING_WIDENED"]);
	}, 60_000);

	it("takes more loops as the limit falls", () => {
		const loopsAt = (maxLoopLength: number): number =>
			routeFloor(singleRoom({ outer: rectangle(0, 0, 6000, 4000), maxLoopLength })).features.length;
		expect([130, 80, 50].map(loopsAt)).toEqual([1, 2, 3]);
	});

	it("numbers its ports from the left as seen from the room, flow and return half a pitch apart", () => {
		const floor = singleRoom({ outer: rectangle(0, 0, 9000, 5000), spacing: 150 });
		const { features } = routeFloor(floor, { pattern: "serpentine" });
		// The manifold hangs on the lower wall: who looks at it from the room has +x on the left.
		const flow = features
			.toSorted((a, b) => a.properties.port - b.properties.port)
			.map(({ geometry }) => geometry.coordinates[0]![0]);
		expect(flow).toEqual(flow.toSorted((a, b) => b - a));
		for (const { geometry } of features)
			expect(Math.abs(geometry.coordinates[0]![0] - geometry.coordinates.at(-1)![0])).toBeCloseTo(25, 1);
	});
});
