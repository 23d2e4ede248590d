import type { Floor, Layout } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import { labelBoard } from "./labels.ts";
import { drawManifold, layOutManifolds } from "./manifold.ts";
import {
	type Block,
	channelsBlock,
	legendBlock,
	noticesBlock,
	type PanelContext,
	scheduleBlock,
	titleBlock,
} from "./panel.ts";
import { type Box, boxAround, pathData, toPaper, unionOfBoxes, type View } from "./paper.ts";
import { pipeGrid } from "./pipeGrid.ts";
import { drawLoop, paperLoop, pipeWidth, ringBox } from "./pipes.ts";
import {
	drawChannels,
	drawDoorways,
	drawKeepouts,
	drawRooms,
	hatches,
	labelChannels,
	labelKeepouts,
	labelLoops,
	labelRooms,
	type PlanContext,
	WALL,
} from "./plan.ts";
import { scaleBar } from "./scaleBar.ts";
import { loopSchedule } from "./schedule.ts";
import { pen, type Theme, tokens } from "./tokens.ts";
import { cleanText, element, escapeXml, group, paperNumber } from "./xml.ts";

export interface DrawPlanOptions {
	readonly floor: Floor;
	readonly layout: Layout;
	/** Stands in the title block. @default the floor's name */
	readonly title?: string;
	/** Floor mm to one paper mm. @default the largest usual scale, 1:20 to 1:200, at which the plan fits A3 landscape */
	readonly scale?: number;
	/** @default "light" */
	readonly theme?: Theme;
}

const USUAL_SCALES = [20, 25, 50, 100, 200] as const;

// mm on paper: A3 landscape (ISO 216), the margins, and the panel of tables at the right
const SHEET = { width: 420, height: 297 } as const;
const MARGIN = 10;
const FRAME = 6;
const PANEL = 112;
const GUTTER = 7;
const FOOT = 12; // under the plan, for the scale bar
const BLOCK_GAP = 5;

/**
 * Draws `layout` on `floor` as a standalone SVG to scale: width and height in paper mm, one user unit a paper mm. The
 * sheet is A3 landscape, and grows where a stated scale, a long schedule or many notices need more. The same input
 * gives the same bytes. Throws a `RangeError` for a scale that is not a positive number and for coordinates that are
 * not finite.
 */
export function drawPlan(options: DrawPlanOptions): string {
	const { floor, layout, theme = "light" } = options;
	if (options.scale !== undefined && !(Number.isFinite(options.scale) && options.scale > 0))
		throw new RangeError(`Scale ${options.scale}: expected a positive number n, drawn as 1:n.`);
	const colours = tokens[theme];
	const title = cleanText(options.title ?? floor.name);
	const room: Size = {
		width: SHEET.width - 2 * MARGIN - GUTTER - PANEL,
		height: SHEET.height - 2 * MARGIN - FOOT,
	};
	const scale = options.scale ?? usualScale(floor, layout, room);
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
	const isUsual = width === SHEET.width && height === SHEET.height;
	const lower = titleBlock(panel, isUsual ? "A3" : `${paperNumber(width)} × ${paperNumber(height)} mm`);

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
			drawnPlan({ floor, layout, view, theme }),
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

/**
 * Everything that belongs to the floor. Who chooses a place first differs from what is painted first: names go before
 * arrowheads, arrowheads before loops' labels, and all labels are painted on top.
 */
function drawnPlan(from: { floor: Floor; layout: Layout; view: View; theme: Theme }): string {
	const { floor, layout, view, theme } = from;
	const colours = tokens[theme];
	const board = labelBoard();
	const pipes = layout.features.map((loop, index) =>
		paperLoop(
			loop,
			index,
			loop.geometry.coordinates.map((p) => toPaper(view, p)),
		),
	);
	const grid = pipeGrid(pipes);
	const context: PlanContext = { floor, view, theme, colours, board, pipes, grid };
	const manifolds = layOutManifolds(floor, layout, view, WALL);
	for (const box of manifolds.flatMap((manifold) => manifold.boxes)) board.reserve(box);
	for (const pipe of pipes) if (pipe.points.length > 1) board.reserve(ringBox(pipe));
	const names = [labelRooms(context), labelKeepouts(context)];
	const width = pipeWidth(floor.system.pipe.outerDiameter, view.scale);
	const loops = pipes.map((pipe) => drawLoop(pipe, grid, board, width, colours));
	const tags = [labelLoops(context), labelChannels(layout.channels, context)];
	return group({ class: "plan" }, [
		drawRooms(context),
		drawDoorways(context),
		drawKeepouts(context),
		drawChannels(layout.channels, context),
		group({ class: "loops" }, loops),
		...manifolds.map((manifold) => drawManifold(manifold, view, colours)),
		...names,
		...tags,
	]);
}

/** What the plan takes up round the floor's origin at `scale`, mm on paper: walls and port labels included. */
function planExtent(floor: Floor, layout: Layout, scale: number): Box {
	const view: View = { scale, origin: [0, 0] };
	const drawn: readonly (readonly Point[])[] = [
		...floor.rooms.map((room) => room.region.outer),
		...floor.doorways.map((doorway) => doorway.region.outer),
		...floor.keepouts.map((keepout) => keepout.region.outer),
		...layout.features.map((loop) => loop.geometry.coordinates),
		...floor.manifolds.map((manifold) => [manifold.position]),
	];
	const points = drawn.flat().map((p) => toPaper(view, p));
	if (points.length === 0) return { left: 0, top: 0, right: 0, bottom: 0 };
	const strips = layOutManifolds(floor, layout, view, WALL).flatMap((manifold) => manifold.boxes);
	return unionOfBoxes([boxAround(points, WALL / scale + pen.medium), ...strips]);
}

function usualScale(floor: Floor, layout: Layout, room: Size): number {
	const walls = boxAround(floor.rooms.flatMap(({ region }) => region.outer));
	const fits = (scale: number): boolean => {
		// placing labels takes time, so it is left for scales at which at least the rooms fit
		if ((walls.right - walls.left) / scale > room.width || (walls.bottom - walls.top) / scale > room.height)
			return false;
		const extent = planExtent(floor, layout, scale);
		return extent.right - extent.left <= room.width && extent.bottom - extent.top <= room.height;
	};
	return USUAL_SCALES.find(fits) ?? USUAL_SCALES[USUAL_SCALES.length - 1]!;
}
