import { type ScheduleRow, scheduleTotals } from "../schedule.ts";
import { counted, shorten, textAt, textWidth, wrapText } from "../text.ts";
import { letter, loopColour, pen } from "../tokens.ts";
import { element, group } from "../xml.ts";
import { type Block, HEADING, heading, LINE, type PanelContext, rule, type Stacked, stack } from "./block.ts";
import { type Cell, type Column, drawCell } from "./column.ts";

// widths add up to the panel's 112 mm
const COLUMNS = {
	loop: { name: "Loop", from: 0, width: 17 },
	port: { name: "Port", from: 17, width: 15 },
	rooms: { name: "Rooms", from: 32, width: 28 },
	pattern: { name: "Pattern", from: 60, width: 18 },
	spacing: { name: "mm", from: 78, width: 8, isNumber: true },
	length: { name: "Length m", from: 86, width: 14, isNumber: true },
	percent: { name: "% of limit", from: 100, width: 12, isNumber: true },
} as const satisfies Readonly<Record<string, Column>>;

/** Rooms of a loop may take so many lines; the last one then ends in an ellipsis. */
const ROOM_LINES = 3;

/** What is written of one loop. */
interface LoopEntry {
	readonly row: ScheduleRow;
	/** Colour of the loop on the plan. */
	readonly colour: string;
	/** Every other one, so that the eye keeps to a line. */
	readonly isTinted: boolean;
	/** Names of its rooms, broken into lines. */
	readonly rooms: readonly string[];
	/** mm on paper */
	readonly height: number;
}

/** The loop schedule with its totals. */
export function scheduleBlock(context: PanelContext): Block {
	const entries = loopEntries(context);
	const table = entries.reduce((sum, { height }) => sum + height, 0);
	return {
		height: HEADING + LINE + 1 + Math.max(table, heightOf(1)) + 2 * LINE + 2.5,
		draw(x, y) {
			const head = y + HEADING;
			const { stacked, bottom } = stack(entries, head + (LINE + 1));
			const end = entries.length === 0 ? bottom + heightOf(1) : bottom;
			return group({ class: "schedule" }, [
				heading("Loop schedule", x, y, context),
				...drawHead(x, head, context),
				...(entries.length === 0 ? [noLoops(x, bottom, context)] : []),
				...stacked.flatMap((entry) => drawEntry(entry, x, context)),
				...drawTotals(x, end, context),
			]);
		},
	};
}

function loopEntries({ rows, layout, colours }: PanelContext): readonly LoopEntry[] {
	const indices = new Map(layout.features.map((loop, index) => [loop.id, index]));
	return rows.map((row, i) => {
		const rooms = wrapText(row.rooms.join(", "), COLUMNS.rooms.width - 1.5, letter.body, ROOM_LINES);
		const colour = loopColour(colours, indices.get(row.loop) ?? i);
		return { row, colour, isTinted: i % 2 === 0, rooms, height: heightOf(rooms.length) };
	});
}

/** What a loop takes up, mm on paper. */
function heightOf(lines: number): number {
	return Math.max(1, lines) * LINE + 1;
}

/** Middle of a line's letters, mm on paper. */
function lineAt(top: number, line: number): number {
	return top + 0.5 + LINE * (line + 0.5);
}

function drawHead(x: number, top: number, { colours }: PanelContext): readonly string[] {
	return Object.values(COLUMNS).map((column) =>
		drawCell({ column, text: column.name }, x, lineAt(top, 0), { size: letter.small, fill: colours.muted }),
	);
}

function noLoops(x: number, top: number, { colours }: PanelContext): string {
	return textAt(x, lineAt(top, 0), "No loops", { size: letter.body, fill: colours.muted });
}

function drawEntry({ item, top }: Stacked<LoopEntry>, x: number, { colours, width }: PanelContext): readonly string[] {
	const { row, colour, isTinted, rooms, height } = item;
	const style = { size: letter.body, fill: colours.ink };
	const middle = lineAt(top, 0);
	return [
		...(isTinted ? [element("rect", { x, y: top, width, height, fill: colours.band })] : []),
		rule(x + 0.8, middle, 3.4, { stroke: colour, "stroke-width": 0.9 }),
		textAt(x + 5.2, middle, shorten(row.loop, 11, letter.body, true), { ...style, bold: true }),
		...cellsOf(row).map((cell) => drawCell(cell, x, middle, style)),
		...rooms.map((text, line) => drawCell({ column: COLUMNS.rooms, text }, x, lineAt(top, line), style)),
	];
}

/** The cells that always take one line. */
function cellsOf(row: ScheduleRow): readonly Cell[] {
	// of the two the number matters more: the manifold's id gives way
	const number = `/${row.port}`;
	const port = shorten(row.manifold, 14 - textWidth(number, letter.body), letter.body) + number;
	return [
		{ column: COLUMNS.port, text: port },
		{ column: COLUMNS.pattern, text: row.pattern },
		{ column: COLUMNS.spacing, text: String(Math.round(row.spacing)) },
		{ column: COLUMNS.length, text: row.length.toFixed(1) },
		{ column: COLUMNS.percent, text: row.percent.toFixed(0) },
	];
}

function drawTotals(x: number, y: number, { floor, rows, colours, width }: PanelContext): readonly string[] {
	const { loops, pipe, longest, percent, spread } = scheduleTotals(rows);
	const lines = [
		`${counted(loops, "loop")}, ${pipe.toFixed(1)} m of pipe`,
		`Longest ${longest.toFixed(1)} m, ${percent.toFixed(0)} % of ${floor.system.maxLoopLength} m; ` +
			`shortest ${(longest - spread).toFixed(1)} m; spread ${spread.toFixed(1)} m`,
	];
	const top = y + 0.8;
	return [
		rule(x, y, width, { stroke: colours.ink, "stroke-width": pen.thin }),
		...lines.map((text, line) =>
			textAt(x, top + LINE * (line + 0.5), text, { size: letter.body, fill: colours.ink, bold: line === 0 }),
		),
	];
}
