import { distance, dot, type Path, type Point, roundPath, subtract } from "@oxturn/geometry";
import { type ClearanceRules, clearOfPipes, staysOnFloor } from "../tails/clearance.ts";
import type { Neck, PipePair } from "../tails/joinRings.ts";
import { beside, rightOf } from "../tails/lanes.ts";
import { EASE } from "../tails/tracks.ts";
import { type DoorLanes, lanesFrom } from "./exitLanes.ts";
import { SLACK } from "./laying.ts";
import type { Passage } from "./passages.ts";

export interface NeckAcrossOptions {
	/** From a hall into the host's room. */
	readonly toHost: Passage;
	/** Where it may come into the guest's room, through a door in the same wall; the best first. */
	readonly pairs: readonly PipePair[];
	readonly doorLanes: DoorLanes;
	readonly minBendRadius: number;
	/** Tails that are laid already. */
	readonly pipes: readonly Path[];
	readonly rules: ClearanceRules;
}

/** Two pipes side by side through a door, at the jamb that is named. */
function pairAt(passage: Passage, side: "low" | "high", doorLanes: DoorLanes): PipePair {
	const [left, right] = lanesFrom(passage, 2, passage[side], doorLanes);
	const { axis, halfDepth } = passage;
	const middle: Point = [(left!.at[0] + right!.at[0]) / 2, (left!.at[1] + right!.at[1]) / 2];
	return { middle, axis, halfDepth, width: distance(left!.at, right!.at) };
}

/**
 * The pair of pipes by which a room's loop goes on to the next room of a hall: out by its door, along the wall and in by
 * the next door in that wall. Undefined where tails are in the way.
 */
export function neckAcross(options: NeckAcrossOptions): Neck | undefined {
	for (const pair of options.pairs) {
		const neck = neckTo(pair, options);
		if (neck) return neck;
	}
	return undefined;
}

function neckTo(far: PipePair, options: NeckAcrossOptions): Neck | undefined {
	const { toHost, doorLanes, minBendRadius, pipes, rules } = options;
	const isToRight = dot(subtract(far.middle, toHost.middle), rightOf(toHost.axis)) > 0;
	const near = pairAt(toHost, isToRight ? "high" : "low", doorLanes);
	const nearest = toHost.halfDepth + EASE * minBendRadius + SLACK;
	const pipe = (from: number, to: number, depth: number): Path | undefined => {
		const [a, b] = [beside(near.middle, near.axis, 0, from), beside(far.middle, far.axis, 0, to)];
		const corners = [beside(a, near.axis, -depth, 0), beside(b, near.axis, -depth, 0)];
		return roundPath([a, ...corners, b], minBendRadius);
	};
	// The pipe that spans the other lies farther from the wall.
	const outer = nearest + doorLanes.pitch;
	const out = pipe(-near.width / 2, far.width / 2, isToRight ? outer : nearest);
	const back = pipe(near.width / 2, -far.width / 2, isToRight ? nearest : outer);
	if (!out || !back) return undefined;
	const isClear = [out, back].every((path) => staysOnFloor(path, rules) && clearOfPipes(path, pipes, rules));
	return isClear ? { near, far, out, back: [...back].reverse() } : undefined;
}
