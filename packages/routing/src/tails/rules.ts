import type { Manifold, System } from "@oxturn/floor";
import { offset, type Region } from "@oxturn/geometry";
import type { ClearanceRules } from "./clearance.ts";

/** Slack kept over every limit, mm, so that flattening and rounding never use it up. */
const SLACK = 1;
/** The apron in front of a manifold, where pipes may run closer, mm. Common practice, no source. */
const APRON = 780;
const PORT_REACH = 560;

/** What pipes have to keep to on one piece of floor. */
export function clearanceRules(floor: Region, manifold: Manifold, system: System): ClearanceRules {
	const { outerDiameter, minBendRadius } = system.pipe;
	return {
		manifold: manifold.position,
		apart: Math.max(0.985 * system.tailSpacing, outerDiameter + SLACK),
		apartAtManifold: outerDiameter + 1 + SLACK,
		apronReach: APRON,
		minBendRadius,
		allowed: offset([floor], -(outerDiameter / 2 + SLACK / 2)),
		allowedAtPorts: offset([floor], SLACK),
		portReach: PORT_REACH,
	};
}
