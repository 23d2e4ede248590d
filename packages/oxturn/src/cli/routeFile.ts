import { join } from "node:path";
import { auditLayout, drawPlan, layoutToJson, loopSchedule, type RouteOptions } from "../index.ts";
import { routeRead } from "../route.ts";
import { Failure, printable } from "./failure.ts";
import { readFloorFile, writeFile } from "./files.ts";
import { faults, formatLayout } from "./report.ts";

/** One floor of a folder, as plain data that a thread can be sent. */
export interface FileJob {
	/** The file's name in the folder `from`. */
	readonly name: string;
	readonly from: string;
	readonly to: string;
	/** Where relative paths start. */
	readonly directory: string;
	readonly options: RouteOptions;
	readonly withPlan: boolean;
	readonly withSchedule: boolean;
}

export type FileResult =
	| { readonly isRead: true; readonly text: string; readonly lines: readonly string[] }
	| { readonly isRead: false; readonly lines: readonly string[] };

/** A floor's file, be it JSON or not. */
export const FLOOR = /\.json$/i;

/** Routes the floor of one file and writes what comes of it; what is to be printed is given back. Nothing is thrown. */
export function routeFile(job: FileJob): FileResult {
	const { name, from, to, options, withPlan, withSchedule } = job;
	const file = join(from, name);
	try {
		const read = readFloorFile(file, job);
		const { floor } = read;
		const layout = routeRead(read, options);
		const target = join(to, name.replace(FLOOR, ""));
		writeFile(`${target}.layout.json`, layoutToJson(layout), job);
		if (withPlan) writeFile(`${target}.svg`, drawPlan({ floor, layout }), job);
		const rows = loopSchedule({ floor, layout });
		const pipe = rows.reduce((sum, { length }) => sum + length, 0);
		const summary = `${printable(name)}: ${rows.length} ${rows.length === 1 ? "loop" : "loops"}, ${pipe.toFixed(2)} m\n`;
		const text = withSchedule ? `${summary}\n${formatLayout(floor, layout)}\n` : summary;
		const wrong = faults(floor, layout, auditLayout(floor, layout, { coverage: false }));
		return { isRead: true, text, lines: wrong.map((line) => `${printable(file)}: ${line}`) };
	} catch (error) {
		if (error instanceof Failure) return { isRead: false, lines: error.lines };
		// one floor that routing stumbles over must not cost the others
		return notRouted(job, error instanceof Error ? error.message : String(error));
	}
}

/** What is told of a file of which nothing came, and why. */
export const notRouted = ({ name, from }: FileJob, reason: string): FileResult => ({
	isRead: false,
	lines: [printable(`${join(from, name)}: could not be routed: ${reason}`)],
});
