import { distance, type Path, type Point, type Pose, type Ring } from "@oxturn/geometry";
import type { ClearanceRules } from "./clearance.ts";
import { joinLoop, type TailEnd } from "./joinLoop.ts";
import { beside } from "./lanes.ts";

/*
 * Two closed outlines on either side of a doorway become one: a pair of pipes is laid through the doorway, and each
 * outline is opened where the pair arrives, as a field is opened for its tails.
 */

/** A pair of pipes through a wall, as seen by who goes from the near outline to the far one. */
export interface Neck {
	/** Between the two pipes, in the middle of the wall. */
	readonly middle: Point;
	/** The way through, a unit vector. */
	readonly axis: Point;
	/** Half the thickness of the wall, mm. */
	readonly halfDepth: number;
	/** Centre to centre of the pair, mm. */
	readonly width: number;
}

export interface OpenRingOptions {
	/** Rounded, anticlockwise. */
	readonly ring: Ring;
	/** On the way to the outline. */
	readonly neck: Neck;
	/** Pipes already placed. */
	readonly others: readonly Path[];
	/** Centre to centre in the outline's field, mm. */
	readonly spacing: number;
	readonly rules: ClearanceRules;
}

/** An outline is opened no farther from the doorway than this, in spacings or in bend radii. */
const REACH = 3;
const REACH_BENDS = 6;
/** Points nearer than this are one, mm. */
const SAME = 0.01;

/** The same pair for who comes back. */
export const turnedBack = (neck: Neck): Neck => ({ ...neck, axis: [-neck.axis[0], -neck.axis[1]] });

/** An outline, opened for a neck: from the pipe on the right in the middle of the wall, round it, to the one on the left. */
export function openRing({ ring, neck, others, spacing, rules }: OpenRingOptions): Path | undefined {
	const { middle, axis, halfDepth, width } = neck;
	const heading = Math.atan2(axis[1], axis[0]);
	const end = (aside: number, depth: number): TailEnd => {
		const start = beside(middle, axis, 0, aside);
		const pose: Pose = { at: beside(middle, axis, depth, aside), heading };
		return { path: [start, pose.at], pose };
	};
	const reach = Math.max(REACH * spacing, REACH_BENDS * rules.minBendRadius);
	// Straight through the wall if that can be; where a field begins close behind it, pipes turn in the doorway.
	for (const depth of [halfDepth, 0]) {
		const joined = joinLoop({
			ring,
			right: [end(width / 2, depth)],
			left: [end(-width / 2, depth)],
			others,
			spacing,
			rules,
			reach,
		});
		if (joined) return withoutRepeats(joined.path);
	}
	return undefined;
}

/** One outline of two that have been opened for the same neck, either from its own side; anticlockwise. */
export const closedRing = (near: Path, far: Path): Ring => withoutRepeats([...near, ...far.slice(1, -1)]);

const withoutRepeats = (path: Path): Path => path.filter((p, i) => i === 0 || distance(p, path[i - 1]!) > SAME);
