import { pathData } from "../paper.ts";
import { pen, type Theme, type Tokens } from "../tokens.ts";
import { element } from "../xml.ts";

/** Hatches, referred to by url; named after the theme so that both can stand in one page. */
export function hatches(theme: Theme, colours: Tokens): string {
	const hatch = (id: string, pitch: number, turn: number, ground: string): string =>
		element(
			"pattern",
			{ id, width: pitch, height: pitch, patternUnits: "userSpaceOnUse", patternTransform: `rotate(${turn})` },
			element("rect", { width: pitch, height: pitch, fill: ground }),
			element("path", {
				d: pathData([
					[0, 0],
					[0, pitch],
				]),
				stroke: colours.keepoutLine,
				"stroke-width": pen.medium,
			}),
		);
	return element(
		"defs",
		{},
		hatch(`keepout-${theme}`, 1.6, 45, colours.keepout),
		hatch(`void-${theme}`, 3, -45, colours.void),
	);
}
