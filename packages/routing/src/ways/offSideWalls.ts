import { dot, type Point, scale, subtract } from "@oxturn/geometry";
import { beside, type Lane, rightOf } from "../tails/lanes.ts";
import { depthAhead } from "./depthAhead.ts";
import { type Families, followers } from "./families.ts";
import { fanOut } from "./fan.ts";
import { closestOnSlants, type Frame, IN_FRONT, type LayTurnsOptions, NO_SHIFT, outOfTheWay } from "./laying.ts";

/**
 * Ports lie closer together than tails. Beside a near wall that tails are to follow, those nearest to it have to draw near
 * and the others to give way: left to where each comes to its wall, those would cross each other, so they fan out before.
 * Gives the lanes of such pipes by their index.
 */
export function offSideWalls(options: LayTurnsOptions, families: Families, frame: Frame): ReadonlyMap<number, Lane> {
	const { space, lanes, doorLanes, system, passage, manner } = options;
	const fanned = new Map<number, Lane>();
	if (passage) return fanned;
	const { entry, axis, nearest } = frame;
	const lateral = (p: Point): number => dot(subtract(p, entry), rightOf(axis));
	for (const side of ["left", "right"] as const) {
		const count = followers(families, side);
		const sign = side === "left" ? 1 : -1;
		const first = side === "left" ? 0 : lanes.length - count;
		const wall = depthAhead(space.region, beside(entry, axis, IN_FRONT, 0), scale(rightOf(axis), -sign));
		const own = lanes.slice(first, first + count);
		const shifts = own.map(({ at }, i) => {
			const rank = side === "left" ? i : count - 1 - i;
			return sign * (nearest + rank * doorLanes.pitch - wall) - lateral(at);
		});
		// A single pipe that gives way is in nobody's way.
		if (shifts.filter((shift) => sign * shift > NO_SHIFT).length < 2) continue;
		// Those that draw near to the wall begin at once, the others when what turns off to the other side is out of their
		// way.
		const start = outOfTheWay(0, frame, doorLanes.pitch);
		const later = outOfTheWay(lanes.length - count, frame, doorLanes.pitch);
		for (const isAway of [false, true]) {
			const indices = shifts.flatMap((shift, i) => (sign * shift > 0 === isAway ? [i] : []));
			const fan = fanOut({
				lanes: indices.map((i) => own[i]!),
				shifts: indices.map((i) => shifts[i]!),
				from: isAway ? later : start,
				apart: closestOnSlants(system),
				minBendRadius: system.pipe.minBendRadius,
				slant: manner.slant,
			});
			for (const [k, i] of indices.entries()) fanned.set(first + i, fan.lanes[k]!);
		}
	}
	return fanned;
}
