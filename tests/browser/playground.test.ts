import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { drawnPipes, routed } from "./openPlayground.ts";
import { browserSession } from "./session.ts";
import { selectFeature, status, turnTo } from "./steps.ts";

const { open } = browserSession();

async function choose(page: Page, floor: string): Promise<void> {
	await turnTo(page, "Start and keep");
	await page.getByLabel("Gallery").selectOption({ label: floor });
}

describe("the plan", () => {
	test("is routed and drawn when the page opens, and told in words", async () => {
		const page = await open();
		expect(await page.locator(".loop").count()).toBeGreaterThan(0);
		expect(await page.locator(".plan svg[role=img]").getAttribute("aria-label")).toContain("Plan of Kitchen");
		expect(await status(page)).toMatch(/^Kitchen.*: \d+ loops?, [\d.]+\sm of pipe/);
	});

	test("comes with a table of every loop and its length", async () => {
		const page = await open();
		const table = page.getByRole("region", { name: "Table of loops" });
		const rows = table.locator("tbody tr");
		expect(await rows.count()).toBe(await page.locator(".loop").count());
		const lengths = await rows.evaluateAll((all) => all.map((row) => row.lastElementChild?.textContent ?? ""));
		for (const length of lengths) expect(length).toMatch(/^\d+\.\d\sm$/);
		const total = await table.locator("tfoot td").textContent();
		const sum = lengths.reduce((metres, length) => metres + Number.parseFloat(length), 0);
		// each length is rounded to 0.1 m on its own
		expect(Math.abs(Number.parseFloat(total ?? "") - sum)).toBeLessThanOrEqual(0.05 * (lengths.length + 1));
	});

	test("changes with the pattern", async () => {
		const page = await open();
		await page.getByLabel("Serpentine").check();
		await routed(page);
		const serpentine = await drawnPipes(page);
		await page.getByLabel("Spiral").check();
		await routed(page);
		expect(await drawnPipes(page)).not.toBe(serpentine);
		expect(await page.getByRole("table").locator("tbody").textContent()).toContain("Spiral");
	});

	test("changes with the floor, odd shapes and the whole house too", async () => {
		const page = await open();
		await choose(page, "Sail loft (L)");
		await routed(page);
		expect(await status(page)).toContain("Sail loft (L)");
		await choose(page, "Whole house");
		await routed(page);
		expect(await status(page)).toContain("Lockkeeper's house");
		expect(await page.locator(".room-label").count()).toBe(9);
	});

	test("of a random room is the same for the same seed", async () => {
		const page = await open();
		await turnTo(page, "Start and keep");
		await page.getByRole("button", { name: "Random room" }).click();
		await routed(page);
		const seed = await page.getByLabel("Seed of the random room").inputValue();
		const first = await drawnPipes(page);
		expect(await status(page)).toContain(`Random room ${seed}`);
		await choose(page, "Sail loft (L)");
		await routed(page);
		await page.getByLabel("Seed of the random room").fill(seed);
		await page.getByLabel("Seed of the random room").press("Enter");
		await routed(page);
		expect(await drawnPipes(page)).toBe(first);
	});

	test("tells in the notices why a room has no pipe", async () => {
		const page = await open();
		await choose(page, "Pipe duct (too narrow to heat)");
		await routed(page);
		expect(await page.locator(".loop").count()).toBe(0);
		expect(await status(page)).toContain("0 loops");
		expect(await status(page)).toContain("1 notice");
		await turnTo(page, "Results");
		expect(await page.locator(".notices li").first().textContent()).toMatch(/\w+/);
	});

	test("answers the last choice when choices come faster than answers", async () => {
		const page = await open();
		for (const floor of ["Lock room", "Hall", "River bedroom"]) await choose(page, floor);
		await routed(page);
		expect(await page.locator(".plan-name").textContent()).toBe("River bedroom");
		await page.waitForTimeout(1000);
		expect(await page.getByRole("tabpanel").count()).toBe(1);
		expect(await status(page)).toContain("River bedroom");
	});

	test("of a long run shows progress, and can be stopped: the last finished one stays", async () => {
		const page = await open();
		const before = await drawnPipes(page);
		await selectFeature(page, "kitchen");
		// a hall of 390 m2, with about as many loops as one manifold takes, needs a good while
		for (const corner of [2, 3]) {
			await page.getByLabel(`x of corner ${corner}`).fill("31720");
			await page.getByLabel(`x of corner ${corner}`).press("Enter");
		}
		await page.getByLabel("y of corner 3").fill("15000");
		await page.getByLabel("y of corner 3").press("Enter");
		await page.getByLabel("y of corner 4").fill("15000");
		await page.getByLabel("y of corner 4").press("Enter");
		await page.getByRole("button", { name: "Stop" }).click();
		await page.locator('.plan[aria-busy="false"]').waitFor();
		expect(await status(page)).toContain("Stopped");
		expect((await drawnPipes(page)).length).toBeGreaterThan(0);
		expect(before.length).toBeGreaterThan(0);
	});
});

test("the page admits nothing inline and nothing from elsewhere", async () => {
	const page = await open();
	const policy = await page.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute("content");
	expect(policy).toContain("default-src 'none'");
	expect(policy).not.toMatch(/unsafe|https?:|\*/);
	expect(await page.locator("script:not([src]), style, [style], [onclick], iframe").count()).toBe(0);
});
