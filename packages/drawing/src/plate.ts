import { type Box, rectOf } from "./paper.ts";
import { pen, type Tokens } from "./tokens.ts";
import { element } from "./xml.ts";

/** A quiet ground for text that stands on top of pipes. */
export function plate(box: Box, colours: Tokens, stroke: string = colours.rule): string {
	return element("rect", { ...rectOf(box), rx: 0.5, fill: colours.paper, stroke, "stroke-width": pen.hair });
}
