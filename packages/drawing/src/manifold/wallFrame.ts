import type { Manifold } from "@oxturn/floor";
import { type Point, radians, scale, subtract } from "@oxturn/geometry";
import { toPaper, type View } from "../paper.ts";
import type { PortPair } from "./manifoldDrawing.ts";

/** mm of floor: a manifold hangs in or on the wall, within a usual wall's thickness. */
const BODY_DEPTH = 110;

/** How a manifold hangs in its wall, on paper. */
export interface WallFrame {
	/** Where the floor document has it: on the face of the wall. */
	readonly at: Point;
	/** Of length 1, into the room. */
	readonly out: Point;
	/** Of length 1, along the wall: rightwards seen from the room. */
	readonly along: Point;
	/** How far the body reaches into the wall, mm on paper. */
	readonly depth: number;
}

/** The frame of a manifold, square to its wall as its ports lie along that; as its facing says where it feeds no loop. */
export function wallFrame(manifold: Manifold, ports: readonly PortPair[], view: View): WallFrame {
	const facing = radians(manifold.facing);
	const out = squareToPorts(ports, [Math.cos(facing), -Math.sin(facing)]);
	return {
		at: toPaper(view, manifold.position),
		out,
		along: [out[1], -out[0]],
		depth: BODY_DEPTH / view.scale,
	};
}

/** Of the two ways square to the line from a flow port to its return port, the one that is nearer to `facing`. */
function squareToPorts([pair]: readonly PortPair[], facing: Point): Point {
	if (!pair) return facing;
	const [x, y] = subtract(pair.flow, pair.back);
	const apart = Math.hypot(x, y);
	const into = y * facing[0] - x * facing[1];
	if (apart === 0 || into === 0) return facing;
	return scale([y, -x], Math.sign(into) / apart);
}

/** The place so far from `p` into the room and along the wall, mm on paper. */
export function shift({ out, along }: WallFrame, p: Point, outwards: number, sideways = 0): Point {
	return [p[0] + out[0] * outwards + along[0] * sideways, p[1] + out[1] * outwards + along[1] * sideways];
}
