import { deflateSync } from "node:zlib";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { clickFloor, cornersOf, drawnPipes, onPage, routed, settled } from "./openPlayground.ts";
import { browserSession } from "./session.ts";

const { open } = browserSession();

const status = (page: Page): Promise<string | null> => page.getByRole("status").textContent();

async function openDraw(page: Page): Promise<void> {
	await page.getByRole("tab", { name: "Draw", exact: true }).click();
}

async function type(page: Page, id: string, entry: string): Promise<void> {
	await page.locator(`#${id}`).fill(entry);
	await page.locator(`#${id}`).press("Enter");
}

describe("settings of the floor", () => {
	test.each([
		["spacing", "300"],
		["floor-edgeDistance", "150"],
		["floor-minBendRadius", "120"],
		["floor-maxLoopLength", "60"],
		["floor-tailSpacing", "100"],
	])("%s changes the plan, and undo gives it back", async (id, entry) => {
		const page = await open();
		await page.getByRole("tab", { name: "Start and keep" }).click();
		// two loops, so that there are tails
		await page.getByLabel("Gallery").selectOption({ label: "Sail loft (L)" });
		await routed(page);
		await openDraw(page);
		const before = await drawnPipes(page);
		await type(page, id, entry);
		await routed(page);
		expect(await drawnPipes(page)).not.toBe(before);
		await page.getByRole("button", { name: "Undo", exact: true }).click();
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
		await openDraw(page);
		const before = await drawnPipes(page);
		await type(page, id, entry);
		await page.locator(`#${id}-problem`, { hasText: reason }).waitFor();
		const field = page.locator(`#${id}`);
		expect(await field.getAttribute("aria-invalid")).toBe("true");
		expect(await field.getAttribute("aria-describedby")).toContain(`${id}-problem`);
		expect(await field.inputValue()).toBe(entry);
		expect(await page.locator(".plan").getAttribute("aria-busy")).toBe("false");
		expect(await drawnPipes(page)).toBe(before);
		expect(await page.getByRole("button", { name: "Undo", exact: true }).isEnabled()).toBe(false);
	});
});

describe("settings of a room", () => {
	test("its spacing is its own, and empty it is the floor's again", async () => {
		const page = await open();
		await openDraw(page);
		await page.getByLabel("On this floor").selectOption("kitchen");
		await type(page, "room-spacing", "100");
		await routed(page);
		expect(await page.locator(".room-label").textContent()).toContain("100\u00a0mm");
		await type(page, "room-spacing", "");
		await routed(page);
		expect(await page.locator(".room-label").textContent()).toContain("200\u00a0mm");
	});

	test("unheated it has no pipe and says so", async () => {
		const page = await open();
		await openDraw(page);
		await page.getByLabel("On this floor").selectOption("kitchen");
		await page.getByLabel("Heated").uncheck();
		await routed(page);
		expect(await page.locator(".loop").count()).toBe(0);
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
		const before = await page.locator(".plan svg[role=img] > g").first().getAttribute("transform");
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
		expect(await page.locator(".plan svg[role=img] > g").first().getAttribute("transform")).not.toBe(before);
		expect(await page.locator(".ghost-point").count()).toBe(0);
		expect(await page.getByRole("button", { name: "Undo", exact: true }).isEnabled()).toBe(false);
	});
});

describe("a picture under the drawing", () => {
	/** A grey PNG of `side` by `side` pixels (PNG, third edition: signature, IHDR, IDAT, IEND). */
	function greyPng(side: number): Buffer {
		const crcTable = Array.from({ length: 256 }, (_, value) => {
			let crc = value;
			for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? 0xedb88320 ^ (crc >>> 1) : crc >>> 1;
			return crc >>> 0;
		});
		const crcOf = (bytes: Buffer): number =>
			(bytes.reduce((crc, byte) => (crcTable[(crc ^ byte) & 0xff]! ^ (crc >>> 8)) >>> 0, 0xffffffff) ^ 0xffffffff) >>>
			0;
		const chunk = (name: string, data: Buffer): Buffer => {
			const body = Buffer.concat([Buffer.from(name, "latin1"), data]);
			const frame = Buffer.alloc(8);
			frame.writeUInt32BE(data.length, 0);
			frame.writeUInt32BE(crcOf(body), 4);
			return Buffer.concat([frame.subarray(0, 4), body, frame.subarray(4)]);
		};
		const header = Buffer.alloc(13);
		header.writeUInt32BE(side, 0);
		header.writeUInt32BE(side, 4);
		header.set([8, 0, 0, 0, 0], 8);
		const rows = Buffer.alloc(side * (side + 1), 128);
		for (let row = 0; row < side; row += 1) rows[row * (side + 1)] = 0;
		return Buffer.concat([
			Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
			chunk("IHDR", header),
			chunk("IDAT", deflateSync(rows)),
			chunk("IEND", Buffer.alloc(0)),
		]);
	}

	test("is brought to scale by two points and their true length", async () => {
		const page = await open();
		await page.getByRole("tab", { name: "Start and keep" }).click();
		await page
			.getByLabel("Picture (PNG, JPEG or WebP)")
			.setInputFiles({ name: "plan.png", mimeType: "image/png", buffer: greyPng(64) });
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
		await page.getByRole("tab", { name: "Start and keep" }).click();
		await page
			.getByLabel("Picture (PNG, JPEG or WebP)")
			.setInputFiles({ name, mimeType, buffer: Buffer.from(content) });
		await page.locator(".problem", { hasText: "cannot be used" }).waitFor();
		expect(await page.locator(".underlay").count()).toBe(0);
	});
});
