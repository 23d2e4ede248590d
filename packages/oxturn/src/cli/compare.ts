import { auditLayout, type Floor, type PatternFigures } from "../index.ts";
import { compareRead } from "../route.ts";
import type { Command } from "./command.ts";
import { Failure, printable } from "./failure.ts";
import { readFloorFile } from "./files.ts";
import { readRouteOptions, searchOptions, textOf } from "./options.ts";
import { formatNotices, percent, table } from "./report.ts";

export const compare: Command = {
	name: "compare",
	operands: ["FLOOR.json"],
	summary: "Lay one room as serpentine and as spiral; print the figures side by side.",
	details: [
		"The room is routed alone, from the manifold that stands in it. Bends are counted in quarter turns: a half turn",
		"counts two.",
	],
	options: {
		room: { value: "ID", help: "The room; may be left out where the floor has only one." },
		...searchOptions,
	},
	run: (call, terminal) => {
		const [file = ""] = call.operands;
		const { pattern: _, ...options } = readRouteOptions(call);
		const read = readFloorFile(file, terminal);
		const { floor } = read;
		const room = chooseRoom(floor, textOf(call, "room"), file);
		const { serpentine, spiral } = compareRead(read, room, options);
		const both = [serpentine, spiral];
		terminal.out(table([["", "serpentine", "spiral"], ...figureRows(both)]));
		for (const { pattern, notices } of both)
			terminal.out(formatNotices(notices).replace("Notices", `Notices, ${pattern}`));
		const wrong = both.flatMap((figures) => faultsOf(floor, room, figures));
		for (const line of wrong) terminal.error(`${printable(file)}: ${line}\n`);
		return wrong.length > 0 ? 1 : 0;
	},
};

function chooseRoom(floor: Floor, wanted: string | undefined, file: string): string {
	const ids = floor.rooms.map(({ id }) => id);
	const [only] = ids;
	if (wanted === undefined && ids.length === 1 && only !== undefined) return only;
	if (wanted !== undefined && ids.includes(wanted)) return wanted;
	const known = printable(ids.map((id) => JSON.stringify(id)).join(", "));
	const found = wanted === undefined ? "nothing" : JSON.stringify(wanted);
	throw new Failure(`${printable(file)}: --room: found ${found}, expected one of ${known}.`);
}

function figureRows(both: readonly PatternFigures[]): string[][] {
	const row = (name: string, value: (figures: PatternFigures) => string): string[] => [name, ...both.map(value)];
	return [
		row("Loops", ({ loops }) => String(loops)),
		row("Pipe", ({ length }) => `${length.toFixed(2)} m`),
		row("Bends", ({ bends }) => String(bends)),
		row("Floor within 0.55 spacing of a pipe", ({ within055 }) => percent(within055)),
		row("Floor within 1 spacing of a pipe", ({ within100 }) => percent(within100)),
		row("Largest cold spot", ({ coldSpot }) => `${coldSpot.toFixed(0)} mm`),
	];
}

function faultsOf(floor: Floor, room: string, { pattern, loops, layout }: PatternFigures): string[] {
	const { findings } = auditLayout(floor, layout, { coverage: false });
	return [
		// the other rooms of the floor are left out on purpose
		...findings.filter(({ rule }) => rule !== "served").map(({ rule, message }) => `${pattern}: ${rule}: ${message}`),
		...(loops === 0 ? [`${pattern}: unserved: Room "${room}" has no pipe.`] : []),
	].map(printable);
}
