#!/usr/bin/env node
import { isMainThread } from "node:worker_threads";
import { main } from "./cli/main.ts";
import { routeFile } from "./cli/routeFile.ts";
import { answer } from "./cli/threads.ts";

/** What this file does as the program. */
async function runProgram({ env, stdout, stderr, argv }: NodeJS.Process): Promise<void> {
	// a reader that has seen enough, as in `oxturn ... | head`, is no mistake
	for (const stream of [stdout, stderr])
		stream.on("error", (error: NodeJS.ErrnoException) => {
			if (error.code !== "EPIPE") throw error;
		});

	// `npm run oxturn` starts in the workspace's folder; its caller's relative paths start where npm was called
	const isFromCheckout = env.npm_lifecycle_event === "oxturn" && env.npm_package_name === "oxturn-workspace";

	process.exitCode = await main(argv.slice(2), {
		out: (text) => stdout.write(text),
		error: (text) => stderr.write(text),
		isInteractive: stderr.isTTY === true,
		directory: (isFromCheckout && env.INIT_CWD) || process.cwd(),
		program: new URL(import.meta.url),
	});
}

// the program's own threads run the same file, so that it stays one
if (isMainThread) await runProgram(process);
else answer(routeFile);
