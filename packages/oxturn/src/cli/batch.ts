import { readdirSync } from "node:fs";
import { join, resolve } from "node:path";
import { auditLayout, drawPlan, layoutToJson, loopSchedule, type RouteOptions } from "../index.ts";
import { routeRead } from "../route.ts";
import type { Command } from "./command.ts";
import { Failure, printable } from "./failure.ts";
import { makeFolder, onFile, readFloorFile, writeFile } from "./files.ts";
import { readRouteOptions, routeOptions } from "./options.ts";
import { progressBar } from "./progress.ts";
import { faults, formatLayout } from "./report.ts";
import type { Terminal } from "./terminal.ts";

const FLOOR = /\.json$/i;
const LAYOUT = /\.layout\.json$/i;

export const batch: Command = {
	name: "batch",
	operands: ["IN_DIR", "OUT_DIR"],
	summary: "Route every floor of a folder; write NAME.layout.json for each NAME.json.",
	details: [
		"A file that cannot be read or routed does not stop the others; such files are listed at the end. Files named",
		"*.layout.json are not taken for floors. --time-budget is for each floor.",
	],
	options: {
		plans: { help: "Write NAME.svg, the plan drawn to scale, as well." },
		schedules: { help: "Print each floor's loop schedule, channels and notices." },
		...routeOptions,
	},
	run: (call, terminal) => {
		const [from = "", to = ""] = call.operands;
		const job: Job = {
			from,
			to,
			options: readRouteOptions(call),
			withPlan: call.options.plans === true,
			withSchedule: call.options.schedules === true,
		};
		const names = floorsIn(from, terminal);
		makeFolder(to, terminal);
		const progress = progressBar(names.length, terminal);
		const bad: string[] = [];
		const faulty: string[] = [];
		for (const [index, name] of names.entries()) {
			progress.show(index, name);
			const result = routeOne(name, job, terminal);
			progress.clear();
			if ("text" in result) terminal.out(result.text);
			(result.isRead ? faulty : bad).push(...result.lines);
		}
		const problems = [...faulty, ...bad];
		if (problems.length > 0) terminal.error(`\n${problems.map((line) => `${line}\n`).join("")}`);
		return bad.length > 0 ? 2 : faulty.length > 0 ? 1 : 0;
	},
};

interface Job {
	readonly from: string;
	readonly to: string;
	readonly options: RouteOptions;
	readonly withPlan: boolean;
	readonly withSchedule: boolean;
}

type Result =
	| { readonly isRead: true; readonly text: string; readonly lines: readonly string[] }
	| { readonly isRead: false; readonly lines: readonly string[] };

function floorsIn(directory: string, terminal: Terminal): string[] {
	const names = onFile(directory, () => readdirSync(resolve(terminal.directory, directory)))
		.filter((name) => FLOOR.test(name) && !LAYOUT.test(name))
		.sort();
	if (names.length === 0) throw new Failure(`${printable(directory)}: found no floor, expected files named NAME.json.`);
	return names;
}

function routeOne(name: string, job: Job, terminal: Terminal): Result {
	const file = join(job.from, name);
	try {
		const read = readFloorFile(file, terminal);
		const { floor } = read;
		const layout = routeRead(read, job.options);
		const target = join(job.to, name.replace(FLOOR, ""));
		writeFile(`${target}.layout.json`, layoutToJson(layout), terminal);
		if (job.withPlan) writeFile(`${target}.svg`, drawPlan({ floor, layout }), terminal);
		const rows = loopSchedule({ floor, layout });
		const pipe = rows.reduce((sum, { length }) => sum + length, 0);
		const summary = `${printable(name)}: ${rows.length} ${rows.length === 1 ? "loop" : "loops"}, ${pipe.toFixed(2)} m\n`;
		const text = job.withSchedule ? `${summary}\n${formatLayout(floor, layout)}\n` : summary;
		const wrong = faults(floor, layout, auditLayout(floor, layout, { coverage: false }));
		return { isRead: true, text, lines: wrong.map((line) => `${printable(file)}: ${line}`) };
	} catch (error) {
		if (error instanceof Failure) return { isRead: false, lines: error.lines };
		// one floor that routing stumbles over must not cost the others
		const message = error instanceof Error ? error.message : String(error);
		return { isRead: false, lines: [printable(`${file}: could not be routed: ${message}`)] };
	}
}
