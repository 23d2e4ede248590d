import type { LoopFeature, Point } from "oxturn";
import { describe, expect, test } from "vitest";
import { lengthOfLoop, nearestStation, placeAt } from "../../playground/src/follow/alongPipe.ts";

const loopOf = (id: string, coordinates: readonly Point[]): LoopFeature => ({
	type: "Feature",
	id,
	geometry: { type: "LineString", coordinates },
	properties: { kind: "loop", manifold: "m1", port: 1, rooms: [], pattern: "spiral", spacing: 200, length: 0 },
});

/** Out 3 m, across 1 m, back 3 m. */
const hairpin = loopOf("L1", [
	[0, 0],
	[0, 3000],
	[1000, 3000],
	[1000, 0],
]);
const other = loopOf("L2", [
	[5000, 0],
	[5000, 2000],
]);

describe("the place along a pipe", () => {
	test.each<[number, Point]>([
		[0, [0, 0]],
		[1500, [0, 1500]],
		[3000, [0, 3000]],
		[3250, [250, 3000]],
		[6999, [1000, 1]],
		[7000, [1000, 0]],
	])("%i mm from the flow port is found by walking", (station, at) => {
		expect(placeAt(hairpin, station)).toEqual(at);
	});

	test("ends at the ports", () => {
		expect(lengthOfLoop(hairpin)).toBe(7000);
		expect(placeAt(hairpin, -5)).toEqual([0, 0]);
		expect(placeAt(hairpin, 9000)).toEqual([1000, 0]);
	});
});

describe("the pipe under a pointer", () => {
	test.each<[Point, string, number]>([
		[[40, 1200], "L1", 1200],
		[[960, 2000], "L1", 5000],
		[[500, 3080], "L1", 3500],
		[[5050, 700], "L2", 700],
	])("at %j is the nearest, with its running metres", (at, loop, station) => {
		expect(nearestStation([hairpin, other], at, 100)).toEqual({ loop, station });
	});

	test("is none out of reach", () => {
		expect(nearestStation([hairpin, other], [500, 1500], 100)).toBeUndefined();
		expect(nearestStation([], [0, 0], 100)).toBeUndefined();
	});

	test("is found again where any place along it lies", () => {
		for (let station = 0; station <= 7000; station += 350)
			expect(nearestStation([other, hairpin], placeAt(hairpin, station), 10)).toEqual({ loop: "L1", station });
	});
});
