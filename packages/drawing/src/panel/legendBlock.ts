import { pathData } from "../paper.ts";
import { CHANNEL_OPACITY } from "../plan/drawChannels.ts";
import { RETURN_DASH } from "../plan/drawLoop.ts";
import { RING } from "../plan/paperLoop.ts";
import { textAt } from "../text.ts";
import { letter, pen, type Theme, type Tokens } from "../tokens.ts";
import { type Attributes, element, group } from "../xml.ts";
import { type Block, HEADING, heading, type PanelContext } from "./block.ts";

/** Two entries side by side, a row every so many mm on paper. */
const ROW = 4;

/** Length of the samples, mm on paper. */
const SAMPLE = 12;

/** A kind of line or ground, and a sample of it from `x` on, at the height `y`, mm on paper. */
interface LegendEntry {
	readonly name: string;
	readonly draw: (x: number, y: number) => string;
}

/** What the lines and tints mean; drawn with the very strokes that the plan uses. */
export function legendBlock(context: PanelContext): Block {
	const { colours, theme, width } = context;
	const entries = [...pipeEntries(colours), ...floorEntries(colours, theme)];
	return {
		height: HEADING + Math.ceil(entries.length / 2) * ROW + 1,
		draw: (x, y) =>
			group({ class: "legend" }, [
				heading("Legend", x, y, context),
				...entries.flatMap(({ name, draw }, i) => {
					const left = x + (i % 2) * (width / 2);
					const middle = y + HEADING + 2.2 + Math.floor(i / 2) * ROW;
					return [
						draw(left, middle),
						textAt(left + SAMPLE + 2, middle, name, { size: letter.body, fill: colours.ink }),
					];
				}),
			]),
	};
}

/** The halves of a loop, in the colour of the first one. */
function pipeEntries(colours: Tokens): readonly LegendEntry[] {
	const colour = colours.loops[0] ?? colours.ink;
	return [
		{
			name: "flow half: solid",
			draw: (x, y) => lineSample(x, y, colour) + arrowSample(x, y, { fill: colour, stroke: colour }),
		},
		{
			name: "return half: dashed",
			draw: (x, y) =>
				lineSample(x, y, colour, RETURN_DASH) + arrowSample(x, y, { fill: colours.floor, stroke: colour }),
		},
		{
			name: "half of the pipe's length",
			draw: (x, y) => ringSample(x, y, { fill: colours.floor, stroke: colour }),
		},
	];
}

function floorEntries(colours: Tokens, theme: Theme): readonly LegendEntry[] {
	return [
		{
			name: "channel, ×4: four pipes",
			draw: (x, y) =>
				swatch(x, y, { fill: colours.channel, "fill-opacity": CHANNEL_OPACITY }) +
				textAt(x + SAMPLE / 2, y, "×4", {
					size: letter.small * 0.9,
					fill: colours.ink,
					bold: true,
					anchor: "middle",
				}),
		},
		{
			name: "keep-out: no pipe",
			draw: (x, y) => swatch(x, y, { fill: `url(#keepout-${theme})`, stroke: colours.muted, "stroke-width": pen.thin }),
		},
		{
			name: "unheated floor",
			draw: (x, y) => swatch(x, y, { fill: colours.unheated, stroke: colours.wallFace, "stroke-width": pen.thin }),
		},
	];
}

function lineSample(x: number, y: number, stroke: string, dash?: string): string {
	const ends = [
		[x, y],
		[x + SAMPLE, y],
	] as const;
	return element("path", { d: pathData(ends), stroke, "stroke-width": 0.4, "stroke-dasharray": dash });
}

function arrowSample(x: number, y: number, colours: Attributes): string {
	const corners = [
		[x + 6.85, y],
		[x + 5.15, y - 0.55],
		[x + 5.15, y + 0.55],
	] as const;
	return element("path", { d: pathData(corners, true), ...colours, "stroke-width": pen.thin });
}

function ringSample(x: number, y: number, colours: Attributes): string {
	return element("circle", { cx: x + SAMPLE / 2, cy: y, r: RING, ...colours, "stroke-width": pen.medium });
}

function swatch(x: number, y: number, attributes: Attributes): string {
	return element("rect", { x, y: y - 1.1, width: SAMPLE, height: 2.2, ...attributes });
}
