import { mkdirSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { routed } from "./openPlayground.ts";
import { pngPicture } from "./pngPicture.ts";
import { browserSession } from "./session.ts";

const OUTPUT = "tests/output";
const AXE = createRequire(import.meta.url).resolve("axe-core/axe.min.js");

const { open } = browserSession();

mkdirSync(OUTPUT, { recursive: true });

async function takeHouse(page: Page): Promise<void> {
	await page.locator("#tab-keep").click();
	await page.locator("#gallery").selectOption({ index: 1 });
	await routed(page);
	await page.locator("#tab-results").click();
}

/** Everything that the page can look like, by what brings it about. */
const views: Readonly<Record<string, (page: Page) => Promise<void>>> = {
	results: takeHouse,
	draw: async (page) => {
		await page.locator("#tab-draw").click();
		await page.locator("#selected").selectOption({ index: 1 });
	},
	keep: (page) => page.locator("#tab-keep").click(),
	help: async (page) => {
		await page.locator("#tab-help").click();
		await page.locator(".help__picture img").nth(1).waitFor();
	},
	follow: async (page) => {
		await takeHouse(page);
		await page.locator("tbody .subject").nth(2).click();
		await page.locator("#follow").fill("21000");
	},
	map: async (page) => {
		await takeHouse(page);
		await page.locator(".layers input").first().check();
		await page.locator(".layers input").nth(2).check();
		await page.locator('.warmth[data-warmth="8"]').waitFor();
	},
	notices: async (page) => {
		await page.locator("#tab-keep").click();
		await page.locator("#gallery").selectOption({ label: "Pipe duct (too narrow to heat)" });
		await routed(page);
		await page.locator("#tab-results").click();
		await page.locator(".notices button").first().click();
	},
	problem: async (page) => {
		await page.locator("#spacing").fill("900");
		await page.locator("#spacing").press("Enter");
		await page.locator("#spacing-problem", { hasText: "900" }).waitFor();
	},
	drawing: async (page) => {
		await page.locator(".rail__tool").nth(1).click();
		await page.locator(".plan__stage").click({ position: { x: 60, y: 60 } });
		await page.locator(".strip__typed").waitFor();
	},
	refused: async (page) => {
		await page.locator(".rail__tool").first().click();
		await takeHouse(page);
		await page.locator("#tab-draw").click();
		await page.locator("#selected").selectOption({ index: 1 });
		await page.locator(".measure").nth(6).fill("-9000");
		await page.locator(".measure").nth(6).press("Enter");
		await page.locator(".problems li").first().waitFor();
	},
	unit: async (page) => {
		await page.locator("#tab-keep").click();
		const polygon = '{"type":"Polygon","coordinates":[[[0,0],[4,0],[4,3],[0,0]]]}';
		await page
			.locator("#file")
			.setInputFiles({ name: "plain.geojson", mimeType: "application/json", buffer: Buffer.from(polygon) });
		await page.locator("#unit").waitFor();
	},
	picture: async (page) => {
		await takeHouse(page);
		await page.locator("#tab-keep").click();
		await page.locator("#picture").setInputFiles({ name: "plan.png", mimeType: "image/png", buffer: pngPicture(64) });
		await page.locator('[data-keeping="kept"]').waitFor();
	},
	compare: async (page) => {
		await takeHouse(page);
		await page.getByRole("radio", { name: "Comparison" }).check();
		await page.locator(".differences table").waitFor({ timeout: 30_000 });
		await page.locator('.compare[aria-busy="false"]').waitFor({ timeout: 30_000 });
	},
	settings: async (page) => {
		await page.getByRole("radio", { name: "Comparison" }).check();
		await page.locator(".differences table").waitFor({ timeout: 30_000 });
		await page.locator('.compare[aria-busy="false"]').waitFor({ timeout: 30_000 });
		await page.locator('[data-side="b"] summary').click();
	},
};

interface AxeResult {
	readonly violations: readonly { readonly id: string; readonly nodes: readonly { readonly html: string }[] }[];
}

async function violations(page: Page): Promise<string[]> {
	const found = await page.evaluate(async (): Promise<AxeResult> => {
		const { axe } = globalThis as unknown as { axe: { run: () => Promise<AxeResult> } };
		return axe.run();
	});
	return found.violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" ")}`);
}

const overflow = (page: Page): Promise<number> =>
	page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

describe.each(["light", "dark"] as const)("in %s", (colorScheme) => {
	test("nothing in any view stands in the way of assistive technology", async () => {
		// the page's own policy admits no script from outside, the checker's included
		const page = await open({ colorScheme, bypassCSP: true });
		await page.addScriptTag({ path: AXE });
		for (const [name, show] of Object.entries(views)) {
			await show(page);
			expect([name, await violations(page)]).toEqual([name, []]);
		}
	});

	test.each([
		[360, 740],
		[390, 844],
		[1280, 800],
		[2560, 1440],
		[3840, 2160],
	])("nothing of any view is cut off at %i px", async (width, height) => {
		const page = await open({ colorScheme, viewport: { width, height } });
		const stage = await page.getByRole("application").boundingBox();
		const room = await page.locator(".room").first().boundingBox();
		expect(room!.x).toBeGreaterThan(stage!.x);
		expect(room!.x + room!.width).toBeLessThan(stage!.x + stage!.width);
		for (const [name, show] of Object.entries(views)) {
			await show(page);
			expect([name, await overflow(page)]).toEqual([name, 0]);
			await page.mouse.move(2, 2);
			await page.screenshot({ path: `${OUTPUT}/${name}-${width}-${colorScheme}.png`, fullPage: width < 600 });
		}
	});
});

test("a reader of German meets no English word in the help and in the comparison", async () => {
	const page = await open({ locale: "de-DE" });
	await page.getByRole("tab", { name: "Hilfe" }).click();
	expect(await page.getByRole("tabpanel").textContent()).not.toMatch(/\b(the|pipe|loop|room|floor)\b/i);
	await page.getByRole("radio", { name: "Vergleich" }).check();
	await page.locator(".differences table").waitFor({ timeout: 30_000 });
	expect(await page.locator(".compare").textContent()).not.toMatch(/\b(the|pipe|loops|floor|better)\b/i);
	expect(await overflow(page)).toBe(0);
});
