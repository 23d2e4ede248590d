import { channelSchedule, passes } from "../channels.ts";
import { shorten } from "../text.ts";
import { letter } from "../tokens.ts";
import { group } from "../xml.ts";
import { type Block, HEADING, heading, LINE, type PanelContext } from "./block.ts";
import { type Column, drawCell } from "./column.ts";

const COLUMNS: readonly Column[] = [
	{ name: "Room", from: 0, width: 30 },
	{ name: "To", from: 30, width: 30 },
	{ name: "Through", from: 60, width: 28 },
	{ name: "Pipes", from: 88, width: 10, isNumber: true },
	{ name: "Width mm", from: 98, width: 14, isNumber: true },
];

/** How many tails share each doorway or stretch of wall; nothing for a plan without channels. */
export function channelsBlock(context: PanelContext): Block | undefined {
	const { floor, layout, colours } = context;
	const rows = channelSchedule({ floor, layout });
	if (rows.length === 0) return undefined;
	const head = COLUMNS.map(({ name }) => name);
	const lines = rows.map((row) => [row.room, row.to, passes(row), String(row.pipes), String(Math.round(row.width))]);
	return {
		height: HEADING + LINE * (rows.length + 1) + 1.5,
		draw: (x, y) =>
			group({ class: "channel-list" }, [
				heading("Channels of the tails", x, y, context),
				...drawLine(head, x, y + HEADING, { size: letter.small, fill: colours.muted }),
				...lines.flatMap((texts, i) =>
					drawLine(texts, x, y + HEADING + 0.5 + LINE * (i + 1), { size: letter.body, fill: colours.ink }),
				),
			]),
	};
}

/** One line of the table; names too long for their column are shortened, figures never. */
function drawLine(
	texts: readonly string[],
	x: number,
	top: number,
	style: { readonly size: number; readonly fill: string },
): readonly string[] {
	return COLUMNS.map((column, i) => {
		const text = column.isNumber ? texts[i]! : shorten(texts[i]!, column.width - 1, style.size);
		return drawCell({ column, text }, x, top + LINE / 2, style);
	});
}
