import type { Floor, Layout } from "@oxturn/floor";
import { layOutPanel } from "./panel/panel.ts";
import { type Box, pathData, sizeOf, type View } from "./paper.ts";
import { drawFloor } from "./plan/drawFloor.ts";
import { hatches } from "./plan/hatches.ts";
import { planExtent } from "./plan/planExtent.ts";
import { scaleBar } from "./scaleBar.ts";
import { loopSchedule } from "./schedule.ts";
import { A3, FRAME, GUTTER, MARGIN, PANEL, type Sheet, sheetFor, usualSheet } from "./sheet.ts";
import { pen, type Theme, type Tokens, tokens } from "./tokens.ts";
import { cleanText, element, escapeXml, paperNumber } from "./xml.ts";

export interface DrawPlanOptions {
	readonly floor: Floor;
	readonly layout: Layout;
	/** Stands in the title block. @default the floor's name */
	readonly title?: string;
	/** Floor mm to one paper mm. @default the largest usual one at which the plan fits: 1:20 to 1:100 on A3, else 1:100 on A2 or A1, else 1:200 */
	readonly scale?: number;
	/** @default "light" */
	readonly theme?: Theme;
}

/**
 * Draws `layout` on `floor` as a standalone SVG to scale: width and height in paper mm, one user unit a paper mm. The
 * sheet is A3 landscape, A2 or A1 for large floors, and grows where a stated scale, a long schedule or many notices
 * need more. The same input gives the same bytes. Throws a `RangeError` for a scale that is not a positive number,
 * for a theme that there is not, and for coordinates that are not finite.
 */
export function drawPlan(options: DrawPlanOptions): string {
	const { floor, layout, theme = "light" } = options;
	if (options.scale !== undefined && !(Number.isFinite(options.scale) && options.scale > 0))
		throw new RangeError(`Scale ${options.scale}: expected a positive number n, drawn as 1:n.`);
	if (!Object.keys(tokens).includes(theme)) {
		const found = typeof theme === "string" ? JSON.stringify(theme) : String(theme);
		throw new RangeError(`Theme ${found}: expected "light" or "dark".`);
	}
	const colours = tokens[theme];
	const title = cleanText(options.title ?? floor.name);
	const [scale, paper] = options.scale === undefined ? usualSheet(floor, layout) : [options.scale, A3];
	const extent = planExtent(floor, layout, scale);
	const rows = loopSchedule({ floor, layout });
	const panel = layOutPanel({ floor, layout, rows, title, scale, theme, colours, width: PANEL });
	const sheet = sheetFor(paper, sizeOf(extent), panel.height);
	return svgDocument(sheet, scale, [
		element("title", {}, escapeXml(title === "" ? "Loop plan" : `Loop plan: ${title}`)),
		element("desc", {}, escapeXml(`${layout.features.length} loops in ${floor.rooms.length} rooms, drawn 1:${scale}.`)),
		hatches(theme, colours),
		...drawFrame(sheet, colours),
		drawFloor(floor, layout, centred(extent, sheet, scale), theme),
		scaleBar(scale, MARGIN, sheet.height - MARGIN, colours),
		...panel.draw(panelEdge(sheet), MARGIN, sheet.height - MARGIN, sheet.name),
	]);
}

/** Puts the plan, that takes up `extent` round the floor's origin, into the middle of its field. */
function centred(extent: Box, { field }: Sheet, scale: number): View {
	const { width, height } = sizeOf(extent);
	const x = MARGIN + (field.width - width) / 2 - extent.left;
	const y = MARGIN + (field.height - height) / 2 - extent.top;
	return { scale, origin: [x, y] };
}

/** Left edge of the panel, mm on paper. */
function panelEdge({ width }: Sheet): number {
	return width - MARGIN - PANEL;
}

/** The ground, its frame and the line between plan and panel. */
function drawFrame(sheet: Sheet, colours: Tokens): readonly string[] {
	const { width, height } = sheet;
	const middle = panelEdge(sheet) - GUTTER / 2;
	const divider = [
		[middle, FRAME],
		[middle, height - FRAME],
	] as const;
	return [
		element("rect", { width, height, fill: colours.paper }),
		element("rect", {
			x: FRAME,
			y: FRAME,
			width: width - 2 * FRAME,
			height: height - 2 * FRAME,
			fill: "none",
			stroke: colours.ink,
			"stroke-width": pen.medium,
		}),
		element("path", { d: pathData(divider), stroke: colours.rule, "stroke-width": pen.thin }),
	];
}

function svgDocument({ width, height }: Sheet, scale: number, parts: readonly string[]): string {
	const attributes = {
		xmlns: "http://www.w3.org/2000/svg",
		width: `${paperNumber(width)}mm`,
		height: `${paperNumber(height)}mm`,
		viewBox: `0 0 ${paperNumber(width)} ${paperNumber(height)}`,
		role: "img",
		"font-family": "sans-serif",
		"data-scale": String(scale),
	};
	return `<?xml version="1.0" encoding="UTF-8"?>\n${element("svg", attributes, "\n", parts.join("\n"), "\n")}\n`;
}
