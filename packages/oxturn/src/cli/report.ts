import {
	type AuditReport,
	channelSchedule,
	type Floor,
	formatChannels,
	formatSchedule,
	type Layout,
	loopSchedule,
	type Notice,
	type RoomCoverage,
} from "../index.ts";
import { printable } from "./failure.ts";

/** The code of the notice about a room that has no loop of its own and needs none. */
const HEATED_BY_TAILS = "HEATED_BY_TAILS";

/** Lays cells out in columns, the first to the left, the others to the right. */
export function table(rows: readonly (readonly string[])[]): string {
	const widths = (rows[0] ?? []).map((_, column) => Math.max(...rows.map((row) => (row[column] ?? "").length)));
	return rows
		.map((row) =>
			row
				.map((cell, column) => (column === 0 ? cell.padEnd(widths[0] ?? 0) : cell.padStart(widths[column] ?? 0)))
				.join("  ")
				.trimEnd(),
		)
		.map((line) => `${line}\n`)
		.join("");
}

/** What a fitter needs of a layout: the loops, the channels that their tails share, and the notices. */
export function formatLayout(floor: Floor, layout: Layout): string {
	const channels = formatChannels(channelSchedule({ floor, layout }));
	return [
		formatSchedule(loopSchedule({ floor, layout })),
		channels === "" ? "" : `\nChannels\n${channels}`,
		formatNotices(layout.notices),
	].join("");
}

/** Notices under a heading, nothing without any. */
export function formatNotices(notices: readonly Notice[]): string {
	if (notices.length === 0) return "";
	const lines = notices.map(({ code, subject, message }) => printable(`  ${code} ${subject}: ${message}`));
	return `\nNotices\n${lines.join("\n")}\n`;
}

export const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;

/** One row for each heated room: area in m2, how much of it lies near a pipe, the largest cold spot in mm, pipe in m. */
export function formatCoverage(coverage: readonly RoomCoverage[]): string {
	const head = ["Room", "Area", "Within 0.55", "Within 1", "Cold spot", "Density", "Pipe"];
	const rows = coverage.map(({ room, area, within055, within100, coldSpot, density, pipe }) => [
		printable(room),
		`${area.toFixed(2)} m2`,
		percent(within055),
		percent(within100),
		`${coldSpot.toFixed(0)} mm`,
		density.toFixed(2),
		`${pipe.toFixed(2)} m`,
	]);
	return table([head, ...rows]);
}

/** Ids of heated rooms that no pipe heats. */
export function unservedRooms(floor: Floor, layout: Layout, report: AuditReport): string[] {
	const heated = new Set(layout.features.flatMap(({ properties }) => properties.rooms));
	// a notice alone proves nothing, but the audit has measured the pipe in every room that it does not call unserved
	for (const { code, subject } of layout.notices) if (code === HEATED_BY_TAILS) heated.add(subject);
	const { unserved } = report;
	return floor.rooms
		.filter(
			({ id, name, heated: wanted }) => wanted && (unserved.includes(id) || !(heated.has(id) || heated.has(name))),
		)
		.map(({ id }) => id);
}

/** What is wrong with a layout, a line each: the rules it breaks, then the rooms left without pipe. */
export function faults(floor: Floor, layout: Layout, report: AuditReport): string[] {
	// a room that a finding tells about need not be told again
	const told = new Set(report.findings.filter(({ rule }) => rule === "served").flatMap(({ subjects }) => subjects));
	const left = unservedRooms(floor, layout, report).filter((id) => !told.has(id));
	return [
		...report.findings.map(({ rule, message }) => printable(`${rule}: ${message}`)),
		...left.map((id) => printable(`unserved: Room "${id}" has no pipe; the layout's notices say why.`)),
	];
}
