import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { layoutToJson, readLayoutText, routeFloor } from "oxturn";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import manifest from "../../packages/oxturn/package.json" with { type: "json" };
import { main } from "../../packages/oxturn/src/cli/main.ts";
import { progressBar } from "../../packages/oxturn/src/cli/progress.ts";
import { floorOf, manifold, room, sharpLayout, study, studyAndCell, throughDoorway, twoStudies } from "./documents.ts";
import { buildProgram, folderWith, type Run } from "./program.ts";

let program: Awaited<ReturnType<typeof buildProgram>>;
let folder: string;
const run = (...args: readonly string[]): Run => program(folder, args);
const read = (...path: readonly string[]): string => readFileSync(join(folder, ...path), "utf8");

beforeAll(async () => {
	program = await buildProgram();
	folder = folderWith({
		"study.json": study,
		"cell.json": studyAndCell,
		"two.json": twoStudies,
		"flat.json": throughDoorway(900),
		"slit.json": throughDoorway(40),
		"sharp.layout.json": sharpLayout,
		"inches.json": { ...study, units: "in" },
		"broken.json": '{ "type": "FeatureCollection",\n  "units": mm }',
		"empty.json": "",
		"null.json": "null",
		"floors/study.json": study,
		"elsewhere.json": floorOf(room("study", 8000, 4000, 3000), manifold("m1", 9500)),
	});
});

afterAll(() => rmSync(folder, { recursive: true }));

describe("oxturn", () => {
	it("tells its version and its commands", () => {
		expect(run("--version")).toEqual({ status: 0, out: `${manifest.version}\n`, error: "" });
		const help = run("--help");
		expect(help).toMatchObject({ status: 0, error: "" });
		for (const name of ["route", "batch", "check", "compare"]) expect(help.out).toContain(`\n  ${name} `);
	});

	it.each([
		["route", ["--out", "--svg", "--pattern", "--seed", "--time-budget"]],
		["batch", ["--plans", "--schedules", "--jobs", "--pattern", "--seed", "--time-budget"]],
		["check", ["--help"]],
		["compare", ["--room", "--seed", "--time-budget"]],
	])("tells the options of %s", (name, options) => {
		const { status, out } = run(name, "--help");
		expect(status).toBe(0);
		expect(out).toMatch(new RegExp(`^oxturn ${name} `));
		for (const option of options) expect(out).toContain(`  ${option} `);
	});
});

describe("bad usage and bad input: status 2, one readable line, nothing on standard output", () => {
	it.each<[string, string[], RegExp]>([
		["no command", [], /found no command, expected one of route, batch, check, compare/],
		["an unknown command", ["fly"], /found "fly"/],
		["an unknown option", ["route", "study.json", "--colour"], /Unknown option '--colour'\. See "oxturn route --help"/],
		[
			"an option without its value",
			["route", "study.json", "--out"],
			/route: --out: found nothing, expected LAYOUT\.json\. See "oxturn route --help"/,
		],
		["an empty value", ["route", "study.json", "--out="], /route: --out: found nothing, expected LAYOUT\.json\./],
		["an empty pattern", ["route", "study.json", "--pattern", ""], /route: --pattern: found nothing, expected NAME\./],
		[
			"a value that begins with a dash",
			["route", "study.json", "--seed", "-1"],
			/route: --seed: a value that begins with "-" is written --seed=VALUE\./,
		],
		[
			"one file for two outputs",
			["route", "study.json", "--out", "a", "--svg", "./a"],
			/route: --out and --svg are both a\. Give each a name/,
		],
		["no file", ["route"], /route: expected FLOOR\.json, found nothing/],
		["a file too many", ["check", "a", "b", "c"], /check: expected FLOOR\.json LAYOUT\.json, found "a" "b" "c"/],
		["an unknown pattern", ["route", "study.json", "--pattern", "wave"], /--pattern: found "wave"/],
		[
			"a seed that is no number",
			["route", "study.json", "--seed", "x1"],
			/--seed: found "x1", expected a whole number/,
		],
		["no job", ["batch", "floors", "out", "--jobs", "0"], /--jobs: found "0", expected a whole number from 1\./],
		["half a job", ["batch", "floors", "out", "--jobs", "1.5"], /--jobs: found "1\.5", expected a whole number from 1/],
		["jobs without a number", ["batch", "floors", "out", "--jobs"], /batch: --jobs: found nothing, expected NUMBER\./],
		["a budget below nothing", ["route", "study.json", "--time-budget=-1"], /--time-budget: found "-1"/],
		["an output over its input", ["route", "study.json", "--out", "./study.json"], /study\.json would be written over/],
		["a missing file", ["route", "attic.json"], /attic\.json: there is no such file/],
		["a folder for a file", ["route", "."], /\.: this is a folder/],
		["malformed JSON", ["route", "broken.json"], /broken\.json: document, line 2, column 12: found "mm"/],
		[
			"an empty file",
			["route", "empty.json"],
			/empty\.json: document, line 1, column 1: found the end of the text.*The text is empty/,
		],
		["wrong units", ["route", "inches.json"], /inches\.json: document, units: found "in", expected "mm"/],
		[
			"a layout for a floor",
			["check", "sharp.layout.json", "study.json"],
			/^oxturn: sharp\.layout\.json: document, features: found loops, .*\n$/,
		],
		[
			"a floor for a layout",
			["check", "study.json", "study.json"],
			/^oxturn: study\.json: document, features: found rooms .*\n$/,
		],
		["JSON that is no object", ["route", "null.json"], /null\.json: document: found null, expected an object/],
		["a file for a folder of results", ["batch", "floors", "study.json"], /study\.json: a part of this path is a file/],
		["a missing folder", ["batch", "attic", "out"], /attic: there is no such file or folder/],
		[
			"an unknown room",
			["compare", "two.json", "--room", "attic"],
			/two\.json: --room: found "attic", expected one of "east", "west"/,
		],
		["no room where there are two", ["compare", "two.json"], /--room: found nothing, expected one of "east", "west"/],
		[
			"an output that cannot be written",
			["route", "study.json", "--out", "study.json/a.json"],
			/study\.json\/a\.json: /,
		],
	])("%s", (_, args, message) => {
		const { status, out, error } = run(...args);
		expect(error).toMatch(message);
		expect({ status, out }).toEqual({ status: 2, out: "" });
		for (const line of error.trimEnd().split("\n")) expect(line).toMatch(/^oxturn: \S/);
	});
});

describe("oxturn route", () => {
	it("prints the schedule, and writes layout and plan where it is told to", () => {
		const { status, out, error } = run(
			"route",
			"study.json",
			"--out",
			"made/study.layout.json",
			"--svg",
			"made/study.svg",
		);
		expect({ status, error }).toEqual({ status: 0, error: "" });
		expect(out).toMatch(/^Loop +Port +Rooms/);
		expect(out).toContain("The study");
		expect(read("made/study.layout.json")).toBe(layoutToJson(routeFloor(study)));
		expect(read("made/study.svg")).toMatch(/^<\?xml/);
	});

	it("routes a whole floor and prints which doorway takes how many pipes, and how wide they are", () => {
		const { status, out, error } = run("route", "flat.json", "--out", "flat.layout.json");
		expect({ status, error }).toEqual({ status: 0, error: "" });
		for (const name of ["The study", "The cell"]) expect(out).toMatch(new RegExp(`^L\\d +m1/\\d +${name} `, "m"));
		// two pipes at the usual 50 mm
		expect(out).toMatch(/^Channels\nRoom +To +Through +Pipes +Width\n.*\nThe study +The cell +arch +2 +5\d mm$/m);
		expect(out).not.toContain("Notices");
		expect(out).toMatch(/\nWritten: flat\.layout\.json\n$/);
	});

	it("routes what it can where a doorway is too narrow, tells the numbers, and ends with status 1", () => {
		const { status, out, error } = run("route", "slit.json");
		expect(status).toBe(1);
		expect(out).toMatch(/^L1 +m1\/1 +The study/m);
		expect(out).toMatch(/^Notices\n {2}DOORWAY_TOO_NARROW cell: .*2 pipes.*"arch"/m);
		expect(error).toBe(`slit.json: unserved: Room "cell" has no pipe; the layout's notices say why.\n`);
	});

	it("prints no list of channels where there are none, and tells of no file when it wrote none", () => {
		const { out } = run("route", "study.json");
		expect(out).not.toMatch(/Channels|Written/);
	});

	it("takes pattern, seed and time budget", () => {
		const args = ["--pattern", "spiral", "--seed", "3", "--time-budget", "60000"];
		const { status } = run("route", "study.json", "--out", "spiral.layout.json", ...args);
		expect(status).toBe(0);
		expect(read("spiral.layout.json")).toBe(layoutToJson(routeFloor(study, { pattern: "spiral", seed: 3 })));
	});

	it("ends with status 1 and says which room it had to leave out", () => {
		const { status, out, error } = run("route", "cell.json");
		expect(status).toBe(1);
		expect(out).toContain("The study");
		expect(error).toMatch(/^cell\.json: .*"cell"/);
	});

	it("takes relative paths from where npm was called, when it is started from a checkout", () => {
		const env = { npm_lifecycle_event: "oxturn", npm_package_name: "oxturn-workspace", INIT_CWD: folder };
		const { status } = program(process.cwd(), ["route", "study.json", "--out", "from-npm.layout.json"], env);
		expect(status).toBe(0);
		expect(existsSync(join(folder, "from-npm.layout.json"))).toBe(true);
	});
});

describe("oxturn batch", () => {
	it("routes every floor of a folder, goes on past bad files and lists them at the end", () => {
		const floors = folderWith({ "a.json": study, "b.json": "{", "c.json": twoStudies, "notes.txt": "not a floor" });
		const { status, out, error } = program(floors, ["batch", ".", "out", "--plans"]);
		expect(status).toBe(2);
		expect(readdirSync(join(floors, "out")).sort()).toEqual(["a.layout.json", "a.svg", "c.layout.json", "c.svg"]);
		expect(readLayoutText(readFileSync(join(floors, "out/c.layout.json"), "utf8"))).toEqual(routeFloor(twoStudies));
		expect(out.split("\n").map((line) => line.split(":")[0])).toEqual(["a.json", "c.json", ""]);
		expect(error.trim()).toMatch(/^b\.json: document, line 1, column 2: [^\n]*$/);
		rmSync(floors, { recursive: true });
	});

	it("prints and writes the same for every number of jobs, the default and more than there are floors included", () => {
		// the largest are begun first: here that is not the order of the names
		const floors = folderWith({
			"a.json": study,
			"b.json": "{",
			"c.json": studyAndCell,
			"d.json": `${JSON.stringify(twoStudies)}${" ".repeat(9000)}`,
			"e.json": throughDoorway(900),
		});
		const [alone, ...others] = [["--jobs", "1"], ["--jobs", "2"], ["--jobs", "9"], []].map((jobs, index) => {
			const run = program(floors, ["batch", ".", `out-${index}`, "--plans", "--schedules", ...jobs]);
			const to = join(floors, `out-${index}`);
			return { ...run, files: readdirSync(to).map((name) => [name, readFileSync(join(to, name), "utf8")]) };
		});
		expect(alone).toMatchObject({ status: 2, error: expect.stringMatching(/^\nc\.json: .*"cell".*\nb\.json: .*\n$/) });
		expect(alone?.out.match(/^[a-e]\.json/gm)).toEqual(["a.json", "c.json", "d.json", "e.json"]);
		expect(alone?.files).toHaveLength(8);
		for (const other of others) expect(other).toEqual(alone);
		rmSync(floors, { recursive: true });
	});

	it("routes in threads of its own from two floors and two jobs on, and tells in a line of a floor whose thread died", () => {
		const floors = folderWith({ "a.json": study, "b.json": study, "one/a.json": study });
		const dying = `import { isMainThread } from "node:worker_threads"; if (!isMainThread) process.exit(7);`;
		const env = { NODE_OPTIONS: `--import=data:text/javascript,${encodeURIComponent(dying)}` };
		const batch = (...args: readonly string[]): Run => program(floors, ["batch", ...args], env);
		const lost = (name: string): string => `${name}: could not be routed: its thread ended with status 7\n`;
		expect(batch(".", "out", "--jobs", "2")).toEqual({
			status: 2,
			out: "",
			error: `\n${lost("a.json")}${lost("b.json")}`,
		});
		for (const args of [
			[".", "out", "--jobs", "1"],
			["one", "out", "--jobs", "2"],
		])
			expect(batch(...args)).toMatchObject({ status: 0, error: "" });
		rmSync(floors, { recursive: true });
	});

	it.each(["1", "2"])("keeps its bar below what it prints, and takes it away at the end: --jobs %s", async (jobs) => {
		const floors = folderWith({ "a.json": twoStudies, "b.json": study, "c.json": study });
		let text = "";
		const write = (part: string): void => {
			text += part;
		};
		const status = await main(["batch", ".", "out", "--jobs", jobs], {
			out: write,
			error: write,
			isInteractive: true,
			directory: floors,
			program: pathToFileURL("tests/output/program/cli.js"),
		});
		expect(status).toBe(0);
		for (const done of [0, 1, 2]) expect(text).toMatch(new RegExp(`\\] ${done}/3 [abc]\\.json`));
		// what a terminal shows in the end: nothing of a line from before it was cleared
		const shown = text.split("\n").map((line) => line.split("\r\u001b[K").at(-1));
		expect(shown.map((line) => line?.split(":")[0])).toEqual(["a.json", "b.json", "c.json", ""]);
		rmSync(floors, { recursive: true });
	});

	it("lets floors that are written to one file take turns, so that the last by name stays", () => {
		const floors = folderWith({ "a.JSON": twoStudies, "a.json": study });
		// some disks take both for one name
		const last = readdirSync(floors).length === 2 ? study : JSON.parse(readFileSync(join(floors, "a.json"), "utf8"));
		expect(program(floors, ["batch", ".", "out", "--jobs", "2"]).status).toBe(0);
		expect(readFileSync(join(floors, "out/a.layout.json"), "utf8")).toBe(layoutToJson(routeFloor(last)));
		rmSync(floors, { recursive: true });
	});

	it("does not take its own layouts for floors when both folders are one", () => {
		const floors = folderWith({ "a.json": study });
		expect(program(floors, ["batch", ".", "."]).status).toBe(0);
		expect(program(floors, ["batch", ".", "."]).status).toBe(0);
		expect(readdirSync(floors).sort()).toEqual(["a.json", "a.layout.json"]);
		rmSync(floors, { recursive: true });
	});

	it("ends with status 1 when a room had to be left out", () => {
		const floors = folderWith({ "cell.json": studyAndCell });
		const { status, error } = program(floors, ["batch", ".", "out", "--schedules"]);
		expect(status).toBe(1);
		expect(error.trim()).toMatch(/^cell\.json: .*"cell"/);
		rmSync(floors, { recursive: true });
	});

	it("refuses a folder without floors", () => {
		const floors = folderWith({ "notes.txt": "" });
		expect(program(floors, ["batch", ".", "out"])).toMatchObject({ status: 2, out: "" });
		rmSync(floors, { recursive: true });
	});

	it("shows a progress bar on a terminal only", () => {
		const written = (isInteractive: boolean): string => {
			let text = "";
			const bar = progressBar(4, { isInteractive, directory: "", out: () => {}, error: (part) => (text += part) });
			bar.show(1, "a\u001b[2Jb.json");
			bar.clear();
			return text;
		};
		expect(written(false)).toBe("");
		// names come from the disk: their control characters must not reach the terminal
		expect(written(true)).toBe("\r\u001b[K[######------------------] 1/4 a [2Jb.json\r\u001b[K");
	});
});

describe("oxturn check", () => {
	it("prints coverage and no finding for a layout that keeps the rules", () => {
		writeFileSync(join(folder, "study.layout.json"), layoutToJson(routeFloor(study)));
		const { status, out, error } = run("check", "study.json", "study.layout.json");
		expect({ status, error }).toEqual({ status: 0, error: "" });
		expect(out).toMatch(/^No finding\./);
		expect(out).toMatch(/\nstudy +12\.00 m2 +\d+\.\d % +\d+\.\d % +\d+ mm +\d\.\d\d +\d+\.\d\d m\n/);
	});

	it("prints what is wrong with one that does not, with status 1", () => {
		const { status, out } = run("check", "study.json", "sharp.layout.json");
		expect(status).toBe(1);
		expect(out).toMatch(/^bend: Loop "L1"/m);
	});

	it.each([
		["rooms that this floor lacks", "two.json"],
		["a manifold that hangs elsewhere", "elsewhere.json"],
	])("says in one line that a layout is another floor's: %s", (_, floor) => {
		const { status, out, error } = run("check", floor, "sharp.layout.json");
		expect({ status, error }).toEqual({
			status: 1,
			error: `sharp.layout.json: no loop of it fits ${floor}, by its rooms and manifold. Give the layout of this floor.\n`,
		});
		expect(out).toContain("served: ");
	});

	it("says nothing of the kind of a layout that only breaks rules", () => {
		expect(run("check", "study.json", "sharp.layout.json").error).toBe("");
	});
});

describe("oxturn compare", () => {
	it("puts serpentine and spiral side by side", () => {
		const { status, out, error } = run("compare", "two.json", "--room", "east");
		expect({ status, error }).toEqual({ status: 0, error: "" });
		expect(out).toMatch(/^ +serpentine +spiral\n/);
		for (const row of ["Loops", "Pipe", "Bends", "Floor within 0.55", "Floor within 1", "Largest cold spot"])
			expect(out).toMatch(new RegExp(`^${row}.*\\d.* {2,}\\d`, "m"));
	});

	it("needs no --room where the floor has one only", () => {
		expect(run("compare", "study.json").status).toBe(0);
	});

	it("ends with status 1 for a room that cannot be served", () => {
		const { status, error } = run("compare", "cell.json", "--room", "cell");
		expect(status).toBe(1);
		expect(error).toContain('Room "cell" has no pipe');
	});
});
