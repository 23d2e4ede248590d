import type { Floor, Layout } from "@oxturn/floor";
import { channelSchedule, passes } from "./channels.ts";
import { loopColour } from "./manifold.ts";
import { pathData } from "./paper.ts";
import { RETURN_DASH, RING } from "./pipes.ts";
import { CHANNEL_OPACITY } from "./plan.ts";
import { type ScheduleRow, scheduleTotals } from "./schedule.ts";
import { shorten, textAt, textWidth, wrapText } from "./text.ts";
import { letter, pen, type Theme, type Tokens } from "./tokens.ts";
import { element, group } from "./xml.ts";

/** A stack of blocks beside the plan; every block reports its height, mm on paper, so the sheet can grow with them. */
export interface Block {
	readonly height: number;
	readonly draw: (x: number, y: number) => string;
}

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

const LINE = 3.3; // mm on paper from one line of body text to the next
const HEADING = 6;

export const CAUTION =
	"A plan is no substitute for the pipe maker's instructions, local codes and licensed people. " +
	"Pressure-test before covering. Do not drill into a heated floor.";

function heading(text: string, x: number, y: number, { colours, width }: PanelContext): string {
	return (
		textAt(x, y + 2.4, text, { size: letter.heading, fill: colours.ink, bold: true }) +
		rule(x, y + 4.9, width, colours.ink, pen.medium)
	);
}

function rule(x: number, y: number, width: number, stroke: string, weight: number): string {
	return element("path", {
		d: pathData([
			[x, y],
			[x + width, y],
		]),
		stroke,
		"stroke-width": weight,
	});
}

/** A column of a table beside the plan. */
interface Column {
	readonly name: string;
	/** From the panel's left edge, mm on paper. */
	readonly from: number;
	readonly width: number;
	readonly isNumber?: boolean;
}

// widths add up to the panel's 112 mm
const COLUMNS: readonly Column[] = [
	{ name: "Loop", from: 0, width: 17 },
	{ name: "Port", from: 17, width: 15 },
	{ name: "Rooms", from: 32, width: 28 },
	{ name: "Pattern", from: 60, width: 18 },
	{ name: "mm", from: 78, width: 8, isNumber: true },
	{ name: "Length m", from: 86, width: 14, isNumber: true },
	{ name: "% of limit", from: 100, width: 12, isNumber: true },
];

export function scheduleBlock(context: PanelContext): Block {
	const { rows, layout, colours, width } = context;
	const indices = new Map(layout.features.map((loop, index) => [loop.id, index]));
	const [, , roomsColumn] = COLUMNS;
	const drawn = rows.map((row) => ({
		row,
		rooms: wrapText(row.rooms.join(", "), (roomsColumn?.width ?? 0) - 1.5, letter.body, 3),
	}));
	const heightOf = (lines: number): number => Math.max(1, lines) * LINE + 1;
	const table = drawn.reduce((sum, { rooms }) => sum + heightOf(rooms.length), 0);
	const totals = scheduleTotals(rows);
	return {
		height: HEADING + LINE + 1 + Math.max(table, heightOf(1)) + 2 * LINE + 2.5,
		draw(x, y) {
			const parts = [heading("Loop schedule", x, y, context)];
			let top = y + HEADING;
			const cell = (column: Column, line: number, text: string, fill: string, size: number, bold = false): string =>
				textAt(
					column.isNumber ? x + column.from + column.width : x + column.from,
					top + 0.5 + LINE * (line + 0.5),
					text,
					{
						size,
						fill,
						bold,
						anchor: column.isNumber ? "end" : "start",
					},
				);
			for (const column of COLUMNS) parts.push(cell(column, 0, column.name, colours.muted, letter.small));
			top += LINE + 1;
			if (rows.length === 0)
				parts.push(textAt(x, top + LINE / 2 + 0.5, "No loops", { size: letter.body, fill: colours.muted }));
			for (const [i, { row, rooms }] of drawn.entries()) {
				const height = heightOf(rooms.length);
				const colour = loopColour(colours, indices.get(row.loop) ?? i);
				if (i % 2 === 0) parts.push(element("rect", { x, y: top, width, height, fill: colours.band }));
				parts.push(rule(x + 0.8, top + 0.5 + LINE / 2, 3.4, colour, 0.9));
				// of the two the number matters more: the manifold's id gives way
				const number = `/${row.port}`;
				const port = shorten(row.manifold, 14 - textWidth(number, letter.body), letter.body) + number;
				const texts: readonly (readonly [number, string])[] = [
					[1, port],
					[3, row.pattern],
					[4, String(Math.round(row.spacing))],
					[5, row.length.toFixed(1)],
					[6, row.percent.toFixed(0)],
				];
				parts.push(
					textAt(x + 5.2, top + 0.5 + LINE / 2, shorten(row.loop, 11, letter.body, true), {
						size: letter.body,
						fill: colours.ink,
						bold: true,
					}),
				);
				for (const [index, text] of texts) parts.push(cell(COLUMNS[index]!, 0, text, colours.ink, letter.body));
				for (const [line, text] of rooms.entries()) parts.push(cell(COLUMNS[2]!, line, text, colours.ink, letter.body));
				top += height;
			}
			if (rows.length === 0) top += heightOf(1);
			parts.push(rule(x, top, width, colours.ink, pen.thin));
			top += 0.8;
			const loops = `${totals.loops} ${totals.loops === 1 ? "loop" : "loops"}`;
			const summary = [
				`${loops}, ${totals.pipe.toFixed(1)} m of pipe`,
				`Longest ${totals.longest.toFixed(1)} m, ${totals.percent.toFixed(0)} % of ${context.floor.system.maxLoopLength} m; shortest ${(totals.longest - totals.spread).toFixed(1)} m; spread ${totals.spread.toFixed(1)} m`,
			];
			for (const [line, text] of summary.entries())
				parts.push(
					textAt(x, top + LINE * (line + 0.5), text, { size: letter.body, fill: colours.ink, bold: line === 0 }),
				);
			return group({ class: "schedule" }, parts);
		},
	};
}

const CHANNEL_COLUMNS: readonly Column[] = [
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
	return {
		height: HEADING + LINE * (rows.length + 1) + 1.5,
		draw(x, y) {
			const parts = [heading("Channels of the tails", x, y, context)];
			const line = (top: number, texts: readonly string[], fill: string, size: number): void => {
				for (const [i, column] of CHANNEL_COLUMNS.entries())
					parts.push(
						textAt(
							column.isNumber ? x + column.from + column.width : x + column.from,
							top + LINE / 2,
							column.isNumber ? texts[i]! : shorten(texts[i]!, column.width - 1, size),
							{ size, fill, anchor: column.isNumber ? "end" : "start" },
						),
					);
			};
			line(
				y + HEADING,
				CHANNEL_COLUMNS.map(({ name }) => name),
				colours.muted,
				letter.small,
			);
			for (const [i, row] of rows.entries())
				line(
					y + HEADING + 0.5 + LINE * (i + 1),
					[row.room, row.to, passes(row), String(row.pipes), String(Math.round(row.width))],
					colours.ink,
					letter.body,
				);
			return group({ class: "channel-list" }, parts);
		},
	};
}

export function noticesBlock(context: PanelContext): Block | undefined {
	const { layout, colours, width } = context;
	if (layout.notices.length === 0) return undefined;
	const items = layout.notices.map((notice) => {
		const code = shorten(notice.code, width * 0.6, letter.small, true);
		const left = width - textWidth(code, letter.small, true) - 3;
		return {
			code,
			subject: shorten(notice.subject, left, letter.small),
			lines: wrapText(notice.message, width, letter.body),
		};
	});
	return {
		height: HEADING + items.reduce((sum, item) => sum + LINE * (1 + item.lines.length) + 1, 0.5),
		draw(x, y) {
			const parts = [heading("Notices", x, y, context)];
			let top = y + HEADING + 0.5;
			for (const { code, subject, lines } of items) {
				parts.push(
					textAt(x, top + LINE / 2, code, { size: letter.small, fill: colours.caution, bold: true }),
					textAt(x + textWidth(code, letter.small, true) + 2, top + LINE / 2, subject, {
						size: letter.small,
						fill: colours.muted,
					}),
				);
				for (const [i, line] of lines.entries())
					parts.push(textAt(x, top + LINE * (i + 1.5), line, { size: letter.body, fill: colours.ink }));
				top += LINE * (1 + lines.length) + 1;
			}
			return group({ class: "notices" }, parts);
		},
	};
}

/** What the lines and tints mean; drawn with the very strokes that the plan uses. */
export function legendBlock(context: PanelContext): Block {
	const { colours, theme, width } = context;
	const sample = colours.loops[0] ?? colours.ink;
	const line = (x: number, y: number, dash?: string): string =>
		element("path", {
			d: pathData([
				[x, y],
				[x + 12, y],
			]),
			stroke: sample,
			"stroke-width": 0.4,
			"stroke-dasharray": dash,
		});
	const arrow = (x: number, y: number, fill: string): string =>
		element("path", {
			d: pathData(
				[
					[x + 6.85, y],
					[x + 5.15, y - 0.55],
					[x + 5.15, y + 0.55],
				],
				true,
			),
			fill,
			stroke: sample,
			"stroke-width": pen.thin,
		});
	const swatch = (x: number, y: number, fill: string, opacity?: string, stroke?: string): string =>
		element("rect", {
			x,
			y: y - 1.1,
			width: 12,
			height: 2.2,
			fill,
			"fill-opacity": opacity,
			stroke,
			"stroke-width": stroke === undefined ? undefined : pen.thin,
		});
	const entries: readonly (readonly [string, (x: number, y: number) => string])[] = [
		["flow half: solid", (x, y) => line(x, y) + arrow(x, y, sample)],
		["return half: dashed", (x, y) => line(x, y, RETURN_DASH) + arrow(x, y, colours.floor)],
		[
			"half of the pipe's length",
			(x, y) =>
				element("circle", {
					cx: x + 6,
					cy: y,
					r: RING,
					fill: colours.floor,
					stroke: sample,
					"stroke-width": pen.medium,
				}),
		],
		[
			"channel, ×4: four pipes",
			(x, y) =>
				swatch(x, y, colours.channel, CHANNEL_OPACITY) +
				textAt(x + 6, y, "×4", { size: letter.small * 0.9, fill: colours.ink, bold: true, anchor: "middle" }),
		],
		["keep-out: no pipe", (x, y) => swatch(x, y, `url(#keepout-${theme})`, undefined, colours.muted)],
		["unheated floor", (x, y) => swatch(x, y, colours.unheated, undefined, colours.wallFace)],
	];
	const rows = Math.ceil(entries.length / 2);
	return {
		height: HEADING + rows * 4 + 1,
		draw(x, y) {
			return group({ class: "legend" }, [
				heading("Legend", x, y, context),
				...entries.flatMap(([name, draw], i) => {
					const left = x + (i % 2) * (width / 2);
					const middle = y + HEADING + 2.2 + Math.floor(i / 2) * 4;
					return [draw(left, middle), textAt(left + 14, middle, name, { size: letter.body, fill: colours.ink })];
				}),
			]);
		},
	};
}

export function titleBlock(context: PanelContext, sheet: string): Block {
	const { floor, layout, rows, title, scale, colours, width } = context;
	const pad = 3;
	const inner = width - 2 * pad;
	const names = wrapText(title === "" ? "Unnamed floor" : title, inner / 1.1, letter.title, 3);
	const totals = scheduleTotals(rows);
	const heated = floor.rooms.filter((room) => room.heated).length;
	const spacings = rows.length > 0 ? rows.map((row) => row.spacing) : floor.rooms.map((room) => room.spacing);
	const { pipe, maxLoopLength } = floor.system;
	const fields: readonly (readonly [string, string])[] = [
		["Scale", `1:${scale} on ${sheet}`],
		["Pipe", `${pipe.outerDiameter} × ${pipe.wallThickness} mm`],
		["Spacing", spacings.length === 0 ? "–" : range(spacings, "mm")],
		["Smallest bend", `radius ${pipe.minBendRadius} mm`],
		["Longest allowed loop", `${maxLoopLength} m`],
		["Longest loop", rows.length === 0 ? "–" : `${totals.longest.toFixed(1)} m`],
		["Rooms", `${floor.rooms.length}, ${heated} heated`],
		["Loops", `${layout.features.length} on ${count(floor.manifolds.length, "manifold")}`],
	];
	const caution = wrapText(CAUTION, inner, letter.body);
	const nameHeight = names.length * (letter.title * 1.2);
	const fieldRows = Math.ceil(fields.length / 2);
	const height = pad + nameHeight + LINE + 2 + fieldRows * 6.6 + 2 + caution.length * LINE + pad;
	return {
		height,
		draw(x, y) {
			const parts = [
				element("rect", {
					x,
					y,
					width,
					height,
					fill: "none",
					stroke: colours.ink,
					"stroke-width": pen.medium,
				}),
			];
			let top = y + pad;
			for (const name of names) {
				parts.push(
					textAt(x + pad, top + letter.title / 2, name, { size: letter.title, fill: colours.ink, bold: true }),
				);
				top += letter.title * 1.2;
			}
			parts.push(
				textAt(x + pad, top + LINE / 2, "Underfloor heating, loop plan", { size: letter.body, fill: colours.muted }),
			);
			top += LINE + 2;
			for (const [i, [label, value]] of fields.entries()) {
				const left = x + pad + (i % 2) * (inner / 2);
				const line = top + Math.floor(i / 2) * 6.6;
				if (i % 2 === 0) parts.push(rule(x, line - 0.6, width, colours.rule, pen.hair));
				parts.push(
					textAt(left, line + 1.2, label, { size: letter.small, fill: colours.muted }),
					textAt(left, line + 4, shorten(value, inner / 2 - 1, letter.body, true), {
						size: letter.body,
						fill: colours.ink,
						bold: true,
					}),
				);
			}
			top += fieldRows * 6.6;
			parts.push(rule(x, top - 0.6, width, colours.rule, pen.hair));
			top += 1.2;
			for (const [i, line] of caution.entries())
				parts.push(textAt(x + pad, top + LINE * (i + 0.5), line, { size: letter.body, fill: colours.caution }));
			return group({ class: "title-block" }, parts);
		},
	};
}

function count(n: number, noun: string): string {
	return `${n} ${noun}${n === 1 ? "" : "s"}`;
}

function range(values: readonly number[], unit: string): string {
	const [low, high] = [Math.round(Math.min(...values)), Math.round(Math.max(...values))];
	return low === high ? `${low} ${unit}` : `${low}–${high} ${unit}`;
}
