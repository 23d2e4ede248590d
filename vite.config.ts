import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vitest/config";

/** Everything that is built or tested in this repository is configured here, one `mode` per target. */
export default defineConfig(({ mode }) => {
	if (mode === "cli")
		return {
			build: {
				ssr: "packages/oxturn/src/cli.ts",
				outDir: "packages/oxturn/dist",
				emptyOutDir: false,
				target: "node20",
				rolldownOptions: { output: { entryFileNames: "cli.js" } },
			},
			ssr: { noExternal: true },
		};
	if (mode === "library")
		return {
			build: {
				lib: { entry: "packages/oxturn/src/index.ts", formats: ["es"], fileName: "oxturn" },
				outDir: "packages/oxturn/dist",
				emptyOutDir: false,
				target: "es2022",
			},
		};
	return {
		root: mode === "playground" ? "playground" : ".",
		base: "./",
		plugins: [svelte({ configFile: false })],
		worker: { format: "es" as const },
		build: { outDir: "dist", emptyOutDir: true, target: "es2022" },
		test: {
			projects: [
				{
					test: {
						name: "unit",
						include: ["tests/**/*.test.ts"],
						exclude: ["tests/browser/**"],
						environment: "node",
						testTimeout: 60_000,
					},
				},
				{
					test: {
						name: "browser",
						include: ["tests/browser/**/*.test.ts"],
						testTimeout: 120_000,
						hookTimeout: 120_000,
					},
				},
			],
		},
	};
});
