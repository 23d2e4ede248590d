import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { build } from "vite";

export interface Run {
	readonly status: number | null;
	readonly out: string;
	readonly error: string;
}

/** Builds the command line into its own folder of tests/output and gives a function that runs it as a child process. */
export async function buildProgram(
	name = "program",
): Promise<(directory: string, args: readonly string[], env?: Readonly<Record<string, string>>) => Run> {
	const outDir = join(process.cwd(), "tests/output", name);
	await build({ mode: "cli", logLevel: "error", build: { outDir } });
	return (directory, args, env = {}) => {
		const { npm_lifecycle_event: _, ...inherited } = process.env;
		const { status, stdout, stderr } = spawnSync(process.execPath, [join(outDir, "cli.js"), ...args], {
			cwd: directory,
			encoding: "utf8",
			env: { ...inherited, ...env },
		});
		return { status, out: stdout, error: stderr };
	};
}

/** A new folder with files in it: text as it is, anything else as JSON. */
export function folderWith(files: Readonly<Record<string, unknown>>): string {
	const directory = mkdtempSync(join(tmpdir(), "oxturn-"));
	for (const [name, content] of Object.entries(files)) {
		mkdirSync(dirname(join(directory, name)), { recursive: true });
		writeFileSync(join(directory, name), typeof content === "string" ? content : JSON.stringify(content));
	}
	return directory;
}
