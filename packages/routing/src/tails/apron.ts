import type { Manifold } from "@oxturn/floor";
import { add, leftOf, type Path, type Point, type Pose, radians, scale } from "@oxturn/geometry";
import type { Side } from "./lanes.ts";

/** A loop's port pair. The return hangs half a pitch to the right of the flow, seen from the room. */
export interface PortPair {
	/** 1 is the leftmost seen from the room. */
	readonly number: number;
	readonly flow: Pose;
	readonly return: Pose;
	/** Pipe that its loop needs for floor of other rooms on its way, mm: it gets as much less of this one's. */
	readonly elsewhere?: number;
}

/** Where pipes come into a room: at the ports of its manifold, or through a doorway. */
export interface Entrance {
	readonly at: Point;
	/** Pairs of `count` loops, from the leftmost as the pipes come in. */
	readonly pairs: (count: number) => readonly PortPair[];
	/** Pipe that every loop has spent before it comes in, both ways, mm. */
	readonly spent: number;
	/** The tails of others that pass on its left and on its right, where any do. */
	readonly between: Readonly<Record<Side, Path | undefined>>;
}

/** Port pairs of `count` loops, centred on the manifold, from the leftmost seen from the room. */
export function portPairs(manifold: Manifold, count: number): PortPair[] {
	const heading = radians(manifold.facing);
	const facing: Point = [Math.cos(heading), Math.sin(heading)];
	// Who looks at the wall from the room has its right hand where the pipes have their left.
	const right = leftOf(facing);
	const pitch = manifold.portPitch;
	const at = (along: number): Pose => ({ at: add(manifold.position, scale(right, along)), heading });
	return Array.from({ length: count }, (_, i) => {
		const middle = (i - (count - 1) / 2) * pitch;
		return { number: i + 1, flow: at(middle - pitch / 4), return: at(middle + pitch / 4) };
	});
}

/** All ports of a manifold lie within this of its middle, mm. */
const PORT_REACH = 600;

/** How many loops a manifold takes: it has as many ports, or as many lie near enough to it. */
export function placesAt({ ports, portPitch }: Manifold): number {
	// From the middle of the first pair to that of the last, each half a pair wide.
	const apart = Math.max(0, Math.floor((2 * PORT_REACH) / portPitch - 0.5));
	return Math.min(ports ?? Infinity, apart + 1);
}

/** A manifold in the room itself. Ports are numbered by who looks at the wall, and given from the side of who looks from it. */
export const atManifold = (manifold: Manifold): Entrance => ({
	at: manifold.position,
	pairs: (count) => portPairs(manifold, count).reverse(),
	spent: 0,
	between: { left: undefined, right: undefined },
});
