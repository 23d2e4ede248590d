import type { Floor } from "@oxturn/floor";
import { routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { spreadPorts } from "../../packages/routing/src/spreadPorts.ts";
import { faultsOf } from "../support/checkLayout.ts";
import { movedFloor, singleRoom } from "../support/floors.ts";
import { rectangle } from "../support/shapes.ts";

/** A room whose manifold has its port pairs so far apart, mm, for a pipe so thick, mm. */
function withPorts(portPitch: number, outerDiameter: number): Floor {
	const floor = singleRoom({ outer: rectangle(0, 0, 6000, 5000), outerDiameter, minBendRadius: 98 });
	return { ...floor, manifolds: floor.manifolds.map((manifold) => ({ ...manifold, portPitch })) };
}

const pitchOf = (floor: Floor): number => floor.manifolds[0]!.portPitch;

describe("a manifold whose ports are too near to each other", () => {
	it("is laid with ports far enough apart for the pipe, and told of", () => {
		for (const [portPitch, outerDiameter] of [
			[50, 25],
			[40, 20],
			[20, 16],
		] as const) {
			const floor = withPorts(portPitch, outerDiameter);
			const layout = routeFloor(floor);
			expect(layout.features.length).toBeGreaterThan(0);
			expect(faultsOf(floor, layout)).toEqual([]);
			expect(layout.notices).toMatchObject([
				{ code: "PORTS_SPREAD", subject: "m1", details: { spacing: portPitch, laid: expect.any(Number) } },
			]);
		}
	});

	it("has them a pipe and 2 mm apart, and never nearer than 20 mm", () => {
		expect(pitchOf(spreadPorts(withPorts(50, 25)).floor)).toBeCloseTo(2 * (25 + 2), 0);
		expect(pitchOf(spreadPorts(withPorts(10, 12)).floor)).toBeCloseTo(2 * 20, 0);
	});

	it("keeps its pitch where the pipe fits", () => {
		const floor = withPorts(50, 16);
		expect(spreadPorts(floor)).toEqual({ floor, spread: [] });
	});

	it("that rounding alone would bring too near loses no loop, wherever the floor lies and however it is turned", () => {
		for (const [angle, x, y] of [
			[0.3, 1234.567, 89.01],
			[2.629, -37300.4, -48500.9],
			[4.1, 383496.2, 362471.7],
		] as const) {
			const floor = movedFloor(withPorts(40, 16), angle, x, y);
			const layout = routeFloor(floor);
			expect(layout.features.length).toBeGreaterThan(0);
			expect(layout.notices).toEqual([]);
			expect(faultsOf(floor, layout)).toEqual([]);
		}
	});
});
