import type { LoopFeature, Manifold } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import { type Box, middleBetween } from "../paper.ts";
import { shift, type WallFrame } from "./wallFrame.ts";

/**
 * A manifold on paper: its body in the wall, and a strip of port labels fanned out behind it. Where rooms lie behind
 * it, the strip stands beside the plan instead, and the manifold's id in its wall tells whose it is.
 */
export interface ManifoldDrawing {
	readonly manifold: Manifold;
	readonly frame: WallFrame;
	/** Corners: both ends of the rail on the face of the wall, then those in the wall. */
	readonly body: readonly [Point, Point, Point, Point];
	/** Strip of labels; `undefined` for a manifold that feeds nothing. */
	readonly strip: PortStrip | undefined;
	/** The id beside the body, where the strip stands elsewhere. */
	readonly tag: ManifoldTag | undefined;
	readonly title: string;
	readonly titleBox: Box;
	/** Everything that the manifold takes up. */
	readonly boxes: readonly Box[];
}

export interface ManifoldTag {
	readonly box: Box;
	readonly text: string;
	readonly isUpright: boolean;
}

export interface PortStrip {
	readonly box: Box;
	/** Ports side by side with upright text, or one below the other with level text. */
	readonly isUpright: boolean;
	readonly cells: readonly PortCell[];
}

/** A pair of ports on paper, with the loop that it feeds. */
export interface PortPair {
	readonly loop: LoopFeature;
	readonly loopIndex: number;
	readonly flow: Point;
	readonly back: Point;
}

export interface PortCell extends PortPair {
	readonly box: Box;
	/** Where the leader from the port ends. */
	readonly entry: Point;
}

/** mm on paper: a longer id is shortened. */
export const ID_WIDTH = 12;

/** From the back of the body, behind a pair of ports, to the pair's label. */
export function leaderTo({ flow, back, entry }: PortCell, frame: WallFrame): readonly [Point, Point] {
	return [shift(frame, middleBetween(flow, back), -frame.depth), entry];
}
