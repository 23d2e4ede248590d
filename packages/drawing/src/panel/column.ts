import { textAt } from "../text.ts";

/** A column of a table beside the plan. */
export interface Column {
	readonly name: string;
	/** From the panel's left edge, mm on paper. */
	readonly from: number;
	/** mm on paper */
	readonly width: number;
	readonly isNumber?: boolean;
}

/** What stands in one column: text begins at its left edge, a figure ends at its right one. */
export interface Cell {
	readonly column: Column;
	readonly text: string;
}

/** Writes a cell of a table whose left edge is at `x`; `y` is the middle of the letters' height, mm on paper. */
export function drawCell(
	{ column, text }: Cell,
	x: number,
	y: number,
	style: { readonly size: number; readonly fill: string },
): string {
	const left = x + column.from;
	return column.isNumber
		? textAt(left + column.width, y, text, { ...style, anchor: "end" })
		: textAt(left, y, text, style);
}
