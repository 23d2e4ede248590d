import { readFloor } from "@oxturn/floor";
import { pathLength } from "@oxturn/geometry";
import { auditLayout, routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { doorway, floorOf, manifold, room } from "../oxturn/documents.ts";
import { singleRoom } from "../support/floors.ts";
import { rectangle } from "../support/shapes.ts";

describe("a room whose far end is too far for its loops", () => {
	// To the far end and back tails alone take 36 m of the 40 m that a loop may have.
	const passage = singleRoom({ outer: rectangle(0, 0, 20_000, 2000), wall: 3, maxLoopLength: 40 });
	const layout = routeFloor(passage);

	it("keeps the loops that can be laid, and tells of the others all at once", () => {
		expect(layout.features.length).toBeGreaterThan(1);
		const told = layout.notices.filter(({ code }) => code === "LOOPS_TOO_LONG");
		expect(told).toHaveLength(1);
		expect(told[0]!.details).toMatchObject({ limit: 40 });
		expect(Number(told[0]!.details!.value)).toBeGreaterThan(40);
		expect(auditLayout(passage, layout).findings).toEqual([]);
	});

	it("counts only pipes that are laid among those that pass along its walls", () => {
		const most = Math.max(0, ...layout.channels.map(({ pipes }) => pipes));
		expect(most).toBeLessThanOrEqual(2 * layout.features.length);
	});
});

describe("a room beyond a doorway, with loops that are too long for part of it", () => {
	const { floor } = readFloor(
		floorOf(
			room("study", 0, 4000, 3000),
			manifold("m1", 1500),
			room("shed", 4100, 26_000, 3000),
			doorway("arch", 3999, 1000, 102, 900),
		),
	);
	const layout = routeFloor({ ...floor, system: { ...floor.system, maxLoopLength: 50 } });

	it("keeps those that can be laid", () => {
		const own = layout.features.filter(({ properties }) => properties.rooms.includes("shed"));
		expect(own.length).toBeGreaterThan(0);
		for (const { geometry } of own) expect(pathLength(geometry.coordinates)).toBeLessThanOrEqual(50_100);
		expect(layout.notices.map(({ code, subject }) => [code, subject])).toContainEqual(["LOOPS_TOO_LONG", "shed"]);
	});
});
