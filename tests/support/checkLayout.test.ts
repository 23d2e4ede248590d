import type { Layout } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import { describe, expect, it } from "vitest";
import { faultsOf } from "./checkLayout.ts";
import { singleRoom } from "./floors.ts";
import { rectangle } from "./shapes.ts";

const floor = singleRoom({ outer: rectangle(0, 0, 4000, 3000), maxLoopLength: 20 });

/** A pipe that leaves the manifold at (2000, 0), turns back by a half circle of `radius` at the height `top`. */
function hairpin(radius: number, top: number, shift = 0): Layout {
	const turn = Array.from({ length: 61 }, (_, k): Point => {
		const angle = (Math.PI * k) / 60;
		return [2000 + shift + radius * Math.cos(angle), top + radius * Math.sin(angle)];
	});
	const path: Point[] = [[2000 + shift + radius, 0], ...turn, [2000 + shift - radius, 0]];
	const length = path.reduce((sum, [x, y], i) => {
		const [ax, ay] = path[Math.max(0, i - 1)]!;
		return sum + Math.hypot(x - ax, y - ay);
	}, 0);
	return {
		type: "FeatureCollection",
		units: "mm",
		name: "",
		features: [
			{
				type: "Feature",
				id: "L1",
				geometry: { type: "LineString", coordinates: path },
				properties: {
					kind: "loop",
					manifold: "m1",
					port: 1,
					rooms: ["room"],
					pattern: "serpentine",
					spacing: 200,
					length: length / 1000,
				},
			},
		],
		channels: [],
		notices: [],
	};
}

const kinds = (layout: Layout): string[] => faultsOf(floor, layout).map((fault) => fault.split(":")[0]!);

describe("faultsOf", () => {
	it("finds nothing wrong with a plain hairpin", () => {
		expect(faultsOf(floor, hairpin(100, 2000))).toEqual([]);
	});

	it.each([
		["bend", hairpin(70, 2000)],
		["inside", hairpin(100, 2950)],
		["port", hairpin(100, 2000, 700)],
		[
			"length",
			{
				...hairpin(100, 2000),
				features: hairpin(100, 2000).features.map((f) => ({ ...f, properties: { ...f.properties, length: 9 } })),
			},
		],
		[
			"clearance",
			{ ...hairpin(100, 2000), features: [...hairpin(100, 2000).features, ...hairpin(100, 2000, 30).features] },
		],
	])("tells of a fault: %s", (kind, layout) => {
		expect(kinds(layout as Layout)).toContain(kind);
	});
});
