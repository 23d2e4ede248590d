import { routeFloor } from "@oxturn/routing";
import { expect, test } from "vitest";
import { clearanceRules } from "../../packages/routing/src/tails/rules.ts";
import { faultsOf } from "../support/checkLayout.ts";
import { singleRoom } from "../support/floors.ts";
import { rectangle, solid } from "../support/shapes.ts";

/** A room of three loops whose tails lie this near to each other, mm, of a pipe of 16 mm. */
function withTails(tailSpacing: number) {
	const floor = singleRoom({ outer: rectangle(0, 0, 10000, 6000), outerDiameter: 16, minBendRadius: 80 });
	return { ...floor, system: { ...floor.system, tailSpacing } };
}

test("tails may touch but for a millimetre", () => {
	for (const tailSpacing of [17, 18, 19, 25]) {
		const floor = withTails(tailSpacing);
		const layout = routeFloor(floor);
		expect(layout.features.length).toBeGreaterThan(2);
		expect(layout.notices).toEqual([]);
		expect(faultsOf(floor, layout)).toEqual([]);
	}
});

test("in front of the manifold pipes need never be farther apart than elsewhere", () => {
	for (const tailSpacing of [17, 18, 18.5, 40]) {
		const { system, manifolds } = withTails(tailSpacing);
		const rules = clearanceRules(solid(rectangle(0, 0, 10000, 6000)), manifolds[0]!, system);
		expect(rules.apartAtManifold).toBeLessThanOrEqual(rules.apart);
		expect(rules.apartAtManifold).toBeGreaterThanOrEqual(17);
	}
});
