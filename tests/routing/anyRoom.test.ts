import { mkdirSync, writeFileSync } from "node:fs";
import { floorToGeoJson, type Layout, layoutToJson, readFloor } from "@oxturn/floor";
import { auditLayout, routeFloor } from "@oxturn/routing";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { faultsOf } from "../support/checkLayout.ts";
import { floorOf, movedFloor, placedRoom, singleRoom } from "../support/floors.ts";
import { rectangle } from "../support/shapes.ts";

/** Promises for rooms that nobody drew by hand. Seeds are fixed: a failure comes back as it was. */

const pipeOf = (layout: Layout): number => layout.features.reduce((sum, { properties }) => sum + properties.length, 0);

/** Notices that own up to a rule without naming it. */
const codesOf: Readonly<Record<string, readonly string[]>> = {
	length: ["LOOP_TOO_LONG"],
	served: ["ROOM_UNSERVED", "ROOM_PARTLY_SERVED"],
};

describe("a room of any shape", () => {
	it("makes a floor document that reads", () => {
		fc.assert(
			fc.property(placedRoom(), (placed) => {
				const document: unknown = JSON.parse(JSON.stringify(floorToGeoJson(floorOf(placed))));
				expect(readFloor(document).floor.rooms).toHaveLength(1);
			}),
			{ seed: 200, numRuns: 100 },
		);
	});

	it("gets a layout that passes its audit, or notices that name every rule it breaks", () => {
		fc.assert(
			fc.property(placedRoom(), (placed) => {
				const floor = floorOf(placed);
				const layout = routeFloor(floor);
				const { findings } = auditLayout(floor, layout, { coverage: false });
				const untold = findings.filter(
					({ rule }) =>
						!layout.notices.some(({ code, message }) => codesOf[rule]?.includes(code) || message.includes(`"${rule}"`)),
				);
				expect(untold).toEqual([]);
				// Another checker with other arithmetic has nothing to add to a layout that owns up to nothing.
				if (findings.length === 0) expect(faultsOf(floor, layout)).toEqual([]);
			}),
			{ seed: 201, numRuns: 25, endOnFailure: true },
		);
	});

	it.each(["serpentine", "spiral"] as const)("gets a valid %s when that is wanted", (pattern) => {
		fc.assert(
			fc.property(placedRoom(180), (placed) => {
				const floor = floorOf(placed);
				const layout = routeFloor(floor, { pattern });
				if (layout.notices.length > 0) return;
				expect(layout.features.map(({ properties }) => properties.pattern)).toEqual(layout.features.map(() => pattern));
				expect(faultsOf(floor, layout)).toEqual([]);
			}),
			{ seed: 202, numRuns: 25, endOnFailure: true },
		);
	});

	it("is one unjointed pipe a loop: finite places, none twice running, ports used once", () => {
		fc.assert(
			fc.property(placedRoom(180), (placed) => {
				const { features } = routeFloor(floorOf(placed));
				for (const { geometry } of features)
					for (const [i, [x, y]] of geometry.coordinates.entries()) {
						expect(Number.isFinite(x) && Number.isFinite(y)).toBe(true);
						if (i > 0) expect([x, y]).not.toEqual(geometry.coordinates[i - 1]);
					}
				const ports = features.map(({ properties }) => properties.port);
				expect(ports.toSorted((a, b) => a - b)).toEqual(ports.map((_, i) => i + 1));
			}),
			{ seed: 203, numRuns: 25, endOnFailure: true },
		);
	});

	it("has pipe everywhere, or a notice that says where not", () => {
		const silent = fc.sample(placedRoom(150), { seed: 204, numRuns: 40 }).filter((placed) => {
			const floor = floorOf(placed);
			const layout = routeFloor(floor);
			const [coverage] = auditLayout(floor, layout, { cell: 40 }).coverage;
			return layout.notices.length === 0 && coverage!.within100 < 0.9;
		});
		expect(silent).toEqual([]);
	});

	it("tells of the far half of a long room that a keep-out and wide spacing cut off", () => {
		const floor = singleRoom({
			outer: rectangle(0, 0, 6000, 1800),
			keepouts: [rectangle(2870, 770, 3130, 1030)],
			spacing: 390,
			minBendRadius: 190,
			maxLoopLength: 120,
			wall: 1,
		});
		const layout = routeFloor(floor);
		const [coverage] = auditLayout(floor, layout, { cell: 40 }).coverage;
		expect(coverage!.within100 > 0.9 || layout.notices.length > 0).toBe(true);
	});

	it("comes out the same to the byte when it is routed again", () => {
		fc.assert(
			fc.property(placedRoom(180), (placed) => {
				expect(layoutToJson(routeFloor(floorOf(placed)))).toBe(layoutToJson(routeFloor(floorOf(placed))));
			}),
			{ seed: 205, numRuns: 15, endOnFailure: true },
		);
	});

	/*
	 * Wherever a floor lies and however it is turned, the same ways of laying it are to be had. Which one wins is
	 * decided by small differences, and those are measured on rasters that do not turn with the floor: so not every
	 * room comes out alike. What is promised is recorded here, to be tightened; the rooms that differ are written to
	 * tests/output/turned-rooms.json.
	 */
	it("takes about as much pipe wherever it lies and however it is turned", () => {
		const differing: object[] = [];
		const deviations: number[] = [];
		for (const placed of fc.sample(placedRoom(200), { seed: 206, numRuns: 24 })) {
			const floor = singleRoom(placed.made);
			const before = pipeOf(routeFloor(floor));
			const after = pipeOf(routeFloor(movedFloor(floor, placed.angle, placed.dx, placed.dy)));
			const deviation = before === after ? 0 : Math.abs(after - before) / Math.max(before, after);
			deviations.push(deviation);
			if (deviation > 0.01) differing.push({ before, after, ...placed });
		}
		mkdirSync("tests/output", { recursive: true });
		writeFileSync("tests/output/turned-rooms.json", `${JSON.stringify(differing, null, "\t")}\n`);
		const sorted = deviations.toSorted((a, b) => a - b);
		expect(sorted[Math.floor(sorted.length / 2)]).toBeLessThan(0.01);
	});

	it("takes the same pipe after a move along x and y, to a tenth of a per cent for most rooms", () => {
		const deviations = fc.sample(placedRoom(200), { seed: 207, numRuns: 15 }).map(({ made, dx, dy }) => {
			const floor = singleRoom(made);
			const before = pipeOf(routeFloor(floor));
			return Math.abs(pipeOf(routeFloor(movedFloor(floor, 0, dx, dy))) / before - 1);
		});
		expect(deviations.filter((deviation) => deviation < 0.001).length).toBeGreaterThan(7);
	});
});
