import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defaultClientConditions, defaultServerConditions } from "vite";
import { defineConfig } from "vitest/config";

/** Inside the workspace `oxturn` means its source; whoever installs the package gets what was built from it. */
const SOURCE = "oxturn-source";

const resolve = { conditions: [SOURCE, ...defaultClientConditions] };
const serverConditions = [SOURCE, ...defaultServerConditions];
const ssr = { resolve: { conditions: serverConditions, externalConditions: serverConditions } };

/** Whoever gets a copy gets the notices of what is bundled in it. */
const license = { fileName: "licences.md" };

/** A program for Node in one file, with everything that it needs. */
const program = (entry: string, outDir: string, name: string) => ({
	resolve,
	build: {
		ssr: entry,
		outDir,
		emptyOutDir: false,
		target: "node20",
		license,
		rolldownOptions: { output: { entryFileNames: name } },
	},
	ssr: { ...ssr, noExternal: true as const },
});

/** Everything that is built or tested in this repository is configured here, one `mode` per target. */
export default defineConfig(({ mode }) => {
	if (mode === "cli") return program("packages/oxturn/src/cli.ts", "packages/oxturn/dist", "cli.js");
	if (mode === "bench") return program("packages/routing/bench/bench.ts", "packages/routing/dist", "bench.js");
	if (mode === "bench-page") {
		const { ssr: bundled, ...bench } = program("playground/bench/page.ts", "playground/bench/dist", "page.js");
		return { ...bench, ssr: { ...bundled, external: ["playwright-core"] } };
	}
	if (mode === "library")
		return {
			resolve,
			build: {
				lib: { entry: "packages/oxturn/src/index.ts", formats: ["es"], fileName: "oxturn" },
				outDir: "packages/oxturn/dist",
				emptyOutDir: false,
				target: "es2022",
				license,
			},
		};
	return {
		root: mode === "playground" ? "playground" : ".",
		base: "./",
		resolve,
		ssr,
		plugins: [svelte({ configFile: false })],
		worker: { format: "es" as const },
		build: { outDir: "dist", emptyOutDir: true, target: "es2022", license },
		test: {
			projects: [
				{
					extends: true,
					test: {
						name: "unit",
						include: ["tests/**/*.test.ts"],
						setupFiles: ["tests/support/seed.ts"],
						exclude: ["tests/browser/**"],
						environment: "node",
						testTimeout: 60_000,
						hookTimeout: 60_000,
					},
				},
				{
					extends: true,
					test: {
						name: "browser",
						include: ["tests/browser/**/*.test.ts"],
						globalSetup: ["tests/browser/buildPage.ts"],
						testTimeout: 120_000,
						hookTimeout: 120_000,
					},
				},
			],
		},
	};
});
