import type { Floor, Layout } from "@oxturn/floor";
import type { Block, PanelContext } from "./panel/block.ts";
import { channelsBlock } from "./panel/channelsBlock.ts";
import { legendBlock } from "./panel/legendBlock.ts";
import { noticesBlock } from "./panel/noticesBlock.ts";
import { scheduleBlock } from "./panel/scheduleBlock.ts";
import { titleBlock } from "./panel/titleBlock.ts";
import { boxAround, pathData, type View } from "./paper.ts";
import { drawFloor, planExtent } from "./plan/drawFloor.ts";
import { hatches } from "./plan/hatches.ts";
import { scaleBar } from "./scaleBar.ts";
import { loopSchedule } from "./schedule.ts";
import { pen, type Theme, tokens } from "./tokens.ts";
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

/** A sheet of paper, mm, landscape. */
interface Sheet extends Size {
	readonly name: string;
}

// ISO 216
const A3: Sheet = { name: "A3", width: 420, height: 297 };
const A2: Sheet = { name: "A2", width: 594, height: 420 };
const A1: Sheet = { name: "A1", width: 841, height: 594 };

/** Tried in turn. At 1:200 tails can hardly be told apart, so a larger sheet comes first. */
const USUAL: readonly (readonly [scale: number, sheet: Sheet])[] = [
	[20, A3],
	[25, A3],
	[50, A3],
	[100, A3],
	[100, A2],
	[100, A1],
	[200, A3],
	[200, A2],
	[200, A1],
];

// mm on paper: the margins, and the panel of tables at the right
const MARGIN = 10;
const FRAME = 6;
const PANEL = 112;
const GUTTER = 7;
const FOOT = 12; // under the plan, for the scale bar
const BLOCK_GAP = 5;

/**
 * Draws `layout` on `floor` as a standalone SVG to scale: width and height in paper mm, one user unit a paper mm. The
 * sheet is A3 landscape, A2 or A1 for large floors, and grows where a stated scale, a long schedule or many notices need more. The same input
 * gives the same bytes. Throws a `RangeError` for a scale that is not a positive number and for coordinates that are
 * not finite.
 */
export function drawPlan(options: DrawPlanOptions): string {
	const { floor, layout, theme = "light" } = options;
	if (options.scale !== undefined && !(Number.isFinite(options.scale) && options.scale > 0))
		throw new RangeError(`Scale ${options.scale}: expected a positive number n, drawn as 1:n.`);
	const colours = tokens[theme];
	const title = cleanText(options.title ?? floor.name);
	const [scale, sheet] = options.scale === undefined ? usualSheet(floor, layout) : [options.scale, A3];
	const room = roomOn(sheet);
	const extent = planExtent(floor, layout, scale);
	const plan: Size = {
		width: Math.max(room.width, extent.right - extent.left),
		height: Math.max(room.height, extent.bottom - extent.top),
	};

	const rows = loopSchedule({ floor, layout });
	const panel: PanelContext = { floor, layout, rows, title, scale, theme, colours, width: PANEL };
	const upper = [scheduleBlock(panel), channelsBlock(panel), noticesBlock(panel), legendBlock(panel)].filter(
		(block) => block !== undefined,
	);
	const width = plan.width + 2 * MARGIN + GUTTER + PANEL;
	// the title block names the sheet it stands on, so the sheet's height has to be known before it is drawn
	const heightWith = (block: Block): number =>
		Math.max(plan.height + FOOT, upper.reduce((sum, { height }) => sum + height + BLOCK_GAP, 0) + block.height) +
		2 * MARGIN;
	const height = Math.ceil(heightWith(titleBlock(panel, "")));
	const isUsual = width === sheet.width && height === sheet.height;
	const lower = titleBlock(panel, isUsual ? sheet.name : `${paperNumber(width)} × ${paperNumber(height)} mm`);

	const field: Size = { width: plan.width, height: height - 2 * MARGIN - FOOT };
	const view: View = {
		scale,
		origin: [
			MARGIN + (field.width - (extent.right - extent.left)) / 2 - extent.left,
			MARGIN + (field.height - (extent.bottom - extent.top)) / 2 - extent.top,
		],
	};

	const panelX = width - MARGIN - PANEL;
	const blocks: string[] = [];
	let y = MARGIN;
	for (const block of upper) {
		blocks.push(block.draw(panelX, y));
		y += block.height + BLOCK_GAP;
	}
	blocks.push(lower.draw(panelX, height - MARGIN - lower.height));

	const name = title === "" ? "Loop plan" : `Loop plan: ${title}`;
	const about = `${layout.features.length} loops in ${floor.rooms.length} rooms, drawn 1:${scale}.`;
	const svg = element(
		"svg",
		{
			xmlns: "http://www.w3.org/2000/svg",
			width: `${paperNumber(width)}mm`,
			height: `${paperNumber(height)}mm`,
			viewBox: `0 0 ${paperNumber(width)} ${paperNumber(height)}`,
			role: "img",
			"font-family": "sans-serif",
			"data-scale": String(scale),
		},
		"\n",
		[
			element("title", {}, escapeXml(name)),
			element("desc", {}, escapeXml(about)),
			hatches(theme, colours),
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
			element("path", {
				d: pathData([
					[panelX - GUTTER / 2, FRAME],
					[panelX - GUTTER / 2, height - FRAME],
				]),
				stroke: colours.rule,
				"stroke-width": pen.thin,
			}),
			drawFloor(floor, layout, view, theme),
			scaleBar(scale, MARGIN, height - MARGIN, colours),
			...blocks,
		].join("\n"),
		"\n",
	);
	return `<?xml version="1.0" encoding="UTF-8"?>\n${svg}\n`;
}

interface Size {
	readonly width: number;
	readonly height: number;
}

/** What a sheet leaves for the plan. */
const roomOn = ({ width, height }: Sheet): Size => ({
	width: width - 2 * MARGIN - GUTTER - PANEL,
	height: height - 2 * MARGIN - FOOT,
});

function usualSheet(floor: Floor, layout: Layout): readonly [scale: number, sheet: Sheet] {
	const walls = boxAround(floor.rooms.flatMap(({ region }) => region.outer));
	const found = USUAL.find(([scale, sheet]) => {
		const room = roomOn(sheet);
		// placing labels takes time, so it is left for scales at which at least the rooms fit
		if ((walls.right - walls.left) / scale > room.width || (walls.bottom - walls.top) / scale > room.height)
			return false;
		const extent = planExtent(floor, layout, scale);
		return extent.right - extent.left <= room.width && extent.bottom - extent.top <= room.height;
	});
	return found ?? USUAL[USUAL.length - 1]!;
}
