import { execFileSync } from "node:child_process";
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import * as library from "oxturn";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { study } from "./documents.ts";
import { buildProgram, folderWith } from "./program.ts";

const readme = readFileSync("README.md", "utf8");
const scripts = JSON.parse(readFileSync("package.json", "utf8")).scripts as Record<string, string>;

/** A document's fenced blocks in `language`. */
const blocksOf = (text: string, language: string): string[] =>
	[...text.matchAll(new RegExp(`^\`\`\`${language}\\n(.*?)^\`\`\`$`, "gms"))].map(([, block = ""]) => block);
const blocks = (language: string): string[] => blocksOf(readme, language);

// inside the workspace, so that "oxturn" is found as it would be in an installation
const folder = join(process.cwd(), "tests/output/readme");
let program: Awaited<ReturnType<typeof buildProgram>>;
let tarball: string;

const npm = (directory: string, ...args: string[]): string =>
	execFileSync("npm", args, { cwd: directory, encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] });

beforeAll(async () => {
	rmSync(folder, { recursive: true, force: true });
	mkdirSync(folder, { recursive: true });
	cpSync("docs/examples", join(folder, "docs/examples"), { recursive: true });
	program = await buildProgram("readme-program");
	// builds what the examples in the checkout run on as well
	const packed = npm(".", "pack", "--workspace", "oxturn", "--pack-destination", folder);
	tarball = packed.trim().split("\n").at(-1)!;
}, 120_000);

/** A new folder with files in it, where the package is installed. */
function installedElsewhere(files: Readonly<Record<string, unknown>>): string {
	const elsewhere = folderWith({ "package.json": { name: "elsewhere", private: true, type: "module" }, ...files });
	npm(elsewhere, "install", "--offline", join(folder, tarball));
	return elsewhere;
}

afterAll(() => rmSync(folder, { recursive: true, force: true }));

// packing and installing take their time on a busy machine
describe("the README", { timeout: 120_000 }, () => {
	it("has an example of ten lines that runs as it stands, on the built package", () => {
		const [example = ""] = blocks("js");
		expect(example.trim().split("\n").length).toBeLessThanOrEqual(10);
		writeFileSync(join(folder, "example.mjs"), example);
		const out = execFileSync(process.execPath, ["example.mjs"], { cwd: folder, encoding: "utf8" });
		expect(out).toMatch(/^L1 +m1\/1 +Kitchen/m);
		expect(out).toMatch(/^L\d+ +m1\/\d+ +Boot room/m);
		expect(out).toContain("Keeps every rule: true");
		expect(readFileSync(join(folder, "dwelling.svg"), "utf8")).toContain("<title>Loop plan: Lockkeeper");
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

	it("has a guide to the drawing whose example runs on what npm start writes", () => {
		program(folder, ["route", "docs/examples/dwelling.json", "--out", "out/dwelling.layout.json"]);
		const [example = ""] = blocksOf(readFileSync("docs/drawing.md", "utf8"), "js");
		writeFileSync(join(folder, "drawing.mjs"), example);
		const out = execFileSync(process.execPath, ["drawing.mjs"], { cwd: folder, encoding: "utf8" });
		expect(out).toMatch(/^L1 +m1\/1 +Kitchen/m);
		expect(out).toMatch(/^Kitchen +Boot room +door-boot-room +2 +\d+ mm$/m);
		expect(readFileSync(join(folder, "out/plan.svg"), "utf8")).toContain("<title>Loop plan: Lockkeeper");
	});

	it("tells how to make a package that installs elsewhere, with its command, its types and its schemas", () => {
		const elsewhere = installedElsewhere({
			"use.ts":
				'import { type Layout, routeFloor } from "oxturn";\nexport const layout: Layout = routeFloor({}, { seed: 1 });\n',
			"floors/a.json": study,
			"floors/b.json": study,
		});
		expect(readdirSync(join(elsewhere, "node_modules")).filter((name) => !name.startsWith("."))).toEqual(["oxturn"]);
		expect(npm(elsewhere, "exec", "--", "oxturn", "--version")).toMatch(/^\d+\.\d+\.\d+\n$/);
		const batch = npm(elsewhere, "exec", "--", "oxturn", "batch", "floors", "out", "--jobs", "2");
		expect(batch).toMatch(/^a\.json: 1 loop, [\d.]+ m\nb\.json: 1 loop, [\d.]+ m\n$/);
		for (const name of ["floor.schema.json", "layout.schema.json"]) {
			const find = `console.log(fileURLToPath(import.meta.resolve("oxturn/schema/${name}")))`;
			const script = `import { fileURLToPath } from "node:url";\n${find}`;
			const path = execFileSync(process.execPath, ["--input-type=module", "--eval", script], {
				cwd: elsewhere,
				encoding: "utf8",
			}).trim();
			expect(readFileSync(path, "utf8")).toBe(readFileSync(join("packages/floor/schema", name), "utf8"));
		}
		const tsc = join(process.cwd(), "node_modules/typescript/bin/tsc");
		const options = ["--noEmit", "--strict", "--target", "es2022", "--module", "nodenext"];
		expect(execFileSync(process.execPath, [tsc, ...options, "use.ts"], { cwd: elsewhere, encoding: "utf8" })).toBe("");
		rmSync(elsewhere, { recursive: true });
	});

	it("has a package beside it with a README whose example and command run where it is installed, and a licence", () => {
		const elsewhere = installedElsewhere({});
		const own = readFileSync(join(elsewhere, "node_modules/oxturn/README.md"), "utf8");
		expect(own).toBe(readFileSync("packages/oxturn/README.md", "utf8"));

		const [example = ""] = blocksOf(own, "js");
		writeFileSync(join(elsewhere, "example.mjs"), example);
		const out = execFileSync(process.execPath, ["example.mjs"], { cwd: elsewhere, encoding: "utf8" });
		expect(out).toMatch(/^L1 +m1\/1 +Net loft/m);
		expect(out).toContain("Keeps every rule: true []");
		expect(readFileSync(join(elsewhere, "floor.svg"), "utf8")).toContain("<title>Loop plan: Net loft</title>");

		const commands = blocksOf(own, "sh").flatMap((block) => block.trim().split("\n"));
		const [install = "", run = ""] = commands;
		expect(commands).toHaveLength(2);
		expect(install).toBe(`npm install ./${tarball}`);
		const [npx = "", ...args] = run.split(" ");
		expect(execFileSync(npx, args, { cwd: elsewhere, encoding: "utf8" })).toMatch(/^L1 +m1\/1 +Net loft/m);
		expect(readFileSync(join(elsewhere, "plan.svg"), "utf8")).toBe(readFileSync(join(elsewhere, "floor.svg"), "utf8"));
		expect(existsSync(join(elsewhere, "floor.layout.json"))).toBe(true);

		expect(readFileSync(join(elsewhere, "node_modules/oxturn/LICENSE"), "utf8")).toMatch(/^MIT License\n/);
		expect(readme).toContain("(packages/oxturn/LICENSE)");
		const bundled = readFileSync(join(elsewhere, "node_modules/oxturn/dist/licences.md"), "utf8");
		for (const name of ["clipper-lib", "valibot", "robust-predicates"]) expect(bundled).toContain(`## ${name} - `);
		rmSync(elsewhere, { recursive: true });
	});

	it("tells of the house what npm start prints", () => {
		const prefix = "vite build --mode cli --logLevel error && node packages/oxturn/dist/cli.js ";
		expect(scripts.start?.startsWith(prefix)).toBe(true);
		const { status, out, error } = program(folder, scripts.start!.slice(prefix.length).split(" "));
		expect({ status, error }).toEqual({ status: 0, error: "" });
		for (const room of ["Kitchen", "Lock room", "Boot room", "Hall"]) expect(out).toContain(room);
		expect(out).toMatch(/^Kitchen +Boot room +door-boot-room +2 +\d+ mm$/m);
		for (const file of ["out/dwelling.svg", "out/dwelling.layout.json"]) {
			expect(out).toContain(file);
			expect(existsSync(join(folder, file))).toBe(true);
		}
	});

	it("explains every notice that routing can give", () => {
		const told = [...readme.matchAll(/^\| `([A-Z_]+)` /gm)].map(([, code]) => code);
		expect(new Set(told)).toEqual(new Set(Object.keys(library.routeNoticeCodes)));
	});

	it("names every function that the library exports", () => {
		for (const [name, value] of Object.entries(library))
			if (typeof value === "function") expect(readme).toContain(`\`${name}`);
	});

	it("names only scripts and pictures that there are", () => {
		const named = [...readme.matchAll(/npm run (?:--silent )?([\w:]+)/g)].map(([, name = ""]) => name);
		expect(named.length).toBeGreaterThan(0);
		for (const name of named) expect(Object.keys(scripts)).toContain(name);
		const files = [...readme.matchAll(/\]\(([^)]+)\)/g)].map(([, path = ""]) => path);
		for (const file of files) expect({ file, exists: existsSync(file) }).toEqual({ file, exists: true });
	});
});
