import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { clickFloor, cornersOf, drawnPipes, onPage, routed, settled } from "./openPlayground.ts";
import { noise, pngPicture } from "./pngPicture.ts";
import { browserSession } from "./session.ts";
import { placed, selectFeature, status, takeFloor, tool, turnTo } from "./steps.ts";

const { open } = browserSession();

async function type(page: Page, id: string, entry: string): Promise<void> {
	await page.locator(`#${id}`).fill(entry);
	await page.locator(`#${id}`).press("Enter");
}

describe("settings of the floor", () => {
	test.each([
		["spacing", "300"],
		["floor-edgeDistance", "150"],
		["floor-minBendRadius", "120"],
		// both loops are longer than this
		["floor-maxLoopLength", "50"],
		["floor-tailSpacing", "100"],
	])("%s changes the plan, and undo gives it back", async (id, entry) => {
		const page = await open();
		// two loops, so that there are tails
		await takeFloor(page, "Sail loft (L)");
		await turnTo(page, "Draw");
		const before = await drawnPipes(page);
		await type(page, id, entry);
		await routed(page);
		expect(await drawnPipes(page)).not.toBe(before);
		await tool(page, "Undo").click();
		await routed(page);
		expect(await drawnPipes(page)).toBe(before);
	});

	test.each([
		["spacing", "500", "500\u00a0mm is too large"],
		["spacing", "20", "20\u00a0mm is too small"],
		["spacing", "wide", "Give a number"],
		["floor-outerDiameter", "60", "too large"],
		["floor-minBendRadius", "5", "too small"],
		["floor-maxLoopLength", "-3", "too small"],
		["floor-tailSpacing", "1e999", "Give a number"],
	])("%s of %j is explained beside the field and leaves drawing and plan as they were", async (id, entry, reason) => {
		const page = await open();
		await turnTo(page, "Draw");
		const before = await drawnPipes(page);
		await type(page, id, entry);
		await page.locator(`#${id}-problem`, { hasText: reason }).waitFor();
		const field = page.locator(`#${id}`);
		expect(await field.getAttribute("aria-invalid")).toBe("true");
		expect(await field.getAttribute("aria-describedby")).toContain(`${id}-problem`);
		expect(await field.inputValue()).toBe(entry);
		expect(await page.locator(".plan").getAttribute("aria-busy")).toBe("false");
		expect(await drawnPipes(page)).toBe(before);
		expect(await tool(page, "Undo").isEnabled()).toBe(false);
	});
});

describe("settings of a room", () => {
	test("its spacing is its own, and empty it is the floor's again", async () => {
		const page = await open();
		await selectFeature(page, "kitchen");
		await type(page, "room-spacing", "100");
		await routed(page);
		expect(await page.locator(".room-label").textContent()).toContain("100\u00a0mm");
		await type(page, "room-spacing", "");
		await routed(page);
		expect(await page.locator(".room-label").textContent()).toContain("200\u00a0mm");
	});

	test("unheated it has no pipe and says so", async () => {
		const page = await open();
		await selectFeature(page, "kitchen");
		await page.getByLabel("Heated").uncheck();
		await routed(page);
		expect(await page.locator(".loop").count()).toBe(0);
	});
});

describe("settings of a room that others do not have", () => {
	/** The kitchen as the browser keeps it. */
	const kept = (page: Page): Promise<Record<string, unknown>> =>
		page.evaluate(() => {
			const { features } = JSON.parse(localStorage.getItem("oxturn.floor") ?? "{}");
			return features.find(({ id }: { id: string }) => id === "kitchen").properties;
		});

	test("are its pattern and its wish to share a loop; they go into the document, and out of it again", async () => {
		const page = await open();
		await selectFeature(page, "kitchen");
		const sharing = page.getByRole("radiogroup", { name: "May share a loop with a neighbour" });
		expect(await sharing.getByLabel("If under 4\u00a0m²").isChecked()).toBe(true);
		await sharing.getByLabel("No").check();
		await page.locator('input[name="room-pattern"][value="spiral"]').check();
		await routed(page);
		await expect.poll(() => kept(page)).toMatchObject({ share: false, pattern: "spiral" });
		await sharing.getByLabel("If under 4\u00a0m²").check();
		await expect.poll(() => kept(page)).not.toHaveProperty("share");
	});

	test("the panel says which settings hold for the whole floor", async () => {
		const page = await open();
		await turnTo(page, "Draw");
		expect(await page.getByRole("region", { name: "Floor", exact: true }).textContent()).toContain(
			"These hold for the whole floor",
		);
	});
});

describe("language and units", () => {
	test("German is complete on the page and says so to assistive technology", async () => {
		const page = await open();
		await page.getByLabel("Language").selectOption("de");
		expect(await page.evaluate(() => document.documentElement.lang)).toBe("de");
		expect(await status(page)).toMatch(/^Kitchen, Pollard Reach: 1 Kreis, [\d,]+\sm Rohr\. Verlegt in/);
		const seen = async (): Promise<string> => (await page.locator("#app").textContent()) ?? "";
		for (const tab of ["Ergebnis", "Zeichnen", "Ablage"]) {
			await page.getByRole("tab", { name: tab }).click();
			expect(await seen()).not.toMatch(/\b(the|loops?|spacing|draw|results)\b/i);
		}
		await page.reload();
		await routed(page);
		expect(await page.evaluate(() => document.documentElement.lang)).toBe("de");
	});

	test("notices and what stands in the way are told in German, with their figures", async () => {
		const page = await open({ locale: "de-DE" });
		await page.getByRole("tab", { name: "Ablage" }).click();
		await page.getByLabel("Sammlung").selectOption({ label: "Rohrschacht (zu schmal zum Heizen)" });
		await routed(page);
		await page.getByRole("tab", { name: "Ergebnis" }).click();
		const notice = (await page.locator(".notices li").first().textContent()) ?? "";
		expect(notice).toMatch(/hat keinen Kreis: .*kein Rohr mit 150\smm Abstand/);
		expect(await page.locator(".notices [lang=en]").count()).toBe(0);

		await page.getByRole("tab", { name: "Zeichnen" }).click();
		await page.getByLabel("Auf diesem Boden").selectOption({ index: 1 });
		await page.getByLabel("x der Ecke 3").fill("-4000");
		await page.getByLabel("x der Ecke 3").press("Enter");
		await page.locator(".problems li", { hasText: "Er kreuzt oder berührt sich selbst" }).waitFor();
		expect(await page.locator(".problems [lang=en]").textContent()).toMatch(/^found a ring that crosses/);
	});

	test("the reader's own language is taken first", async () => {
		const page = await open({ locale: "de-AT" });
		expect(await page.getByRole("tab", { name: "Ergebnis" }).count()).toBe(1);
	});

	test("feet and inches are shown wherever lengths are", async () => {
		const page = await open();
		await page.getByLabel("Lengths").selectOption("imperial");
		expect(await page.locator(".room-label").textContent()).toMatch(/\d+\sft², pipe every 7\.87"/);
		expect(await page.getByRole("table").locator("tfoot td").textContent()).toMatch(/^\d+\sft$/);
		expect(await page.locator(".scale-bar text").textContent()).toMatch(/^\d+'\s0"$/);
	});

	test("feet and inches are typed where they are shown, and the document keeps millimetres", async () => {
		const page = await open();
		await page.getByLabel("Lengths").selectOption("imperial");
		await selectFeature(page, "kitchen");
		const wall = page.getByLabel("Length of wall 1");
		expect(await wall.inputValue()).toMatch(/^\d+'\s\d+/);
		await wall.fill("12' 6\"");
		await wall.press("Enter");
		await routed(page);
		const [first, second] = await cornersOf(page, "kitchen");
		// 150 inches of 25.4 mm
		expect(Math.hypot(second![0] - first![0], second![1] - first![1])).toBeCloseTo(3810, 0);
		expect(await wall.inputValue()).toBe("12'\u00a06\"");
	});
});

describe("a finger", () => {
	const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };

	type Touches = readonly { readonly x: number; readonly y: number }[];

	/** Sends touches to the page as a screen does, px. */
	async function fingers(
		page: Page,
	): Promise<(type: "touchStart" | "touchMove" | "touchEnd", at: Touches) => Promise<void>> {
		const client = await page.context().newCDPSession(page);
		return async (type, at) => {
			await client.send("Input.dispatchTouchEvent", { type, touchPoints: [...at] });
		};
	}

	test("drags a corner, and the page does not scroll away under it", async () => {
		const page = await open(phone);
		await page.evaluate(() => scrollTo(0, 0));
		const touch = await fingers(page);
		const from = await onPage(page, 9900, 4300);
		const to = await onPage(page, 8900, 3800);
		await touch("touchStart", [from]);
		for (let share = 0.1; share <= 1.001; share += 0.1)
			await touch("touchMove", [{ x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y) }]);
		await touch("touchEnd", []);
		await settled(page);
		const corner = (await cornersOf(page, "kitchen"))[2]!;
		expect(Math.hypot(corner[0] - 8900, corner[1] - 3800)).toBeLessThan(400);
		expect(await page.evaluate(() => scrollY)).toBe(0);
	});

	test("draws a room from corner to corner", async () => {
		const page = await open(phone);
		await page.getByRole("button", { name: "Draw a keep-out" }).click();
		await page.evaluate(() => scrollTo(0, 0));
		const touch = await fingers(page);
		const [from, to] = [await onPage(page, 7500, 2500), await onPage(page, 8500, 3500)];
		await touch("touchStart", [from]);
		for (let share = 0.1; share <= 1.001; share += 0.1)
			await touch("touchMove", [{ x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y) }]);
		await touch("touchEnd", []);
		await routed(page);
		const corners = await cornersOf(page, "keepout-1");
		expect(corners).toHaveLength(4);
		expect(Math.abs(corners[2]![0] - corners[0]![0] - 1000)).toBeLessThan(450);
	});

	test("and a second one pinch the view, and draw nothing", async () => {
		const page = await open(phone);
		await page.evaluate(() => scrollTo(0, 0));
		await page.getByRole("button", { name: "Draw a room" }).click();
		const touch = await fingers(page);
		const stage = (await page.getByRole("application").boundingBox())!;
		const [x, y] = [stage.x + stage.width / 2, stage.y + stage.height / 2];
		const before = await placed(page);
		await touch("touchStart", [
			{ x: x - 30, y },
			{ x: x + 30, y },
		]);
		for (let apart = 30; apart <= 90; apart += 10)
			await touch("touchMove", [
				{ x: x - apart, y },
				{ x: x + apart, y },
			]);
		await touch("touchEnd", []);
		expect(await placed(page)).not.toBe(before);
		expect(await page.locator(".ghost-point").count()).toBe(0);
		expect(await tool(page, "Undo").isEnabled()).toBe(false);
	});
});

describe("a picture under the drawing", () => {
	const plan = { name: "plan.png", mimeType: "image/png", buffer: pngPicture(64) };

	async function layUnder(page: Page, file: { name: string; mimeType: string; buffer: Buffer }): Promise<void> {
		await turnTo(page, "Start and keep");
		await page.getByLabel("Picture (PNG, JPEG or WebP)").setInputFiles(file);
	}

	const lies = (page: Page): Promise<(string | null)[]> =>
		page
			.locator(".underlay")
			.evaluate((image) => ["href", "x", "y", "width", "height", "opacity"].map((name) => image.getAttribute(name)));

	/** How many pictures the browser keeps for the page. */
	const keptPictures = (page: Page): Promise<number> =>
		page.evaluate(
			() =>
				new Promise<number>((resolve) => {
					const opening = indexedDB.open("oxturn");
					opening.onsuccess = () => {
						const count = opening.result.transaction("pictures").objectStore("pictures").count();
						count.onsuccess = () => {
							opening.result.close();
							resolve(count.result);
						};
					};
				}),
		);

	test("is brought to scale by two points and their true length", async () => {
		const page = await open();
		await layUnder(page, plan);
		const picture = page.locator(".underlay");
		await picture.waitFor({ state: "attached" });
		const before = Number(await picture.getAttribute("width"));
		await page.getByRole("button", { name: "Set its scale by two points" }).click();
		await clickFloor(page, 6000, 1000);
		await clickFloor(page, 9000, 1000);
		await page.getByLabel("True length between the two points").fill("6 m");
		await page.getByRole("button", { name: "Apply" }).click();
		expect(Number(await picture.getAttribute("width")) / before).toBeCloseTo(2, 6);
		await page.getByRole("button", { name: "Remove the picture" }).click();
		expect(await picture.count()).toBe(0);
	});

	test("is kept with its scale, its place and its strength, until it is removed", async () => {
		const page = await open();
		await layUnder(page, plan);
		await page.getByRole("button", { name: "Set its scale by two points" }).click();
		await clickFloor(page, 6000, 1000);
		await clickFloor(page, 9000, 1000);
		await page.getByLabel("True length between the two points").fill("4.5 m");
		await page.getByRole("button", { name: "Apply" }).click();
		await page.getByLabel("Strength").fill("0.8");
		await page.getByText("The picture is kept in this browser").waitFor();
		const before = await lies(page);
		expect(before.at(-1)).toBe("0.8");
		await page.reload();
		await page.locator(".underlay").waitFor({ state: "attached" });
		expect(await lies(page)).toEqual(before);

		await turnTo(page, "Start and keep");
		await page.getByRole("button", { name: "Make a link" }).click();
		expect((await page.getByLabel("Link to this floor").inputValue()).length).toBeLessThan(3000);
		await page.getByRole("button", { name: "Remove the picture" }).click();
		await expect.poll(() => keptPictures(page)).toBe(0);
		await page.reload();
		await routed(page);
		expect(await page.locator(".underlay").count()).toBe(0);
	});

	test("too large to be kept says so, and is shown all the same", async () => {
		const page = await open();
		await layUnder(page, { ...plan, buffer: pngPicture(2400, noise()) });
		await page.getByText(/This picture takes \d\.\d\sMB, and at most 6\.0\sMB can be kept/).waitFor();
		expect(await page.locator(".underlay").count()).toBe(1);
		await page.reload();
		await routed(page);
		expect(await page.locator(".underlay").count()).toBe(0);
	});

	test("that the browser may not keep says so", async () => {
		const forbid = (): void => {
			Object.defineProperty(globalThis, "indexedDB", {
				get: () => {
					throw new Error("forbidden");
				},
			});
		};
		const page = await open({ before: forbid });
		await layUnder(page, plan);
		await page.getByText("This browser does not keep the picture").waitFor();
		expect(await page.locator(".underlay").count()).toBe(1);
	});

	test.each([
		[
			"of another kind",
			"plan.svg",
			"image/svg+xml",
			"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
		],
		["that is none", "plan.png", "image/png", "no picture"],
	])("%s is refused in words", async (_, name, mimeType, content) => {
		const page = await open();
		await layUnder(page, { name, mimeType, buffer: Buffer.from(content) });
		await page.locator(".problem", { hasText: "cannot be used" }).waitFor();
		expect(await page.locator(".underlay").count()).toBe(0);
	});
});
