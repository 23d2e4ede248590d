import type { Floor, Layout } from "@oxturn/floor";
import { cleanText } from "./xml.ts";

/** One line of the loop schedule. */
export interface ScheduleRow {
	/** Id of the loop. */
	readonly loop: string;
	/** Id of the manifold. */
	readonly manifold: string;
	/** 1 is the leftmost pair seen from the room. */
	readonly port: number;
	/** Names of the rooms that the loop heats; a room without a name, or unknown to the floor, shows its id. */
	readonly rooms: readonly string[];
	readonly pattern: "serpentine" | "spiral";
	/** Centre to centre as laid, mm. */
	readonly spacing: number;
	/** Port to port, m. */
	readonly length: number;
	/** The longest that a loop of this floor may be, m. */
	readonly limit: number;
	/** `length` as a percentage of `limit`. */
	readonly percent: number;
}

/** Sums over a schedule; without rows all are 0. */
export interface ScheduleTotals {
	readonly loops: number;
	/** All loops together, m. */
	readonly pipe: number;
	/** The longest loop, m. */
	readonly longest: number;
	/** Percentage of its limit that the longest loop takes. */
	readonly percent: number;
	/** Longest less shortest, m. */
	readonly spread: number;
}

export interface ScheduleOptions {
	readonly floor: Floor;
	readonly layout: Layout;
}

/** Lists a layout's loops by manifold (in the floor's order), then port, then id. Lengths in m, spacing in mm. */
export function loopSchedule(options: ScheduleOptions): ScheduleRow[] {
	const { floor, layout } = options;
	const names = new Map(floor.rooms.map((room) => [room.id, room.name === "" ? room.id : room.name]));
	const rank = new Map(floor.manifolds.map((manifold, index) => [manifold.id, index]));
	const rankOf = (row: ScheduleRow): number => rank.get(row.manifold) ?? floor.manifolds.length;
	const limit = floor.system.maxLoopLength;
	return layout.features
		.map(({ id, properties }): ScheduleRow => {
			const { manifold, port, pattern, spacing, length } = properties;
			const rooms = properties.rooms.map((room) => names.get(room) ?? room);
			return { loop: id, manifold, port, rooms, pattern, spacing, length, limit, percent: (100 * length) / limit };
		})
		.sort(
			(a, b) =>
				rankOf(a) - rankOf(b) || compareText(a.manifold, b.manifold) || a.port - b.port || compareText(a.loop, b.loop),
		);
}

// Not localeCompare: the order must not depend on where it is run.
function compareText(a: string, b: string): number {
	return a < b ? -1 : a > b ? 1 : 0;
}

/** Sums the lengths of a schedule, m. */
export function scheduleTotals(rows: readonly ScheduleRow[]): ScheduleTotals {
	if (rows.length === 0) return { loops: 0, pipe: 0, longest: 0, percent: 0, spread: 0 };
	const lengths = rows.map((row) => row.length);
	const longest = Math.max(...lengths);
	return {
		loops: rows.length,
		pipe: lengths.reduce((sum, length) => sum + length, 0),
		longest,
		percent: Math.max(...rows.map((row) => row.percent)),
		spread: longest - Math.min(...lengths),
	};
}

/** Writes a schedule as a fixed-width table for terminals, lengths in m and spacing in mm, with its totals below. */
export function formatSchedule(rows: readonly ScheduleRow[]): string {
	const head = ["Loop", "Port", "Rooms", "Pattern", "Spacing", "Length", "Of limit"];
	const cells = rows.map((row) => [
		row.loop,
		`${row.manifold}/${row.port}`,
		row.rooms.join(", "),
		row.pattern,
		`${Math.round(row.spacing)} mm`,
		`${row.length.toFixed(2)} m`,
		`${row.percent.toFixed(1)} %`,
	]);
	// names come from documents: a control character in one could drive the terminal
	const clean = [head, ...cells].map((line) => line.map(cleanText));
	const widths = head.map((_, column) => Math.max(...clean.map((line) => displayWidth(line[column] ?? ""))));
	const lines = clean.map((line) =>
		line
			.map((cell, column) => {
				const fill = " ".repeat((widths[column] ?? 0) - displayWidth(cell));
				return column < 4 ? cell + fill : fill + cell;
			})
			.join("  ")
			.trimEnd(),
	);
	lines.splice(1, 0, widths.map((width) => "-".repeat(width)).join("  "));
	const totals = scheduleTotals(rows);
	const limit = rows[0]?.limit;
	const ofLimit = limit === undefined ? "" : `, ${totals.percent.toFixed(1)} % of ${limit} m`;
	lines.push(
		"",
		`Loops    ${totals.loops}`,
		`Pipe     ${totals.pipe.toFixed(2)} m`,
		`Longest  ${totals.longest.toFixed(2)} m${ofLimit}`,
		`Spread   ${totals.spread.toFixed(2)} m between longest and shortest`,
	);
	return `${lines.join("\n")}\n`;
}

/** Terminal columns: wide scripts and emoji take two, combining marks none. */
function displayWidth(text: string): number {
	let width = 0;
	for (const character of text) {
		const code = character.codePointAt(0) ?? 0;
		if (/\p{Mark}/u.test(character) || code === 0x200d) continue;
		const isWide =
			(code >= 0x1100 && code <= 0x115f) ||
			(code >= 0x2e80 && code <= 0xd7a3) ||
			(code >= 0xf900 && code <= 0xfaff) ||
			(code >= 0xfe30 && code <= 0xfe6f) ||
			(code >= 0xff00 && code <= 0xff60) ||
			(code >= 0x1f300 && code <= 0x1faff);
		width += isWide ? 2 : 1;
	}
	return width;
}
