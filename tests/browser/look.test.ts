import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { drawnPipes, onPage, routed } from "./openPlayground.ts";
import { browserSession } from "./session.ts";
import { announced, placed, takeFloor, turnTo } from "./steps.ts";

const { open } = browserSession();

async function choose(page: Page, floor: string): Promise<void> {
	await takeFloor(page, floor);
	await turnTo(page, "Results");
}

/** The loop that is followed, and how far along it, mm. */
async function followed(page: Page): Promise<{ loop: string; station: number } | undefined> {
	const mark = page.locator("[data-followed]");
	if ((await mark.count()) === 0) return undefined;
	return {
		loop: (await mark.getAttribute("data-followed")) ?? "",
		station: Number(await mark.getAttribute("data-station")),
	};
}

/** A loop's pipe as drawn, mm, y up. */
async function pipeOf(page: Page, loop: string): Promise<[number, number][]> {
	const path = (await page.locator(`[data-loop="${loop}"] .pipe`).getAttribute("d")) ?? "";
	return path
		.slice(1)
		.split("L")
		.map((pair) => pair.split(",").map(Number))
		.map(([x = Number.NaN, y = Number.NaN]) => [x, -y]);
}

const lengthOf = (points: readonly [number, number][]): number =>
	points.slice(1).reduce((sum, [x, y], index) => sum + Math.hypot(x - points[index]![0], y - points[index]![1]), 0);

describe("a loop", () => {
	test("has its number at its ports", async () => {
		const page = await open();
		await choose(page, "Whole house");
		const loops = await page.locator(".loop").evaluateAll((all) => all.map((one) => one.getAttribute("data-loop")));
		const numbered = await page
			.locator("[data-port-of]")
			.evaluateAll((all) => all.map((one) => [one.getAttribute("data-port-of"), one.textContent?.trim()]));
		expect(loops.length).toBeGreaterThan(5);
		expect(numbered.toSorted()).toEqual(loops.map((id) => [id, id]).toSorted());
	});

	test("is followed by a mouse that rests on its pipe, at the metre under the mouse", async () => {
		const page = await open();
		await choose(page, "Sail loft (L)");
		const pipe = await pipeOf(page, "L1");
		const at = Math.floor(pipe.length / 3);
		const station = lengthOf(pipe.slice(0, at + 1));
		const place = await onPage(page, ...pipe[at]!);
		await page.mouse.move(place.x, place.y);
		await page.locator("[data-followed]").waitFor();
		const { loop, station: shown } = (await followed(page))!;
		expect(loop).toBe("L1");
		// a pointer stands on whole pixels
		expect(Math.abs(shown - station)).toBeLessThan(60);
		expect(await page.locator(".followed__words").textContent()).toMatch(/^[\d.]+\sm of [\d.]+\sm$/);
		await page.mouse.move(2, 2);
		await page.locator("[data-followed]").waitFor({ state: "detached" });
	});

	test("is followed from port to port with a slider that says where it is", async () => {
		const page = await open();
		await page.getByRole("button", { name: "Follow L1" }).click();
		const slider = page.getByRole("slider", { name: "L1 from port to port" });
		expect(await slider.getAttribute("aria-valuetext")).toMatch(/^L1 after 0.0\sm of [\d.]+\sm, flow half/);
		await slider.focus();
		await slider.press("End");
		const whole = lengthOf(await pipeOf(page, "L1"));
		// the path on screen is rounded to 0.1 mm at every point
		expect(Math.abs((await followed(page))!.station - whole)).toBeLessThan(20);
		expect(await slider.getAttribute("aria-valuetext")).toContain("return half");
		await slider.press("Home");
		expect((await followed(page))!.station).toBe(0);
		await slider.press("ArrowRight");
		expect((await followed(page))!.station).toBe(100);
		await page.getByRole("button", { name: "Stop following" }).click();
		await page.mouse.move(2, 2);
		expect(await followed(page)).toBeUndefined();
	});

	test("is followed from the plan by keys alone, and heard", async () => {
		const page = await open();
		await choose(page, "Sail loft (L)");
		await page.getByRole("application").focus();
		await page.keyboard.press("l");
		expect(await followed(page)).toEqual({ loop: "L1", station: 0 });
		await page.keyboard.press(".");
		await page.keyboard.press(".");
		expect(await followed(page)).toEqual({ loop: "L1", station: 2000 });
		expect(await announced(page)).toMatch(/^L1 after 2.0\sm of .* flow half/);
		await page.keyboard.press(",");
		expect((await followed(page))?.station).toBe(1000);
		await page.keyboard.press("l");
		expect((await followed(page))?.loop).toBe("L2");
		await page.keyboard.press("Escape");
		expect(await followed(page)).toBeUndefined();
	});

	test("that is focused in the table stands out, and leaves the plan as it was", async () => {
		const page = await open();
		await choose(page, "Sail loft (L)");
		const before = await drawnPipes(page);
		await page.getByRole("button", { name: "Follow L2" }).focus();
		expect((await followed(page))?.loop).toBe("L2");
		expect(await page.locator(".loop.is-faint").count()).toBe((await page.locator(".loop").count()) - 1);
		expect(await drawnPipes(page)).toBe(before);
	});
});

test("loop lengths stand in a chart against the limit, told in words too", async () => {
	const page = await open();
	await choose(page, "Whole house");
	const chart = page.locator(".chart svg");
	const words = (await chart.getAttribute("aria-label")) ?? "";
	expect(words).toMatch(/^Chart of 8 loops: the shortest is L\d, [\d.]+\sm, the longest L\d, [\d.]+\sm/);
	expect(words).toContain("100.0\u00a0m");
	const bars = await chart.locator("rect").evaluateAll((all) => all.map((bar) => Number(bar.getAttribute("width"))));
	const lengths = await page
		.getByRole("region", { name: "Table of loops" })
		.locator("tbody tr td:last-child")
		.evaluateAll((all) => all.map((cell) => Number.parseFloat(cell.textContent ?? "")));
	expect(bars).toHaveLength(lengths.length);
	const perMetre = bars.map((bar, index) => bar / lengths[index]!);
	for (const ratio of perMetre) expect(ratio).toBeCloseTo(perMetre[0]!, 1);
	const limit = Number(/M([\d.]+)/.exec((await chart.locator(".chart__limit").getAttribute("d")) ?? "")?.[1]);
	const start = Number(await chart.locator("rect").first().getAttribute("x"));
	expect((limit - start) / 100).toBeCloseTo(perMetre[0]!, 1);
});

test("a notice that is clicked shows the room that it is about", async () => {
	const page = await open();
	await choose(page, "Pipe duct (too narrow to heat)");
	await page.locator(".notices button").first().click();
	expect(await page.locator(".room.is-selected").count()).toBe(1);
	const stage = (await page.getByRole("application").boundingBox())!;
	const room = (await page.locator(".room.is-selected").boundingBox())!;
	expect(room.x).toBeGreaterThanOrEqual(stage.x);
	expect(room.x + room.width).toBeLessThanOrEqual(stage.x + stage.width);
	// it is brought near, in the middle of the window
	expect(Math.abs(room.x + room.width / 2 - (stage.x + stage.width / 2))).toBeLessThan(2);
});

test("bundles are drawn with their pipe counts, listed, and shown where they are", async () => {
	const page = await open();
	await choose(page, "Whole house");
	await page.getByRole("checkbox", { name: "Bundles" }).check();
	const drawn = await page.locator(".bundles text").allTextContents();
	const table = page.getByRole("region", { name: "Table of bundles" });
	const listed = await table.locator("tbody td:nth-child(3)").allTextContents();
	expect(drawn.length).toBeGreaterThan(0);
	expect(drawn.map((words) => words.trim())).toEqual(listed.map((pipes) => `×${pipes.trim()}`));
	const before = await placed(page);
	await table.getByRole("button").first().click();
	expect(await placed(page)).not.toBe(before);
});

describe("the map of distances", () => {
	test("covers every heated room, with its legend and its figures", async () => {
		const page = await open();
		await choose(page, "Whole house");
		await page.getByLabel("Show it on the plan").check();
		await page.locator('.warmth[data-warmth="8"]').waitFor();
		expect(await page.locator(".warmth .band-55").count()).toBe(8);
		expect(await page.locator(".bands li").count()).toBe(5);
		const table = page.getByRole("region", { name: "Table of distances" });
		expect(await table.locator("tbody tr").count()).toBe(8);
		expect(await table.locator("tbody tr").first().textContent()).toMatch(/\d+\.\d\s%.*\d+\smm/);
	});

	test("shows a room without pipe as cold all over", async () => {
		const page = await open();
		await choose(page, "Pipe duct (too narrow to heat)");
		await page.getByLabel("Show it on the plan").check();
		await page.locator('.warmth[data-warmth="1"]').waitFor();
		expect(await page.locator(".warmth .band-150").count()).toBe(1);
		expect(await page.getByRole("region", { name: "Table of distances" }).textContent()).toContain("no pipe");
	});

	test("belongs to the plan on screen: it is drawn anew when that changes", async () => {
		const page = await open();
		await page.getByLabel("Spiral").check();
		await routed(page);
		await page.getByLabel("Show it on the plan").check();
		await page.locator('.warmth[data-warmth="1"]').waitFor();
		const before = await page.locator(".warmth .band-30").getAttribute("d");
		await page.getByLabel("Serpentine").check();
		await routed(page);
		await page.locator('.warmth[data-warmth="1"]').waitFor();
		expect(await page.locator(".warmth .band-30").getAttribute("d")).not.toBe(before);
	});
});

test("the help shows both patterns as the library draws them, and the cautions", async () => {
	const page = await open();
	await turnTo(page, "Help");
	const pictures = page.locator(".help__picture img");
	await pictures.nth(1).waitFor();
	const sizes = await pictures.evaluateAll((all) =>
		all.map((image) => [(image as HTMLImageElement).complete, (image as HTMLImageElement).naturalWidth > 0]),
	);
	expect(sizes).toEqual([
		[true, true],
		[true, true],
	]);
	const sources = await pictures.evaluateAll((all) =>
		all.map((image) => decodeURIComponent((image as HTMLImageElement).src)),
	);
	expect(sources.every((source) => source.includes('data-loop="L1"'))).toBe(true);
	expect(sources[0]).not.toBe(sources[1]);
	const help = await page.getByRole("tabpanel").textContent();
	const cautions = ["Pressure-test", "surface", "covering", "licensed electrician", "drill", "licensed people"];
	for (const word of ["Manifold", "Tail", ...cautions]) expect(help).toContain(word);
});
