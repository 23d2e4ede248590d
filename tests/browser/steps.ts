import type { Locator, Page } from "playwright-core";
import { clickFloor, routed, settled } from "./openPlayground.ts";

/** What a person does on the page and looks at again and again, in the English page. */

export type Sheet = "Results" | "Draw" | "Start and keep" | "Help";

/** Turns to a sheet of the margin. */
export async function turnTo(page: Page, sheet: Sheet): Promise<void> {
	await page.getByRole("tab", { name: sheet, exact: true }).click();
}

/** Takes a floor from the gallery and waits for its plan. */
export async function takeFloor(page: Page, floor: string): Promise<void> {
	await turnTo(page, "Start and keep");
	await page.getByLabel("Gallery").selectOption({ label: floor });
	await routed(page);
}

/** Starts with nothing, the tool for rooms in hand. */
export async function startEmpty(page: Page): Promise<void> {
	await turnTo(page, "Start and keep");
	await page.getByRole("button", { name: "Empty floor" }).click();
	await settled(page);
}

/** Draws a room by mouse, point by point, and waits for its plan. */
export async function drawOutline(page: Page, corners: readonly (readonly [x: number, y: number])[]): Promise<void> {
	await page.getByLabel("Point by point").check();
	for (const [x, y] of [...corners, ...corners.slice(0, 1)]) await clickFloor(page, x, y);
	await routed(page);
}

/** Selects a feature by its id in the list of what is on the floor. */
export async function selectFeature(page: Page, id: string): Promise<void> {
	await turnTo(page, "Draw");
	await page.getByLabel("On this floor").selectOption(id);
}

/** A tool of the rail, undo and redo among them. */
export const tool = (page: Page, name: string | RegExp): Locator =>
	page.getByRole("navigation").getByRole("button", { name });

/** The state of the plan in words. */
export const status = (page: Page): Promise<string | null> => page.getByRole("status").textContent();

/** What was said last to those who do not see. */
export const announced = (page: Page): Promise<string | null> => page.locator("[data-announcement]").textContent();

/** Where the plan stands in its window and how large. */
export const placed = (page: Page): Promise<string | null> =>
	page.locator(".plan svg[role=img] > g").first().getAttribute("transform");

/** Goes on by the Tab key until a control called `name` has the focus. */
export async function tabTo(page: Page, name: RegExp): Promise<void> {
	for (let presses = 0; presses < 80; presses += 1) {
		await page.keyboard.press("Tab");
		const at = await page.evaluate(() => {
			const active = document.activeElement;
			const label = active instanceof HTMLInputElement ? active.labels?.[0]?.textContent : active?.textContent;
			return active?.getAttribute("aria-label") ?? label?.trim() ?? "";
		});
		if (name.test(at)) return;
	}
	throw new Error(`No control called ${name} can be reached by the Tab key.`);
}

/** Brings the cross of a drawing tool to a point of the floor, mm, by arrow keys, as near as its steps of 10 mm allow. */
export async function crossTo(page: Page, x: number, y: number): Promise<void> {
	await page.keyboard.press("ArrowRight");
	const told = /^x (\u2212?-?[\d.]+)\sm, y (\u2212?-?[\d.]+)\sm$/.exec((await announced(page)) ?? "");
	const at = told?.slice(1).map((metres) => Math.round(1000 * Number(metres.replace("\u2212", "-"))));
	if (!at) throw new Error(`The cross says no place: ${await announced(page)}`);
	const press = async (by: number, forth: string, back: string): Promise<void> => {
		let left = Math.round(Math.abs(by) / 10);
		for (const [step, key] of [
			[100, "Shift+"],
			[10, ""],
			[1, "Alt+"],
		] as const)
			for (; left >= step; left -= step) await page.keyboard.press(`${key}${by > 0 ? forth : back}`);
	};
	await press(x - at[0]!, "ArrowRight", "ArrowLeft");
	await press(y - at[1]!, "ArrowUp", "ArrowDown");
}
