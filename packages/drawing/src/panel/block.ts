import type { Floor, Layout } from "@oxturn/floor";
import { pathData } from "../paper.ts";
import type { ScheduleRow } from "../schedule.ts";
import { textAt } from "../text.ts";
import { letter, pen, type Theme, type Tokens } from "../tokens.ts";
import { type Attributes, element } from "../xml.ts";

/** One of the blocks beside the plan; it reports its height, mm on paper, so that the sheet can grow with it. */
export interface Block {
	readonly height: number;
	/** `x`, `y`: upper left corner, mm on paper. */
	readonly draw: (x: number, y: number) => string;
}

/** What the blocks tell of, and the colours and the width, mm on paper, in which they do. */
export interface PanelContext {
	readonly floor: Floor;
	readonly layout: Layout;
	readonly rows: readonly ScheduleRow[];
	readonly title: string;
	readonly scale: number;
	readonly theme: Theme;
	readonly colours: Tokens;
	readonly width: number;
}

/** mm on paper from one line of body text to the next. */
export const LINE = 3.3;

/** What a heading takes up, mm on paper. */
export const HEADING = 6;

export function heading(text: string, x: number, y: number, { colours, width }: PanelContext): string {
	return (
		textAt(x, y + 2.4, text, { size: letter.heading, fill: colours.ink, bold: true }) +
		rule(x, y + 4.9, width, { stroke: colours.ink, "stroke-width": pen.medium })
	);
}

/** A level line from `x`, `y` to the right, `width` mm of paper long. */
export function rule(x: number, y: number, width: number, strokes: Attributes): string {
	const ends = [
		[x, y],
		[x + width, y],
	] as const;
	return element("path", { d: pathData(ends), ...strokes });
}

/** An item of a stack, and where its upper edge comes to lie, mm on paper. */
export interface Stacked<T> {
	readonly item: T;
	readonly top: number;
}

/** Puts items one below the other from `top` downwards, mm on paper; a gap follows each, and `bottom` the last one's. */
export function stack<T extends { readonly height: number }>(
	items: readonly T[],
	top: number,
	gap = 0,
): { readonly stacked: readonly Stacked<T>[]; readonly bottom: number } {
	const stacked: Stacked<T>[] = [];
	let bottom = top;
	for (const item of items) {
		stacked.push({ item, top: bottom });
		bottom += item.height + gap;
	}
	return { stacked, bottom };
}
