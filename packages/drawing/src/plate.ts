import type { Point } from "@oxturn/geometry";
import { type Box, rectOf, type Size } from "./paper.ts";
import { pen, type Tokens } from "./tokens.ts";
import { type Attributes, element } from "./xml.ts";

/** A quiet ground for text that stands on top of pipes. */
export function plate(box: Box, colours: Tokens, stroke: string = colours.rule): string {
	return element("rect", { ...rectOf(box), rx: 0.5, fill: colours.paper, stroke, "stroke-width": pen.hair });
}

/** One without a frame, of that size round `at`. */
export function ground([x, y]: Point, { width, height }: Size, attributes: Attributes): string {
	return element("rect", { x: x - width / 2, y: y - height / 2, width, height, ...attributes });
}
