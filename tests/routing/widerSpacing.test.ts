import type { Layout } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import { auditLayout, routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { COLD_ROOM } from "../../packages/routing/src/room/attempt.ts";
import { STRETCHES } from "../../packages/routing/src/room/roomSetting.ts";
import { routeRoom } from "../../packages/routing/src/room/routeRoom.ts";
import { atManifold } from "../../packages/routing/src/tails/apron.ts";
import { clearanceRules } from "../../packages/routing/src/tails/rules.ts";
import { faultsOf } from "../support/checkLayout.ts";
import { singleRoom } from "../support/floors.ts";
import { quarterTurns } from "../support/quarterTurns.ts";
import { rectangle } from "../support/shapes.ts";

/* A spacing a little wider than asked for may save a loop, or floor from staying cold. It is never opened for nothing. */

const spacingsOf = ({ features }: Layout): number[] => features.map(({ properties }) => properties.spacing);
const codesOf = ({ notices }: Layout): string[] => notices.map(({ code }) => code);

describe("a room whose loop comes out longer than the limit", () => {
	// 3 x 3 m at 200 mm ask for 45 m of pipe; as a spiral the one loop is 46.5 m long.
	const room = { outer: rectangle(0, 0, 3000, 3000), pattern: "spiral" } as const;
	const laid = (maxLoopLength: number): Layout => {
		const floor = singleRoom({ ...room, maxLoopLength });
		const layout = routeFloor(floor);
		expect(faultsOf(floor, layout)).toEqual([]);
		return layout;
	};

	it("has the spacing asked for, and nothing told, where the limit is wide enough", () => {
		const layout = laid(50);
		expect(layout.features[0]!.properties.length).toBeGreaterThan(45);
		expect(spacingsOf(layout)).toEqual([200]);
		expect(codesOf(layout)).toEqual([]);
	});

	it("has a spacing 4 or 8 % wider rather than a second loop, and says so", () => {
		const layout = laid(45);
		expect(layout.features).toHaveLength(1);
		expect([208, 216]).toContain(spacingsOf(layout)[0]);
		expect(codesOf(layout)).toEqual(["SPACING_WIDENED"]);
	});

	it("has a second loop at the spacing asked for where area and spacing ask for more than the limit", () => {
		const layout = laid(38);
		expect(spacingsOf(layout)).toEqual([200, 200]);
		expect(codesOf(layout)).toEqual([]);
	});
});

describe("a room whose loops leave floor cold at the spacing asked for", () => {
	// An L of 9.16 m2 in two loops: two runs and an odd one would fit beside each other in its far limb.
	const outer: Point[] = [
		[0, 0],
		[3300, 0],
		[3300, 1800],
		[1400, 1800],
		[1400, 4100],
		[0, 4100],
	];
	const floor = singleRoom({ outer, spacing: 200, maxLoopLength: 27, along: 0.28 });

	it("has one 4 or 8 % wider that leaves next to none cold, and no loop more", () => {
		const layout = routeFloor(floor);
		expect(faultsOf(floor, layout)).toEqual([]);
		expect(layout.features).toHaveLength(2);
		for (const spacing of spacingsOf(layout)) expect([208, 216]).toContain(spacing);
		expect(codesOf(layout)).toEqual(["SPACING_WIDENED"]);
		expect(auditLayout(floor, layout).coverage[0]!.within100).toBeGreaterThan(0.99);
	});

	it("would stay cold in part if it might not open", () => {
		const [room, manifold] = [floor.rooms[0]!, floor.manifolds[0]!];
		const coldAt = (stretches: readonly number[]): number =>
			routeRoom({
				room,
				floor: room.region,
				walls: room.region,
				entrance: atManifold(manifold),
				rules: clearanceRules(room.region, manifold, floor.system),
				others: [],
				stretches,
				system: floor.system,
				pattern: "auto",
				faults: () => 0,
				pulse: () => {},
				expired: () => false,
			}).cold;
		expect(coldAt([])).toBeGreaterThan(COLD_ROOM);
		expect(coldAt(STRETCHES)).toBeLessThan(COLD_ROOM / 2);
	});
});

describe("a large room whose zones are so narrow that runs at the spacing asked for would lie across them", () => {
	const floor = singleRoom({
		outer: rectangle(0, 0, 11_133, 12_898),
		spacing: 300,
		outerDiameter: 12,
		minBendRadius: 127,
		maxLoopLength: 60,
	});
	const layout = routeFloor(floor);

	it("has long runs a little wider apart, and says why", () => {
		expect(faultsOf(floor, layout)).toEqual([]);
		expect(layout.notices.map(({ code, details }) => [code, details?.reason])).toEqual([["SPACING_WIDENED", "runs"]]);
		for (const spacing of spacingsOf(layout)) expect([312, 324]).toContain(spacing);
		const turns = layout.features.reduce((sum, { geometry }) => sum + quarterTurns(geometry.coordinates), 0);
		const pipe = layout.features.reduce((sum, { properties }) => sum + properties.length, 0);
		// Runs across zones 1.4 m wide would turn about once a metre.
		expect(turns / pipe).toBeLessThan(0.7);
	});
});
