import type { Manifold } from "@oxturn/floor";
import { type Point, radians } from "@oxturn/geometry";
import { toPaper, type View } from "../paper.ts";

/** mm of floor: a manifold hangs in or on the wall, within a usual wall's thickness. */
const BODY_DEPTH = 110;

/** How a manifold hangs in its wall, on paper. */
export interface WallFrame {
	/** Where the floor document has it: on the face of the wall. */
	readonly at: Point;
	/** Of length 1, into the room. */
	readonly out: Point;
	/** Of length 1, along the wall: leftwards seen from the room. */
	readonly along: Point;
	/** How far the body reaches into the wall, mm on paper. */
	readonly depth: number;
}

export function wallFrame(manifold: Manifold, view: View): WallFrame {
	const angle = radians(manifold.facing);
	const out: Point = [Math.cos(angle), -Math.sin(angle)];
	return {
		at: toPaper(view, manifold.position),
		out,
		along: [out[1], -out[0]],
		depth: BODY_DEPTH / view.scale,
	};
}

/** The place so far from `p` into the room and along the wall, mm on paper. */
export function shift({ out, along }: WallFrame, p: Point, outwards: number, sideways = 0): Point {
	return [p[0] + out[0] * outwards + along[0] * sideways, p[1] + out[1] * outwards + along[1] * sideways];
}
