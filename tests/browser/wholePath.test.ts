import { readFileSync } from "node:fs";
import { auditLayout, readFloorText, readLayoutText } from "oxturn";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { parseXml } from "../drawing/parseXml.ts";
import { cornersOf, dragFloor, drawnPipes, routed, settled } from "./openPlayground.ts";
import { browserSession } from "./session.ts";
import { announced, crossTo, drawOutline, tabTo, tool, turnTo } from "./steps.ts";

const { open, openEmpty } = browserSession();

const L_ROOM = [
	[0, 0],
	[6000, 0],
	[6000, 2500],
	[3000, 2500],
	[3000, 4000],
	[0, 4000],
] as const;

const formats = ["Floor (JSON)", "Layout (JSON)", "Plan (SVG)"] as const;

/** What a download holds, once `ask` has asked for it. */
async function downloaded(page: Page, ask: () => Promise<void>): Promise<string> {
	const [file] = await Promise.all([page.waitForEvent("download"), ask()]);
	return readFileSync(await file.path(), "utf8");
}

/** The three files belong to each other and to the plan on screen, and the layout keeps every rule. */
async function expectFiles(page: Page, [floorText, layoutText, svgText]: readonly string[]): Promise<void> {
	const { floor } = readFloorText(floorText!);
	const layout = readLayoutText(layoutText!);
	const loops = await page.locator(".loop").count();
	expect(loops).toBeGreaterThan(0);
	expect(floor.rooms[0]!.region.outer).toEqual(await cornersOf(page, "room-1"));
	expect(floor.keepouts).toHaveLength(1);
	expect(layout.features).toHaveLength(loops);
	expect(auditLayout(floor, layout).findings).toEqual([]);
	const svg = parseXml(svgText!);
	expect(svg.name).toBe("svg");
	for (const { id } of layout.features) expect(svgText).toContain(`data-loop="${id}"`);
}

/** The link opens in a browser that never saw the floor, with the same pipes, and again after a reload. */
async function expectLink(page: Page, link: string): Promise<void> {
	const pipes = await drawnPipes(page);
	const fresh = await page
		.context()
		.browser()!
		.newContext({ viewport: { width: 1280, height: 800 }, locale: "en-GB" });
	const other = await fresh.newPage();
	await other.goto(link);
	await other.locator(".message", { hasText: "opened from the link" }).waitFor();
	await routed(other);
	expect(await drawnPipes(other)).toBe(pipes);
	await other.waitForFunction(() => localStorage.getItem("oxturn.floor")?.includes("keepout-1"));
	await other.reload();
	await routed(other);
	expect(await drawnPipes(other)).toBe(pipes);
	await fresh.close();
}

const compared = (page: Page) =>
	page.locator('.compare[aria-busy="false"] .differences table').waitFor({ timeout: 30_000 });

const station = async (page: Page): Promise<number> =>
	Number(await page.locator("[data-followed]").getAttribute("data-station"));

test("a person draws, furnishes, compares, follows, downloads and sends a floor by mouse", async () => {
	const page = await openEmpty();
	await drawOutline(page, L_ROOM);
	expect(await cornersOf(page, "room-1")).toEqual(L_ROOM.map((corner) => [...corner]));

	await tool(page, /keep-out/).click();
	await page.getByLabel("Rectangle").check();
	await dragFloor(page, [1000, 2500], [2000, 3500]);
	await tool(page, "Select and move").click();
	await routed(page);
	const before = await drawnPipes(page);
	const hung = await page.locator(".manifold").getAttribute("transform");
	await dragFloor(page, [3000, -60], [4000, 60]);
	await routed(page);
	expect(await page.locator(".manifold").getAttribute("transform")).not.toBe(hung);
	expect(await drawnPipes(page)).not.toBe(before);

	await page.getByLabel("Comparison", { exact: true }).check();
	await compared(page);
	expect(await page.locator(".differences tbody tr").count()).toBe(10);
	await page.getByLabel("Plan", { exact: true }).check();

	await page.getByRole("button", { name: "Follow L1" }).click();
	await page.getByRole("slider", { name: "L1 from port to port" }).press("End");
	expect(await station(page)).toBeGreaterThan(10_000);
	await page.getByRole("button", { name: "Stop following" }).click();

	await turnTo(page, "Start and keep");
	const texts: string[] = [];
	for (const name of formats) texts.push(await downloaded(page, () => page.getByRole("button", { name }).click()));
	await expectFiles(page, texts);
	await page.getByRole("button", { name: "Make a link" }).click();
	await page.locator("[data-keep-message]", { hasText: "Link" }).waitFor();
	await expectLink(page, await page.getByLabel("Link to this floor").inputValue());
});

test("and does all of it by keyboard alone", async () => {
	const page = await open();
	const press = async (...keys: readonly string[]): Promise<void> => {
		for (const key of keys) await page.keyboard.press(key);
	};
	await tabTo(page, /^Results$/);
	await press("ArrowRight", "ArrowRight");
	await tabTo(page, /^Empty floor$/);
	await press("Enter");
	await settled(page);
	await tabTo(page, /^Rectangle$/);
	await press("ArrowDown");
	await tabTo(page, /^Drawing area$/);
	await crossTo(page, 0, 0);
	await press("Enter");
	for (const [arrow, length] of [
		["ArrowRight", "6000"],
		["ArrowUp", "2.5 m"],
		["ArrowLeft", "3000"],
		["ArrowUp", "1500"],
		["ArrowLeft", "3 m"],
	] as const) {
		await press(arrow);
		await page.keyboard.type(length);
		await press("Enter");
	}
	await press("Enter");
	await routed(page);
	expect(await cornersOf(page, "room-1")).toEqual(L_ROOM.map((corner) => [...corner]));

	// a keep-out, point by point like the room
	await press("k");
	await crossTo(page, 1000, 2500);
	await press("Enter");
	for (const [arrow, length] of [
		["ArrowRight", "1000"],
		["ArrowUp", "1000"],
		["ArrowLeft", "1000"],
	] as const) {
		await press(arrow);
		await page.keyboard.type(length);
		await press("Enter");
	}
	await press("Enter", "v");
	await routed(page);
	expect(await cornersOf(page, "keepout-1")).toHaveLength(4);

	// the manifold along its wall
	const hung = await page.locator(".manifold").getAttribute("transform");
	for (let presses = 0; presses < 6; presses += 1) {
		await press("PageDown");
		if ((await announced(page))?.startsWith("Manifold")) break;
	}
	await press("Shift+ArrowRight");
	await routed(page);
	expect(await page.locator(".manifold").getAttribute("transform")).not.toBe(hung);
	await press("Escape");

	// a loop, metre by metre
	await press("l", ".", ".");
	expect(await station(page)).toBe(2000);
	await press("Escape");

	await tabTo(page, /^Plan$/);
	await press("ArrowRight");
	await compared(page);
	await press("ArrowLeft");
	await routed(page);

	await tabTo(page, /^(Results|Start and keep)$/);
	if ((await page.evaluate(() => document.activeElement?.id)) === "tab-results")
		await press("ArrowRight", "ArrowRight");
	const texts: string[] = [];
	for (const name of formats) {
		await tabTo(page, new RegExp(`^${name.replace(/[()]/g, "\\$&")}$`));
		texts.push(await downloaded(page, () => press("Enter")));
	}
	await expectFiles(page, texts);
	await tabTo(page, /^Make a link$/);
	await press("Enter");
	await page.locator("[data-keep-message]", { hasText: "Link" }).waitFor();
	await expectLink(page, await page.getByLabel("Link to this floor").inputValue());
});
