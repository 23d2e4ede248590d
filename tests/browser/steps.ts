import type { Locator, Page } from "playwright-core";
import { routed, settled } from "./openPlayground.ts";

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
