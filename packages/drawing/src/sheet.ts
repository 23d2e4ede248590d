import type { Floor, Layout } from "@oxturn/floor";
import { boxAround, type Size, sizeOf } from "./paper.ts";
import { planExtent } from "./plan/planExtent.ts";
import { paperNumber } from "./xml.ts";

/** A usual sheet of paper, landscape. */
export interface Paper extends Size {
	readonly name: string;
}

/** The sheet that is drawn, as large as it has to be. */
export interface Sheet extends Size {
	/** Of the paper's size, or else the size itself. */
	readonly name: string;
	/** What there is for the plan, from the upper left corner of the margin on. */
	readonly field: Size;
}

// ISO 216
export const A3: Paper = { name: "A3", width: 420, height: 297 };
const A2: Paper = { name: "A2", width: 594, height: 420 };
const A1: Paper = { name: "A1", width: 841, height: 594 };

/** Tried in turn. At 1:200 tails can hardly be told apart, so a larger sheet comes first. */
const USUAL: readonly (readonly [scale: number, paper: Paper])[] = [
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
export const MARGIN = 10;
export const FRAME = 6;
export const PANEL = 112;
export const GUTTER = 7;
const FOOT = 12; // under the plan, for the scale bar

/** The largest usual scale at which the plan fits a usual sheet; the smallest on the largest where none does. */
export function usualSheet(floor: Floor, layout: Layout): readonly [scale: number, paper: Paper] {
	const walls = sizeOf(boxAround(floor.rooms.flatMap(({ region }) => region.outer)));
	const found = USUAL.find(([scale, paper]) => {
		const room = roomOn(paper);
		// placing labels takes time, so it is left for scales at which at least the rooms fit
		if (walls.width / scale > room.width || walls.height / scale > room.height) return false;
		const extent = sizeOf(planExtent(floor, layout, scale));
		return extent.width <= room.width && extent.height <= room.height;
	});
	return found ?? USUAL[USUAL.length - 1]!;
}

/** What a paper leaves for the plan. */
function roomOn({ width, height }: Size): Size {
	return { width: width - 2 * MARGIN - GUTTER - PANEL, height: height - 2 * MARGIN - FOOT };
}

/** The paper, grown where the plan or a panel of that height needs more than it has. */
export function sheetFor(paper: Paper, plan: Size, panelHeight: number): Sheet {
	const room = roomOn(paper);
	const fieldWidth = Math.max(room.width, plan.width);
	const width = fieldWidth + 2 * MARGIN + GUTTER + PANEL;
	const height = Math.ceil(Math.max(Math.max(room.height, plan.height) + FOOT, panelHeight) + 2 * MARGIN);
	const isUsual = width === paper.width && height === paper.height;
	return {
		width,
		height,
		name: isUsual ? paper.name : `${paperNumber(width)} × ${paperNumber(height)} mm`,
		field: { width: fieldWidth, height: height - 2 * MARGIN - FOOT },
	};
}
