import type { Manifold } from "@oxturn/floor";
import { add, leftOf, type Point, type Pose, scale } from "@oxturn/geometry";

/** A loop's port pair. The return hangs half a pitch to the right of the flow, seen from the room. */
export interface PortPair {
	/** 1 is the leftmost seen from the room. */
	readonly number: number;
	readonly flow: Pose;
	readonly return: Pose;
}

/** Port pairs of `count` loops, centred on the manifold, from the leftmost seen from the room. */
export function portPairs(manifold: Manifold, count: number): PortPair[] {
	const heading = (manifold.facing * Math.PI) / 180;
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
