import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { routed } from "./openPlayground.ts";
import { browserSession } from "./session.ts";
import { takeFloor } from "./steps.ts";

const { open } = browserSession();

async function compare(page: Page): Promise<void> {
	await page.getByLabel("Comparison", { exact: true }).check();
	await compared(page);
}

/** Waits until both sides belong to the settings on screen. */
async function compared(page: Page): Promise<void> {
	// a change has to reach the page before its end can be waited for
	await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
	await page.locator('.compare[aria-busy="false"]').waitFor({ timeout: 30_000 });
}

const row = (page: Page, figure: string) => page.locator(`[data-figure="${figure}"] td`);

const numberIn = (words: string | null): number => Number.parseFloat((words ?? "").trim().replace("\u2212", "-"));

const pipesOf = (page: Page, side: "a" | "b"): Promise<string[]> =>
	page.locator(`[data-side="${side}"] .pipe`).evaluateAll((all) => all.map((pipe) => pipe.getAttribute("d") ?? ""));

const placed = (page: Page): Promise<(string | null)[]> =>
	page
		.locator(".pane svg[role=img] > g:first-of-type")
		.evaluateAll((all) => all.map((group) => group.getAttribute("transform")));

describe("a comparison", () => {
	test("lays the whole floor as serpentine and as spiral, with every figure and its unit", async () => {
		const page = await open();
		await compare(page);
		expect(await pipesOf(page, "a")).not.toEqual(await pipesOf(page, "b"));
		const figures = await page
			.locator(".differences tbody tr")
			.evaluateAll((all) => all.map((one) => [one.getAttribute("data-figure"), one.children[1]?.textContent?.trim()]));
		expect(figures.map(([id]) => id)).toEqual([
			"pipe",
			"loops",
			"longest",
			"bends",
			"within055",
			"within100",
			"coldSpot",
			"tails",
			"notices",
			"seconds",
		]);
		const unitOf = Object.fromEntries(figures.map(([id, words]) => [id, words?.replace(/^[\d.,\s]+/, "")]));
		expect(unitOf).toMatchObject({
			pipe: "m",
			within055: "%",
			within100: "%",
			coldSpot: "mm",
			tails: "m",
			seconds: "s",
		});
		expect(await page.locator('[data-figure="longest"] th').textContent()).toMatch(/Longest loop,\s+of 100.0\sm/);
	});

	test("gives the same figures as the plan itself", async () => {
		const page = await open();
		await page.getByLabel("Spiral").check();
		await routed(page);
		const total = await page.getByRole("region", { name: "Table of loops" }).locator("tfoot td").textContent();
		await compare(page);
		expect((await row(page, "pipe").nth(1).textContent())?.replace("better:", "").trim()).toBe(total?.trim());
	});

	test("marks the better figure with a tick that is read out, and takes the difference", async () => {
		const page = await open();
		await compare(page);
		const ids = await page
			.locator(".differences tbody tr")
			.evaluateAll((all) => all.map((one) => one.getAttribute("data-figure") ?? ""));
		let marked = 0;
		for (const id of ids) {
			const [a, b, difference] = await row(page, id).allTextContents();
			const better = await row(page, id).evaluateAll((cells) =>
				cells.findIndex((cell) => cell.querySelector('[role=img][aria-label="better:"]') !== null),
			);
			const [one, other] = [numberIn(a!), numberIn(b!)];
			if (better < 0) continue;
			marked += 1;
			const moreIsBetter = id.startsWith("within");
			expect([id, better]).toEqual([id, one < other === !moreIsBetter ? 0 : 1]);
			// each figure is rounded on its own
			expect(Math.abs(numberIn(difference!) - (other - one))).toBeLessThan(0.11);
		}
		expect(marked).toBeGreaterThan(0);
	});

	test("moves and zooms both panes together, by mouse and by keys", async () => {
		const page = await open();
		await compare(page);
		const start = await placed(page);
		expect(start[0]).toBe(start[1]);
		const box = (await page.getByRole("application", { name: "Plan of side B" }).boundingBox())!;
		await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
		await page.mouse.wheel(0, -300);
		const near = await placed(page);
		expect(near[0]).not.toBe(start[0]);
		expect(near[0]).toBe(near[1]);
		await page.getByRole("application", { name: "Plan of side A" }).focus();
		await page.keyboard.press("ArrowLeft");
		const moved = await placed(page);
		expect(moved[1]).not.toBe(near[1]);
		expect(moved[0]).toBe(moved[1]);
		await page.keyboard.press("0");
		expect(await placed(page)).toEqual(start);
	});

	test("takes any two settings: the side that is changed is laid anew, the other stays", async () => {
		const page = await open();
		await compare(page);
		const [a, b] = [await pipesOf(page, "a"), await pipesOf(page, "b")];
		await page.locator('[data-side="a"] summary').click();
		await page.locator("#a-spacing").fill("100");
		await page.locator("#a-spacing").press("Enter");
		await compared(page);
		expect(await pipesOf(page, "a")).not.toEqual(a);
		expect(await pipesOf(page, "b")).toEqual(b);
		expect(numberIn((await row(page, "pipe").first().textContent())?.replace("better:", "") ?? "")).toBeGreaterThan(
			numberIn((await row(page, "pipe").nth(1).textContent())?.replace("better:", "") ?? ""),
		);
	});

	test.each([
		["edgeDistance", "150"],
		["outerDiameter", "20"],
		["minBendRadius", "140"],
		["maxLoopLength", "40"],
		["tailSpacing", "100"],
	])("lays one side with %s of %s and leaves the other as it was", async (name, entry) => {
		const page = await open();
		await takeFloor(page, "Sail loft (L)");
		await compare(page);
		const [a, b] = [await pipesOf(page, "a"), await pipesOf(page, "b")];
		await page.locator('[data-side="b"] summary').click();
		await page.locator(`#b-${name}`).fill(entry);
		await page.locator(`#b-${name}`).press("Enter");
		await compared(page);
		expect(await pipesOf(page, "a")).toEqual(a);
		// a wider pipe may lie along the same line: then only its width has changed
		if (name !== "outerDiameter") expect(await pipesOf(page, "b")).not.toEqual(b);
		expect(await page.locator('[data-side="b"] .pane__count').textContent()).toBe("1");
	});

	test("explains a setting that cannot be, and keeps what was there", async () => {
		const page = await open();
		await compare(page);
		const before = await pipesOf(page, "a");
		await page.locator('[data-side="a"] summary').click();
		await page.locator("#a-spacing").fill("900");
		await page.locator("#a-spacing").press("Enter");
		expect(await page.locator("#a-spacing-problem").textContent()).toContain("900");
		await compared(page);
		expect(await pipesOf(page, "a")).toEqual(before);
	});

	test("of one room of the house heats that room alone", async () => {
		const page = await open();
		await takeFloor(page, "Whole house");
		await compare(page);
		const whole = numberIn(await row(page, "loops").first().textContent());
		await page.getByLabel("Compare", { exact: true }).selectOption({ label: "Kitchen" });
		await compared(page);
		expect(numberIn(await row(page, "loops").first().textContent())).toBeLessThan(whole);
		expect(await page.locator('[data-side="a"] .room.is-unheated').count()).toBe(8);
	});

	test("leaves the plan as it was", async () => {
		const page = await open();
		const before = await page.locator(".pipe").evaluateAll((all) => all.map((pipe) => pipe.getAttribute("d")));
		await compare(page);
		await page.getByLabel("Plan", { exact: true }).check();
		await routed(page);
		expect(await page.locator(".pipe").evaluateAll((all) => all.map((pipe) => pipe.getAttribute("d")))).toEqual(before);
	});
});
