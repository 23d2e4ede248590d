import type { LoopFeature } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import { type Box, boxAt, middleBetween } from "../paper.ts";
import { shorten, textWidth } from "../text.ts";
import { letter } from "../tokens.ts";
import { ID_WIDTH, type PortCell, type PortPair, type PortStrip } from "./manifoldDrawing.ts";
import { shift, type WallFrame } from "./wallFrame.ts";

// mm on paper
const CELL_PITCH = 3;
const LEAST_LABEL = 6;
export const TITLE_HEIGHT = 3.4;

/** Where labels hang behind a body, on paper. */
export interface Hook {
	/** Middle of the edge that is towards the body. */
	readonly at: Point;
	/** -1 or 1 along x and along y: the side of `at` on which the labels lie. */
	readonly side: Point;
	/** Behind a body in a level wall the labels hang side by side. */
	readonly isUpright: boolean;
}

/** The hook `distance` mm of paper behind the face of the wall and `sideways` along it. */
export function hookBehind(frame: WallFrame, distance: number, sideways: number): Hook {
	const { out } = frame;
	return {
		at: shift(frame, frame.at, -distance, sideways),
		side: [Math.sign(-out[0]) || 1, Math.sign(-out[1]) || 1],
		isUpright: Math.abs(out[1]) >= Math.abs(out[0]),
	};
}

/** The box of that size that hangs on the hook. */
export function boxOn({ at, side, isUpright }: Hook, width: number, height: number): Box {
	const centre: Point = isUpright ? [at[0], at[1] + (side[1] * height) / 2] : [at[0] + (side[0] * width) / 2, at[1]];
	return boxAt(centre, width, height);
}

/** A label for each pair of ports in the order in which they come along the wall, and the place of the title. */
export function portStrip(
	ports: readonly PortPair[],
	hook: Hook,
	titleWidth: number,
): { readonly strip: PortStrip; readonly titleBox: Box } {
	const { isUpright, side } = hook;
	const long = Math.max(...ports.map(({ loop }) => labelWidth(loop)), LEAST_LABEL) + 1.6;
	const span = ports.length * CELL_PITCH;
	const width = Math.max(isUpright ? span : long, titleWidth);
	const height = (isUpright ? long : span) + TITLE_HEIGHT;
	const box = boxOn(hook, width, height);
	// the title stands at the end away from the wall, so that no leader crosses it
	const isTitleOnTop = !isUpright || side[1] < 0;
	const titleBox = isTitleOnTop
		? { ...box, bottom: box.top + TITLE_HEIGHT }
		: { ...box, top: box.bottom - TITLE_HEIGHT };
	const top = isTitleOnTop ? titleBox.bottom : box.top;
	const first = isUpright ? hook.at[0] - span / 2 : top;
	const cells = inOrder(ports, isUpright).map((port, index): PortCell => {
		const from = first + index * CELL_PITCH;
		return isUpright
			? uprightCell(port, { left: from, right: from + CELL_PITCH, top, bottom: top + long }, side)
			: levelCell(port, { left: box.left, right: box.right, top: from, bottom: from + CELL_PITCH }, side);
	});
	return { strip: { box, isUpright, cells }, titleBox };
}

function labelWidth(loop: LoopFeature): number {
	return textWidth(`${loop.properties.port}  ${shownId(loop)}`, letter.small, true);
}

/** The id of a loop as the strip shows it. */
export function shownId(loop: LoopFeature): string {
	return shorten(loop.id, ID_WIDTH, letter.small, true);
}

function inOrder(ports: readonly PortPair[], isUpright: boolean): readonly PortPair[] {
	const axis = isUpright ? 0 : 1;
	const place = ({ flow, back }: PortPair): number => middleBetween(flow, back)[axis];
	return [...ports].sort((a, b) => place(a) - place(b) || a.loopIndex - b.loopIndex);
}

function uprightCell(port: PortPair, box: Box, [, side]: Point): PortCell {
	return { ...port, box, entry: [box.left + CELL_PITCH / 2, side > 0 ? box.top : box.bottom] };
}

function levelCell(port: PortPair, box: Box, [side]: Point): PortCell {
	return { ...port, box, entry: [side > 0 ? box.left : box.right, box.top + CELL_PITCH / 2] };
}
