import { countBends } from "@oxturn/routing";
import { auditLayout, compareRoutes, type Layout, type Point, readFloor } from "oxturn";
import { describe, expect, it } from "vitest";
import { sharpLayout, study, studyAndCell, throughDoorway, twoStudies } from "./documents.ts";

/** A layout of one pipe along `coordinates`. */
const pipeAlong = (coordinates: readonly Point[]): Layout => {
	const [loop] = sharpLayout.features;
	const features = [{ ...loop, geometry: { type: "LineString", coordinates } }];
	return { ...sharpLayout, features, channels: [], notices: [] } as unknown as Layout;
};

/** Points on a circle of 80 mm round `x`, `y`, from one angle to another in degrees. */
const arc = (x: number, y: number, from: number, to: number, steps: number): Point[] =>
	Array.from({ length: steps + 1 }, (_, i) => {
		const angle = ((from + ((to - from) * i) / steps) * Math.PI) / 180;
		return [x + 80 * Math.cos(angle), y + 80 * Math.sin(angle)];
	});

describe("countBends", () => {
	it.each<[string, number, Point[]]>([
		[
			"nothing in a straight pipe",
			0,
			[
				[0, 0],
				[500, 0],
				[1000, 0],
			],
		],
		[
			"one for a corner",
			1,
			[
				[0, 0],
				[1000, 0],
				[1000, 1000],
			],
		],
		["one for a quarter turn drawn as an arc", 1, [[-500, -80], ...arc(0, 0, -90, 0, 16), [80, 500]]],
		["two for a half turn", 2, [[-500, -80], ...arc(0, 0, -90, 90, 31), [-500, 80]]],
		[
			"two for two corners of opposite sense",
			2,
			[
				[0, 0],
				[500, 0],
				[500, 500],
				[1000, 500],
			],
		],
		[
			"one for a jog of two eighth turns",
			1,
			[
				[0, 0],
				[500, 0],
				[700, 200],
				[1200, 200],
			],
		],
	])("counts %s", (_, bends, path) => {
		expect(countBends(pipeAlong(path))).toBe(bends);
	});
});

describe("compareRoutes", () => {
	const { floor } = readFloor(study);
	const compared = compareRoutes(study, "study");

	it.each(["serpentine", "spiral"] as const)("gives the figures of its own %s layout", (pattern) => {
		const figures = compared[pattern];
		const { coverage, findings } = auditLayout(floor, figures.layout);
		const lengths = figures.layout.features.map(({ properties }) => properties.length);
		expect(findings).toEqual([]);
		expect(figures).toMatchObject({
			pattern,
			loops: lengths.length,
			bends: countBends(figures.layout),
			within055: coverage[0]?.within055,
			within100: coverage[0]?.within100,
			coldSpot: coverage[0]?.coldSpot,
			notices: figures.layout.notices,
		});
		expect(figures.length).toBeCloseTo(
			lengths.reduce((a, b) => a + b, 0),
			6,
		);
		expect(figures.layout.features.map(({ properties }) => properties.pattern)).toEqual(lengths.map(() => pattern));
	});

	it("leaves the other rooms of the floor alone", () => {
		const { room, spiral } = compareRoutes(twoStudies, "west");
		expect(room).toBe("west");
		expect(new Set(spiral.layout.features.flatMap(({ properties }) => properties.rooms))).toEqual(new Set(["west"]));
	});

	it("owns up to a room that it cannot serve", () => {
		const { serpentine, spiral } = compareRoutes(studyAndCell, "cell");
		for (const { loops, length, within100, notices } of [serpentine, spiral]) {
			expect([loops, length, within100]).toEqual([0, 0, 0]);
			expect(notices.map(({ subject }) => subject)).toContain("cell");
		}
	});

	it("says of a room that is served through a doorway that it needs a manifold of its own to be compared", () => {
		const { serpentine, spiral } = compareRoutes(throughDoorway(900), "cell");
		for (const { layout, notices } of [serpentine, spiral]) {
			expect(notices).toEqual(layout.notices);
			expect(notices).toMatchObject([{ code: "ROOM_UNSERVED", subject: "cell", details: { reason: "alone" } }]);
			expect(notices[0]!.message).not.toContain("doorway");
		}
	});

	it("names the rooms that there are when it is asked for another", () => {
		expect(() => compareRoutes(twoStudies, "attic")).toThrow('Found no room "attic", expected one of "east", "west".');
		expect(() => compareRoutes(twoStudies, "attic")).toThrow(expect.objectContaining({ code: "ROOM_UNKNOWN" }));
	});

	it("stops when the signal has fired", () => {
		expect(() => compareRoutes(study, "study", { signal: AbortSignal.abort() })).toThrow(
			expect.objectContaining({ code: "ABORTED" }),
		);
	});
});
