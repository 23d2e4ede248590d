import { execFileSync } from "node:child_process";
import { cpSync, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { build } from "vite";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { buildProgram } from "./program.ts";

const readme = readFileSync("README.md", "utf8");
const scripts = JSON.parse(readFileSync("package.json", "utf8")).scripts as Record<string, string>;

/** The README's fenced blocks in `language`. */
const blocks = (language: string): string[] =>
	[...readme.matchAll(new RegExp(`^\`\`\`${language}\\n(.*?)^\`\`\`$`, "gms"))].map(([, text = ""]) => text);

// inside the workspace, so that "oxturn" is found as it would be in an installation
const folder = join(process.cwd(), "tests/output/readme");
let program: Awaited<ReturnType<typeof buildProgram>>;

beforeAll(async () => {
	rmSync(folder, { recursive: true, force: true });
	mkdirSync(folder, { recursive: true });
	cpSync("docs/examples", join(folder, "docs/examples"), { recursive: true });
	program = await buildProgram("readme-program");
	await build({ mode: "library", logLevel: "error" });
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("the README", () => {
	it("has an example of ten lines that runs as it stands, on the built package", () => {
		const [example = ""] = blocks("js");
		expect(example.trim().split("\n").length).toBeLessThanOrEqual(10);
		writeFileSync(join(folder, "example.mjs"), example);
		const out = execFileSync(process.execPath, ["example.mjs"], { cwd: folder, encoding: "utf8" });
		expect(out).toMatch(/^L1 +m1\/1 +Kitchen/m);
		expect(out).toContain("Keeps every rule: true");
		expect(readFileSync(join(folder, "kitchen.svg"), "utf8")).toContain("<title>Loop plan: Kitchen");
	});

	it("shows commands that run in the order in which they stand", () => {
		const prefix = "npm run --silent oxturn -- ";
		const lines = blocks("sh")
			.flatMap((block) => block.split("\n"))
			.filter((line) => line.startsWith(prefix));
		expect(lines).toHaveLength(4);
		for (const line of lines) {
			const { status, error } = program(folder, line.slice(prefix.length).split(" "));
			expect({ line, status, error }).toEqual({ line, status: 0, error: "" });
		}
	});

	it("names only scripts and pictures that there are", () => {
		const named = [...readme.matchAll(/npm run (?:--silent )?([\w:]+)/g)].map(([, name = ""]) => name);
		expect(named.length).toBeGreaterThan(0);
		for (const name of named) expect(Object.keys(scripts)).toContain(name);
		const files = [...readme.matchAll(/\]\(([^)]+)\)/g)].map(([, path = ""]) => path);
		for (const file of files) expect({ file, exists: existsSync(file) }).toEqual({ file, exists: true });
	});
});
