import type { Manifold, System } from "@oxturn/floor";
import { offset, type Region } from "@oxturn/geometry";
import type { ClearanceRules } from "./clearance.ts";

/** Slack kept over every limit, mm, so that flattening and rounding never use it up. */
const SLACK = 1;
/** The apron in front of a manifold, where pipes may run closer, mm. Common practice, no source. */
const APRON = 780;
const PORT_REACH = 560;
/** Ends of loops lie at least this far apart, mm, whatever the pipe. */
const LEAST_BETWEEN_ENDS = 20;

/** How near to each other pipes may be in front of a manifold, mm. */
const apartAtManifold = ({ pipe: { outerDiameter } }: System): number => outerDiameter + 1 + SLACK;

/** How near to each other ports may be, mm. */
export const leastApartAtPorts = (system: System): number => Math.max(LEAST_BETWEEN_ENDS, apartAtManifold(system));

/** What pipes have to keep to on one piece of floor. */
export function clearanceRules(floor: Region, manifold: Manifold, system: System): ClearanceRules {
	const { outerDiameter, minBendRadius } = system.pipe;
	const apart = Math.max(0.985 * system.tailSpacing, outerDiameter + SLACK);
	return {
		manifold: manifold.position,
		apart,
		apartAtManifold: Math.min(apart, apartAtManifold(system)),
		apronReach: APRON,
		minBendRadius,
		allowed: offset([floor], -(outerDiameter / 2 + SLACK / 2)),
		allowedAtPorts: offset([floor], SLACK),
		portReach: PORT_REACH,
	};
}
