#!/usr/bin/env node
import { main } from "./cli/main.ts";

const { env, stdout, stderr } = process;

// a reader that has seen enough, as in `oxturn ... | head`, is no mistake
for (const stream of [stdout, stderr])
	stream.on("error", (error: NodeJS.ErrnoException) => {
		if (error.code !== "EPIPE") throw error;
	});

// `npm run oxturn` starts in the workspace's folder; its caller's relative paths start where npm was called
const isFromCheckout = env.npm_lifecycle_event === "oxturn" && env.npm_package_name === "oxturn-workspace";

process.exitCode = main(process.argv.slice(2), {
	out: (text) => stdout.write(text),
	error: (text) => stderr.write(text),
	isInteractive: stderr.isTTY === true,
	directory: (isFromCheckout && env.INIT_CWD) || process.cwd(),
});
