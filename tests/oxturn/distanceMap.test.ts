import { distanceMap, type Point, type RoomDistances, readFloor, readLayout, routeFloor } from "oxturn";
import { describe, expect, it } from "vitest";
import { floorOf, keepout, manifold, room, sharpLayout, study, studyAndCell } from "./documents.ts";

const layout = readLayout(sharpLayout);
const PIPE = layout.features.flatMap(({ geometry }) => geometry.coordinates);

const centreOf = ({ origin, cell, columns }: RoomDistances, index: number): Point => [
	origin[0] + ((index % columns) + 0.5) * cell,
	origin[1] + (Math.floor(index / columns) + 0.5) * cell,
];

/** By projection on the pipe's upright runs and its short top: the pipe is a hairpin along x = 1500 and x = 1525. */
const byHand = ([x, y]: Point): number =>
	Math.hypot(Math.max(1500 - x, 0, x - 1525), Math.max(0, y - 2000)) || Math.min(x - 1500, 1525 - x, 2000 - y);

describe("distanceMap", () => {
	const [map] = distanceMap(readFloor(study).floor, layout);

	it("holds the distance from every cell's centre to the pipe", () => {
		expect(map).toMatchObject({ room: "study", cell: 50, columns: 80, rows: 60, origin: [0, 0], spacing: 200 });
		expect(map!.distances).toHaveLength(4800);
		for (const [index, distance] of map!.distances.entries())
			expect([index, distance]).toEqual([index, expect.closeTo(byHand(centreOf(map!, index)), 6)]);
	});

	it("names the place that is farthest from any pipe", () => {
		// the upper right corner's cell: 2450 mm beside the pipe and 975 mm above it
		expect(map!.farthest).toEqual({ at: [3975, 2975], distance: expect.closeTo(Math.hypot(2450, 975), 6) });
	});

	it("looks for that place on free floor only", () => {
		const { floor } = readFloor(
			floorOf(room("study", 0, 4000, 3000), manifold("m1", 1500), keepout("chest", 3600, 2600)),
		);
		const { at } = distanceMap(floor, layout)[0]!.farthest!;
		expect(at[0] > 3600 && at[1] > 2600).toBe(false);
	});

	it("does not let a pipe warm the room behind a wall", () => {
		const { floor } = readFloor(studyAndCell);
		const [, cell] = distanceMap(floor, routeFloor(studyAndCell));
		expect(cell).toMatchObject({ room: "cell", distances: [], farthest: undefined });
	});

	it("cuts a pipe where it leaves the room", () => {
		const beyond = { ...layout, features: layout.features.map((loop) => ({ ...loop, geometry: leaving })) };
		const { floor } = readFloor(study);
		const [cut] = distanceMap(floor, beyond);
		// the pipe goes out through the right wall at y = 1000; nothing beyond it counts
		const upper = cut!.distances.at(-1);
		expect(upper).toBeCloseTo(2975 - 1000, 6);
	});

	it.each([0, -20, Number.NaN, Infinity])("refuses cells of %s mm", (cell) => {
		expect(() => distanceMap(readFloor(study).floor, layout, { cell })).toThrow(RangeError);
	});
});

const leaving = {
	type: "LineString" as const,
	coordinates: [PIPE[0]!, [1500, 1000], [4500, 1000], [4500, 2975], [4100, 2975]] as Point[],
};
