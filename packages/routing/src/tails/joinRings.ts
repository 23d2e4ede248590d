import { distance, type Path, type Point, type Pose, type Ring } from "@oxturn/geometry";
import type { ClearanceRules } from "./clearance.ts";
import { joinLoop } from "./joinLoop.ts";
import { beside } from "./lanes.ts";
import type { TailEnd } from "./leads.ts";

/*
 * Two closed outlines become one: a pair of pipes is laid from one to the other, through the doorway between them or
 * across a hall, and each outline is opened where the pair arrives, as a field is opened for its tails.
 */

/** A pair of pipes through a wall. */
export interface PipePair {
	/** Between the two pipes, in the middle of the wall. */
	readonly middle: Point;
	/** The way through, a unit vector. */
	readonly axis: Point;
	/** Half the thickness of the wall, mm. */
	readonly halfDepth: number;
	/** Centre to centre, mm. */
	readonly width: number;
}

/** A pair of pipes from one outline to another. */
export interface Neck {
	/** Where it comes to either outline, on the way to it. */
	readonly near: PipePair;
	readonly far: PipePair;
	/** The pipes between the two, from the near outline's left to the far one's right, and back; empty within one doorway. */
	readonly out: Path;
	readonly back: Path;
}

export interface OpenRingOptions {
	/** Rounded, anticlockwise. */
	readonly ring: Ring;
	/** On the way to the outline. */
	readonly pair: PipePair;
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

/** A pair in a doorway that outlines on either side of it are joined by; its axis leads to the far one. */
export const straightNeck = (pair: PipePair): Neck => ({
	near: { ...pair, axis: [-pair.axis[0], -pair.axis[1]] },
	far: pair,
	out: [],
	back: [],
});

/** An outline, opened for a pair: from the pipe on the right in the middle of the wall, round it, to the one on the left. */
export function openRing({ ring, pair, others, spacing, rules }: OpenRingOptions): Path | undefined {
	const { middle, axis, halfDepth, width } = pair;
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

/** One outline of two that have been opened for the same neck; anticlockwise. */
export function closedRing(near: Path, far: Path, { out, back }: Neck): Ring {
	const ring = withoutRepeats([...near, ...out, ...far, ...back]);
	return distance(ring[0]!, ring.at(-1)!) > SAME ? ring : ring.slice(0, -1);
}

const withoutRepeats = (path: Path): Path => path.filter((p, i) => i === 0 || distance(p, path[i - 1]!) > SAME);
