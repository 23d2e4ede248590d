import { type Floor, layoutToJson } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import { auditLayout, RouteError, type RouteProgress, routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { faultsOf } from "../support/checkLayout.ts";
import { movedFloor, singleRoom } from "../support/floors.ts";
import { rectangle } from "../support/shapes.ts";

const hall = singleRoom({ outer: rectangle(0, 0, 9000, 6000), spacing: 150 });

describe("stopping", () => {
	it("throws ABORTED when the signal has fired before", () => {
		expect(() => routeFloor(hall, { signal: AbortSignal.abort() })).toThrow(
			expect.objectContaining({ name: "RouteError", code: "ABORTED" }) as RouteError,
		);
	});

	it("throws ABORTED soon after the signal fires between two rooms", () => {
		const [room] = hall.rooms;
		const [manifold] = hall.manifolds;
		const away = 100_000;
		const moved = ([x, y]: Point): Point => [x + away, y];
		const twice: Floor = {
			...hall,
			rooms: [room!, { ...room!, id: "second", region: { outer: room!.region.outer.map(moved), holes: [] } }],
			manifolds: [manifold!, { ...manifold!, id: "m2", position: moved(manifold!.position) }],
		};
		const controller = new AbortController();
		const onProgress = ({ room: now }: RouteProgress): void => {
			if (now === "second") controller.abort();
		};
		expect(() => routeFloor(twice, { signal: controller.signal, onProgress, timeBudget: 1 })).toThrow(RouteError);
	});

	it("gives the best layout so far when the time budget is spent, and it is valid", () => {
		const layout = routeFloor(hall, { timeBudget: 200 });
		expect(layout.features.length).toBeGreaterThan(0);
		if (layout.notices.length === 0) expect(faultsOf(hall, layout)).toEqual([]);
		for (const { rule } of auditLayout(hall, layout, { coverage: false }).findings)
			expect(layout.notices.map(({ message }) => message).join()).toContain(rule);
	});
});

describe("progress", () => {
	it("tells of every room, from nothing on and never backwards", () => {
		const small = singleRoom({ outer: rectangle(0, 0, 3000, 2500) });
		const next = movedFloor(small, 0, 4000, 0);
		const floor = {
			...small,
			rooms: [...small.rooms, { ...next.rooms[0]!, id: "next" }],
			manifolds: [...small.manifolds, { ...next.manifolds[0]!, id: "m2" }],
		};
		const seen: RouteProgress[] = [];
		routeFloor(floor, { onProgress: (progress) => seen.push(progress) });
		const fields = seen.filter(({ stage }) => stage === "fields");
		expect(new Set(fields.map(({ room }) => room))).toEqual(new Set(["room", "next"]));
		const fractions = seen.map(({ fraction }) => fraction);
		expect(fractions[0]).toBe(0);
		expect(fractions).toEqual(fractions.toSorted((a, b) => a - b));
		expect(Math.max(...fractions)).toBeLessThanOrEqual(1);
	});
});

describe("the same floor", () => {
	it("gives the same bytes for the same seed", () => {
		const floor = singleRoom({ outer: rectangle(0, 0, 4000, 3000) });
		expect(layoutToJson(routeFloor(floor, { seed: 7 }))).toBe(layoutToJson(routeFloor(floor, { seed: 7 })));
	});

	it("is not touched by routing", () => {
		const floor = singleRoom({ outer: rectangle(0, 0, 4000, 3000) });
		const before = structuredClone(floor);
		routeFloor(floor);
		expect(floor).toEqual(before);
	});
});

describe("turned floors", () => {
	it.each([
		["a rectangle of 6 x 5 m", rectangle(0, 0, 6000, 5000), 150],
		["a rectangle of 4 x 3 m", rectangle(0, 0, 4000, 3000), 200],
	])("take the same pipe within one per cent: %s", (_, outer, spacing) => {
		const floor = singleRoom({ outer, spacing });
		const pipeAt = (angle: number): number =>
			routeFloor(movedFloor(floor, angle, 12_000, -7000)).features.reduce(
				(sum, { properties }) => sum + properties.length,
				0,
			);
		const plain = pipeAt(0);
		for (const angle of [0.3, Math.PI / 2, Math.PI]) expect(Math.abs(pipeAt(angle) / plain - 1)).toBeLessThan(0.01);
	});
});
