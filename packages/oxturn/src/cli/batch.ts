import { readdirSync, statSync } from "node:fs";
import { availableParallelism } from "node:os";
import { resolve } from "node:path";
import type { Command } from "./command.ts";
import { Failure, printable } from "./failure.ts";
import { makeFolder, onFile } from "./files.ts";
import { numberOf, readRouteOptions, routeOptions } from "./options.ts";
import { progressBar } from "./progress.ts";
import { type FileJob, type FileResult, FLOOR, notRouted, routeFile } from "./routeFile.ts";
import type { Terminal } from "./terminal.ts";
import { inThreads } from "./threads.ts";

const LAYOUT = /\.layout\.json$/i;

/** Every thread takes memory of its own: a machine of many cores is not filled unasked. */
const MOST_UNASKED = 8;

export const batch: Command = {
	name: "batch",
	operands: ["IN_DIR", "OUT_DIR"],
	summary: "Route every floor of a folder; write NAME.layout.json for each NAME.json.",
	details: [
		"A file that cannot be read or routed does not stop the others; such files are listed at the end. Files named",
		"*.layout.json are not taken for floors. --time-budget is for each floor. Several floors are routed at once, the",
		"largest files first; what is printed stands in the order of the names, and is the same for every number of jobs.",
	],
	options: {
		plans: { help: "Write NAME.svg, the plan drawn to scale, as well." },
		schedules: { help: "Print each floor's loop schedule, channels and notices." },
		jobs: {
			value: "NUMBER",
			help: `So many floors are routed at once, each in a thread and memory of its own. Default: one for each core, at most ${MOST_UNASKED}.`,
		},
		...routeOptions,
	},
	run: async (call, terminal) => {
		const [from = "", to = ""] = call.operands;
		const { directory } = terminal;
		const wanted = numberOf(call, "jobs", 1) ?? Math.min(availableParallelism(), MOST_UNASKED);
		const job = {
			from,
			to,
			directory,
			options: readRouteOptions(call),
			withPlan: call.options.plans === true,
			withSchedule: call.options.schedules === true,
		};
		const jobs = floorsIn(from, terminal).map((name): FileJob => ({ ...job, name }));
		makeFolder(to, terminal);
		// of two floors that are written to one file the last by name stays, as long as they take turns
		const targets = new Set(jobs.map(({ name }) => name.toLowerCase()));
		const count = targets.size < jobs.length ? 1 : Math.min(wanted, jobs.length);
		const results = await routeAll(jobs, count, terminal);
		const linesOf = (isRead: boolean): readonly string[] =>
			results.filter((result) => result.isRead === isRead).flatMap(({ lines }) => lines);
		const [faulty, bad] = [linesOf(true), linesOf(false)];
		const problems = [...faulty, ...bad];
		if (problems.length > 0) terminal.error(`\n${problems.map((line) => `${line}\n`).join("")}`);
		return bad.length > 0 ? 2 : faulty.length > 0 ? 1 : 0;
	},
};

function floorsIn(directory: string, terminal: Terminal): string[] {
	const names = onFile(directory, () => readdirSync(resolve(terminal.directory, directory)))
		.filter((name) => FLOOR.test(name) && !LAYOUT.test(name))
		.sort();
	if (names.length === 0) throw new Failure(`${printable(directory)}: found no floor, expected files named NAME.json.`);
	return names;
}

/** Routes every file, `count` at once, and prints what came of each as soon as nothing before it is missing. */
async function routeAll(jobs: readonly FileJob[], count: number, terminal: Terminal): Promise<FileResult[]> {
	const progress = progressBar(jobs.length, terminal);
	const running = new Set<FileJob>();
	const results = new Map<FileJob, FileResult>();
	let printed = 0;
	const print = (): void => {
		for (; printed < jobs.length; printed++) {
			const result = results.get(jobs[printed]!);
			if (!result) return;
			if (result.isRead) terminal.out(result.text);
		}
	};
	const show = (): void => {
		const newest = [...running].at(-1);
		if (newest) progress.show(results.size, newest.name);
	};
	const begun = (job: FileJob): void => {
		running.add(job);
		show();
	};
	const done = (job: FileJob, result: FileResult): void => {
		running.delete(job);
		results.set(job, result);
		progress.clear();
		print();
		show();
	};
	// alone, each is printed once it is done; together, the last to be begun should not be a long one
	const tasks = count === 1 ? jobs : largestFirst(jobs);
	const program = count === 1 ? undefined : terminal.program;
	await inThreads({ tasks, act: routeFile, lost: notRouted, begun, done }, count, program);
	return jobs.map((job) => results.get(job)!);
}

/** Large files tend to take long. */
function largestFirst(jobs: readonly FileJob[]): FileJob[] {
	const sized = jobs.map((job) => ({ job, size: sizeOf(resolve(job.directory, job.from, job.name)) }));
	return sized.sort((a, b) => b.size - a.size).map(({ job }) => job);
}

function sizeOf(path: string): number {
	try {
		return statSync(path).size;
	} catch {
		// what is wrong with it is told when it is read
		return 0;
	}
}
