import { mkdirSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { drawnPipes, type OpenPage, type Playground, planOfRun, startPlayground } from "./openPlayground.ts";

const OUTPUT = "tests/output";
const AXE = createRequire(import.meta.url).resolve("axe-core/axe.min.js");

let playground: Playground;
let opened: OpenPage | undefined;

beforeAll(async () => {
	mkdirSync(OUTPUT, { recursive: true });
	playground = await startPlayground();
});

afterAll(() => playground?.stop());

afterEach(async () => {
	const { complaints = [], close } = opened ?? {};
	opened = undefined;
	await close?.();
	expect(complaints, "console errors and requests to other hosts").toEqual([]);
});

async function open(options?: Parameters<Playground["open"]>[0]): Promise<Page> {
	opened = await playground.open({ viewport: { width: 1280, height: 800 }, ...options });
	await planOfRun(opened.page, 1);
	return opened.page;
}

const status = (page: Page): Promise<string | null> => page.getByRole("status").textContent();

async function typeSpacing(page: Page, spacing: string): Promise<void> {
	await page.getByLabel("Pipe spacing").fill(spacing);
	await page.getByLabel("Pipe spacing").press("Enter");
}

describe("the plan", () => {
	test("is routed and drawn when the page opens, and told in words", async () => {
		const page = await open();
		const loops = await page.locator(".loop").count();
		expect(loops).toBeGreaterThan(0);
		expect(await page.locator(".plan svg[role=img]").getAttribute("aria-label")).toContain("Plan of Kitchen");
		expect(await status(page)).toMatch(/^Kitchen.*: \d+ loops?, [\d.]+\sm of pipe/);
	});

	test("comes with a table of every loop and its length", async () => {
		const page = await open();
		const rows = page.getByRole("table").locator("tbody tr");
		expect(await rows.count()).toBe(await page.locator(".loop").count());
		const lengths = await rows.evaluateAll((all) => all.map((row) => row.lastElementChild?.textContent ?? ""));
		for (const length of lengths) expect(length).toMatch(/^\d+\.\d m$/);
		const total = await page.getByRole("table").locator("tfoot td").textContent();
		const sum = lengths.reduce((metres, length) => metres + Number.parseFloat(length), 0);
		// each length is rounded to 0.1 m on its own
		expect(Math.abs(Number.parseFloat(total ?? "") - sum)).toBeLessThanOrEqual(0.05 * (lengths.length + 1));
	});

	test("shows names as text, whatever they hold", async () => {
		const hostile = "<img src=x onerror=document.title=1>";
		const page = await open({
			rewrite: (script) => script.replaceAll("Kitchen, Pollard Reach", hostile).replaceAll("Kitchen units", hostile),
		});
		expect(await page.locator(".keepout-name").textContent()).toBe(hostile);
		expect(await status(page)).toContain(hostile);
		expect(await page.locator("img").count()).toBe(0);
		expect(await page.title()).toBe("Oxturn playground");
	});

	test("changes with the pattern", async () => {
		const page = await open();
		await page.getByLabel("Serpentine").check();
		await planOfRun(page, 2);
		const serpentine = await drawnPipes(page);
		await page.getByLabel("Spiral").check();
		await planOfRun(page, 3);
		expect(await drawnPipes(page)).not.toBe(serpentine);
		expect(await page.getByRole("table").locator("tbody").textContent()).toContain("spiral");
	});

	test("changes with the spacing", async () => {
		const page = await open();
		const before = await drawnPipes(page);
		await typeSpacing(page, "300");
		await planOfRun(page, 2);
		expect(await drawnPipes(page)).not.toBe(before);
		expect(await page.locator(".room-label").textContent()).toContain("300 mm");
	});

	test("changes with the floor, odd shapes too", async () => {
		const page = await open();
		await page.getByLabel("Floor", { exact: true }).selectOption("Sail loft (L)");
		await planOfRun(page, 2);
		expect(await status(page)).toContain("Sail loft (L)");
		expect(await page.getByLabel("Pipe spacing").inputValue()).toBe("150");
	});

	test("tells in the notices why a room has no pipe", async () => {
		const page = await open();
		await page.getByLabel("Floor", { exact: true }).selectOption("Pipe duct (too narrow to heat)");
		await planOfRun(page, 2);
		expect(await page.locator(".loop").count()).toBe(0);
		expect(await page.locator(".notices li").first().textContent()).toMatch(/\w+/);
		expect(await status(page)).toContain("0 loops");
		expect(await status(page)).toContain("1 notice");
	});

	test("stays on screen while the next one is worked out", async () => {
		const page = await open();
		const before = await drawnPipes(page);
		await page.getByLabel("Floor", { exact: true }).selectOption("Lock room");
		await page.locator('.plan[aria-busy="true"]').waitFor();
		expect(await drawnPipes(page)).toBe(before);
		expect(await status(page)).toMatch(/^Routing Lock room/);
	});

	test("answers the last choice when choices come faster than answers", async () => {
		const page = await open();
		const floor = page.getByLabel("Floor", { exact: true });
		await floor.selectOption("Lock room");
		await floor.selectOption("Hall");
		await floor.selectOption("River bedroom");
		await planOfRun(page, 4);
		expect(await page.locator(".plan-name").textContent()).toBe("River bedroom");
		await page.waitForTimeout(1500);
		expect(await page.locator(".plan-name").textContent()).toBe("River bedroom");
	});
});

describe("a spacing that cannot be used", () => {
	test.each([
		["500", "500 mm is too far apart"],
		["20", "20 mm is too close"],
		["", "Give a number of millimetres"],
	])("%j is explained beside the field and leaves the plan as it was", async (typed, reason) => {
		const page = await open();
		const before = await drawnPipes(page);
		await typeSpacing(page, typed);
		const field = page.getByLabel("Pipe spacing");
		await page.locator("#spacing-problem", { hasText: reason }).waitFor();
		expect(await field.getAttribute("aria-invalid")).toBe("true");
		expect(await field.getAttribute("aria-describedby")).toContain("spacing-problem");
		expect(await page.locator(".plan").getAttribute("aria-busy")).toBe("false");
		expect(await drawnPipes(page)).toBe(before);

		await typeSpacing(page, "250");
		await planOfRun(page, 2);
		expect(await page.locator("#spacing-problem").textContent()).toBe("");
	});
});

describe("the keyboard", () => {
	test("reaches every control in reading order", async () => {
		const page = await open();
		const reached: string[] = [];
		for (let presses = 0; presses < 12; presses += 1) {
			await page.keyboard.press("Tab");
			reached.push(
				await page.evaluate(() => {
					const at = document.activeElement;
					if (!at || at === document.body) return "page";
					return at.getAttribute("aria-label") ?? (at.id || at.getAttribute("name") || at.textContent || at.className);
				}),
			);
		}
		expect(reached.slice(0, 8)).toEqual([
			"View of the plan",
			"Zoom out",
			"Zoom in",
			"Whole floor",
			"floor",
			"pattern",
			"spacing",
			"Table of loops",
		]);
	});

	test("changes the pattern, moves the view and brings it back", async () => {
		const page = await open();
		const placed = (): Promise<string | null> => page.locator(".plan svg > g").first().getAttribute("transform");
		const whole = await placed();
		await page.getByRole("application").focus();
		await page.keyboard.press("+");
		const nearer = await placed();
		expect(nearer).not.toBe(whole);
		await page.keyboard.press("ArrowRight");
		expect(await placed()).not.toBe(nearer);
		await page.keyboard.press("0");
		expect(await placed()).toBe(whole);

		await page.getByLabel("Automatic").focus();
		await page.keyboard.press("ArrowDown");
		await planOfRun(page, 2);
		expect(await page.getByLabel("Serpentine").isChecked()).toBe(true);
	});
});

describe.each(["light", "dark"] as const)("in %s", (colorScheme) => {
	interface AxeResult {
		readonly violations: readonly { readonly id: string; readonly nodes: readonly { readonly html: string }[] }[];
	}

	async function violations(page: Page): Promise<string[]> {
		await page.addScriptTag({ path: AXE }).catch(() => undefined);
		const found = await page.evaluate(async (): Promise<AxeResult> => {
			const { axe } = globalThis as unknown as { axe: { run: () => Promise<AxeResult> } };
			return axe.run();
		});
		return found.violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" ")}`);
	}

	test("nothing stands in the way of assistive technology, with a plan and with a problem", async () => {
		// the page's own policy admits no script from outside, the checker's included
		const page = await open({ colorScheme, bypassCSP: true });
		expect(await violations(page)).toEqual([]);
		await typeSpacing(page, "900");
		await page.locator("#spacing-problem", { hasText: "900" }).waitFor();
		expect(await violations(page)).toEqual([]);
	});

	test.each([
		[360, 740],
		[390, 844],
		[1280, 800],
		[2560, 1440],
	])("nothing is cut off at %i px", async (width, height) => {
		const page = await open({ colorScheme, viewport: { width, height } });
		const overflow = await page.evaluate(
			() => document.documentElement.scrollWidth - document.documentElement.clientWidth,
		);
		expect(overflow).toBe(0);
		const stage = await page.getByRole("application").boundingBox();
		const room = await page.locator(".room").first().boundingBox();
		expect(room!.x).toBeGreaterThan(stage!.x);
		expect(room!.x + room!.width).toBeLessThan(stage!.x + stage!.width);
		await page.screenshot({ path: `${OUTPUT}/playground-${width}-${colorScheme}.png`, fullPage: width < 600 });
	});
});
