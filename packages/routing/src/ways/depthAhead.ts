import { direction, dot, leftOf, type Point, type Region, ringsOf, segmentsCross, subtract } from "@oxturn/geometry";
import { beside, FAR } from "../tails/lanes.ts";

/** A ray begins this far in front of its start, so that it does not meet the wall that it comes from, mm. */
const IN_FRONT = 20;

/** How far ahead of `at` the floor goes on, mm. */
export function depthAhead(space: Region, at: Point, axis: Point): number {
	const from = beside(at, axis, IN_FRONT, 0);
	const to = beside(at, axis, FAR, 0);
	let nearest = FAR;
	for (const ring of ringsOf(space))
		for (let i = 0; i < ring.length; i++) {
			const a = ring[i]!;
			const b = ring[(i + 1) % ring.length]!;
			if (!segmentsCross(from, to, a, b)) continue;
			const across = leftOf(direction(a, b));
			const depth = dot(subtract(a, from), across) / dot(axis, across);
			if (depth > 0 && depth < nearest) nearest = depth;
		}
	return nearest + IN_FRONT;
}
