import { type Block, type PanelContext, stack } from "./block.ts";
import { channelsBlock } from "./channelsBlock.ts";
import { legendBlock } from "./legendBlock.ts";
import { noticesBlock } from "./noticesBlock.ts";
import { scheduleBlock } from "./scheduleBlock.ts";
import { titleBlock } from "./titleBlock.ts";

/** mm on paper from one block to the next. */
const GAP = 5;

/** The blocks beside the plan. */
export interface Panel {
	/** What they take up at least, mm on paper. */
	readonly height: number;
	/** Draws the title block at the `bottom` and all others from the `top` on, mm on paper; the title names the sheet. */
	readonly draw: (x: number, top: number, bottom: number, sheet: string) => readonly string[];
}

export function layOutPanel(context: PanelContext): Panel {
	const upper: readonly Block[] = [
		scheduleBlock(context),
		channelsBlock(context),
		noticesBlock(context),
		legendBlock(context),
	].filter((block) => block !== undefined);
	return {
		// the sheet can be named only when this is known; a title block is as high whatever sheet it names
		height: upper.reduce((sum, { height }) => sum + height + GAP, 0) + titleBlock(context, "").height,
		draw(x, top, bottom, sheet) {
			const title = titleBlock(context, sheet);
			return [
				...stack(upper, top, GAP).stacked.map((block) => block.item.draw(x, block.top)),
				title.draw(x, bottom - title.height),
			];
		},
	};
}
