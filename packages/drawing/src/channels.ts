import type { ScheduleOptions } from "./schedule.ts";
import { type TextColumn, textTable } from "./textTable.ts";

/** One line of the list of channels: how many tails share a doorway or a stretch of wall. */
export interface ChannelRow {
	/** Id of the channel. */
	readonly channel: string;
	/** Name of the room that the tails cross; one without a name, or unknown to the floor, shows its id. */
	readonly room: string;
	/** Id of the doorway that they leave by; `undefined` for a stretch of wall. */
	readonly doorway: string | undefined;
	/** Name of the room behind the doorway; empty where the floor does not tell. */
	readonly to: string;
	readonly pipes: number;
	/** From the first centreline to the last, mm. */
	readonly width: number;
}

/** Lists a layout's channels in the document's order. */
export function channelSchedule({ floor, layout }: ScheduleOptions): ChannelRow[] {
	const names = new Map(floor.rooms.map(({ id, name }) => [id, name === "" ? id : name]));
	const nameOf = (id: string): string => names.get(id) ?? id;
	const doorways = new Map(floor.doorways.map((doorway) => [doorway.id, doorway]));
	return layout.channels.map(({ id, room, doorway, pipes, width }): ChannelRow => {
		const between = doorway === undefined ? undefined : doorways.get(doorway)?.between;
		const other = between?.find((end) => end !== room);
		return { channel: id, room: nameOf(room), doorway, to: other === undefined ? "" : nameOf(other), pipes, width };
	});
}

/** What a channel passes: its doorway, or a stretch of wall. */
export const passes = ({ doorway }: ChannelRow): string => doorway ?? "along the wall";

const COLUMNS: readonly TextColumn[] = [
	{ name: "Room" },
	{ name: "To" },
	{ name: "Through" },
	{ name: "Pipes", isNumber: true },
	{ name: "Width", isNumber: true },
];

/** Writes a list of channels as a fixed-width table for terminals, widths in mm; nothing for none. */
export function formatChannels(rows: readonly ChannelRow[]): string {
	if (rows.length === 0) return "";
	const cells = rows.map((row) => [row.room, row.to, passes(row), String(row.pipes), `${Math.round(row.width)} mm`]);
	return `${textTable(COLUMNS, cells).join("\n")}\n`;
}
