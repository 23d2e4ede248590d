import type { Floor, Layout } from "@oxturn/floor";
import { type TextColumn, textTable } from "./textTable.ts";
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

const COLUMNS: readonly TextColumn[] = [
	{ name: "Loop" },
	{ name: "Port" },
	{ name: "Rooms" },
	{ name: "Pattern" },
	{ name: "Spacing", isNumber: true },
	{ name: "Length", isNumber: true },
	{ name: "Of limit", isNumber: true },
];

/**
 * Writes a schedule as a fixed-width table for terminals, lengths in m and spacing in mm, with its totals below. Each
 * of several manifolds has a block of lines and a total of its own.
 */
export function formatSchedule(rows: readonly ScheduleRow[]): string {
	const cells = rows.map((row) => [
		row.loop,
		`${row.manifold}/${row.port}`,
		row.rooms.join(", "),
		row.pattern,
		`${Math.round(row.spacing)} mm`,
		`${row.length.toFixed(2)} m`,
		`${row.percent.toFixed(1)} %`,
	]);
	const [head = "", rule = "", ...table] = textTable(COLUMNS, cells);
	const lines = [head, rule];
	for (const [i, line] of table.entries()) {
		if (i > 0 && rows[i]!.manifold !== rows[i - 1]!.manifold) lines.push("");
		lines.push(line);
	}
	const totals = scheduleTotals(rows);
	const limit = rows[0]?.limit;
	const ofLimit = limit === undefined ? "" : `, ${totals.percent.toFixed(1)} % of ${limit} m`;
	lines.push(
		"",
		`Loops    ${totals.loops}${perManifold(rows, (own) => String(own.loops))}`,
		`Pipe     ${totals.pipe.toFixed(2)} m${perManifold(rows, (own) => `${own.pipe.toFixed(2)} m`)}`,
		`Longest  ${totals.longest.toFixed(2)} m${ofLimit}`,
		`Spread   ${totals.spread.toFixed(2)} m between longest and shortest`,
	);
	return `${lines.join("\n")}\n`;
}

/** The share that each of several manifolds has in a total. */
function perManifold(rows: readonly ScheduleRow[], share: (own: ScheduleTotals) => string): string {
	const ids = [...new Set(rows.map(({ manifold }) => manifold))];
	if (ids.length < 2) return "";
	const shares = ids.map((id) => {
		const own = scheduleTotals(rows.filter(({ manifold }) => manifold === id));
		return `${cleanText(id)} ${share(own)}`;
	});
	return ` (${shares.join(", ")})`;
}
