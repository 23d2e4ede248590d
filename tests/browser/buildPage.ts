import { execFileSync } from "node:child_process";

/** Builds the page as it is published, once for all files of tests. */
export function setup(): void {
	// without the test run's own environment, in which the page would be built for development
	const { NODE_ENV: _testing, VITEST: _run, ...env } = process.env;
	execFileSync(
		process.execPath,
		["node_modules/vite/bin/vite.js", "build", "--mode", "playground", "--logLevel", "warn"],
		{ env, stdio: ["ignore", "ignore", "inherit"] },
	);
}
