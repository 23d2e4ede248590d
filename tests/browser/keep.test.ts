import { readFileSync } from "node:fs";
import { deflateRawSync } from "node:zlib";
import { readFloorText, readLayoutText } from "oxturn";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { parseXml } from "../drawing/parseXml.ts";
import { cornersOf, dragFloor, drawnPipes, routed, settled } from "./openPlayground.ts";
import { browserSession } from "./session.ts";
import { selectFeature, status, takeFloor, tool, turnTo } from "./steps.ts";

const { open, openAny, openEmpty, url } = browserSession();

const fragmentOf = (text: string | Uint8Array): string => `#floor=${deflateRawSync(text).toString("base64url")}`;

const kitchen = readFileSync("docs/examples/rooms/kitchen.json", "utf8");

async function chooseFile(
	page: Page,
	name: string,
	content: string | Buffer,
	mimeType = "application/json",
): Promise<void> {
	await turnTo(page, "Start and keep");
	await page
		.getByLabel("Floor document or GeoJSON")
		.setInputFiles({ name, mimeType, buffer: Buffer.from(content as string) });
}

async function download(page: Page, name: string): Promise<{ name: string; text: string }> {
	const [file] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name }).click()]);
	return { name: file.suggestedFilename(), text: readFileSync(await file.path(), "utf8") };
}

describe("a link", () => {
	test("carries the whole floor to a browser that never saw it, and can be undone there", async () => {
		const page = await open();
		await takeFloor(page, "Sail loft (L)");
		const pipes = await drawnPipes(page);
		await page.getByRole("button", { name: "Make a link" }).click();
		await page.locator("[data-keep-message]", { hasText: "Link" }).waitFor();
		const link = await page.getByLabel("Link to this floor").inputValue();
		expect(link).toMatch(/#floor=[\w-]+$/);

		const fresh = await page
			.context()
			.browser()!
			.newContext({ viewport: { width: 1280, height: 800 } });
		const other = await fresh.newPage();
		await other.goto(link);
		await other.locator(".message", { hasText: "Sail loft (L) opened from the link" }).waitFor();
		await routed(other);
		expect(await drawnPipes(other)).toBe(pipes);
		expect(new URL(other.url()).hash).toBe("");
		await other.getByRole("button", { name: "Undo", exact: true }).click();
		await routed(other);
		expect(await status(other)).toContain("Kitchen");
		await fresh.close();
	});

	test("opens in a page that is already open", async () => {
		const page = await open();
		await page.evaluate(
			(fragment) => {
				location.hash = fragment;
			},
			fragmentOf(kitchen.replaceAll('"Kitchen"', '"Galley"')),
		);
		await page.locator(".message", { hasText: "opened from the link" }).waitFor();
		await routed(page);
		expect(await page.locator(".plan-name").textContent()).toBe("Galley");
	});

	const bomb = Buffer.alloc(60_000_000, "0");
	test.each([
		["that is cut short", fragmentOf(kitchen).slice(0, 200), "holds no floor"],
		["that is no base64", "#floor=%%%", "holds no floor"],
		["that is no compressed text", "#floor=aGVsbG8", "holds no floor"],
		["that is no UTF-8", fragmentOf(new Uint8Array([0xff, 0xfe, 0x80])), "holds no floor"],
		["that holds no JSON", fragmentOf("<script>alert(1)</script>"), "holds no floor"],
		[
			"that holds another document",
			fragmentOf('{"type":"FeatureCollection","units":"m","features":[]}'),
			"holds no floor",
		],
		["with coordinates out of this world", fragmentOf(kitchen.replace("5720", "1e300")), "holds no floor"],
		["that unpacks to more than any floor", fragmentOf(bomb), "too large"],
		["that is endless", `#floor=${"A".repeat(250_000)}`, "too large"],
	])("%s gives a message and leaves the drawing", async (_, fragment, reason) => {
		const page = await open();
		const before = await drawnPipes(page);
		await page.evaluate((hash) => {
			location.hash = hash;
		}, fragment);
		await page.locator(".message", { hasText: reason }).waitFor();
		await settled(page);
		expect(await drawnPipes(page)).toBe(before);
		expect(await tool(page, "Undo").isEnabled()).toBe(false);
	});

	test("opened first thing and refused shows the first floor", async () => {
		const page = await open({ fragment: "#floor=nonsense" });
		await page.locator(".message", { hasText: "holds no floor" }).waitFor();
		expect(await status(page)).toContain("Kitchen");
	});

	test("with markup in its names shows it as text", async () => {
		const hostile = "<img src=x onerror=document.title=1>";
		const document = kitchen.replaceAll("Kitchen units", hostile).replaceAll("Kitchen, Pollard Reach", hostile);
		const page = await open({ fragment: fragmentOf(document.replaceAll('"Kitchen"', JSON.stringify(hostile))) });
		await page.locator(".message").waitFor();
		await routed(page);
		expect(await page.locator(".plan-name").textContent()).toBe(hostile);
		expect(await page.locator(".keepout-name").textContent()).toBe(hostile);
		expect(await page.locator("img").count()).toBe(0);
		expect(await page.title()).toBe("Oxturn playground");
	});
});

describe("a file", () => {
	test("with a floor document replaces the floor, and undo brings the old one back", async () => {
		const page = await open();
		await chooseFile(page, "loft.json", readFileSync("tests/fixtures/u-shape.json"));
		await page.locator(".message", { hasText: "opened" }).waitFor();
		await routed(page);
		expect(await page.locator(".loop").count()).toBeGreaterThan(0);
		await tool(page, "Undo").click();
		await routed(page);
		expect(await status(page)).toContain("Kitchen");
	});

	test("dropped anywhere on the page is opened", async () => {
		const page = await open();
		const data = await page.evaluateHandle(
			(text) => {
				const transfer = new DataTransfer();
				transfer.items.add(new File([text], "floor.json", { type: "application/json" }));
				return transfer;
			},
			readFileSync("tests/fixtures/plain-rectangle.json", "utf8"),
		);
		await page.dispatchEvent(".plan__stage", "drop", { dataTransfer: data });
		await page.locator(".message", { hasText: "opened" }).waitFor();
	});

	test("of plain polygons asks for their unit and makes rooms of them", async () => {
		const page = await open();
		const polygons = {
			type: "FeatureCollection",
			features: [
				{
					type: "Feature",
					properties: { name: "Loom room" },
					geometry: {
						type: "Polygon",
						coordinates: [
							[
								[101, 50],
								[105.5, 50],
								[105.5, 53],
								[101, 53],
								[101, 50],
							],
						],
					},
				},
			],
		};
		await chooseFile(page, "rooms.geojson", JSON.stringify(polygons));
		await page.getByLabel("One unit of its coordinates is").selectOption("m");
		await page.getByRole("button", { name: "Use it" }).click();
		await page.locator(".message", { hasText: "opened" }).waitFor();
		await routed(page);
		expect(await page.locator(".plan-name").textContent()).toBe("Loom room");
		expect(await cornersOf(page, "room-1")).toEqual([
			[0, 0],
			[4500, 0],
			[4500, 3000],
			[0, 3000],
		]);
	});

	test.each([
		["of another kind", "picture.json", "\u0089PNG\r\n"],
		["with half a document", "half.json", kitchen.slice(0, 300)],
		["in metres", "metres.json", kitchen.replace('"mm"', '"m"')],
		["without rooms", "empty.json", '{"type":"FeatureCollection","units":"mm","features":[]}'],
		["nested beyond reason", "deep.json", "[".repeat(100_000)],
	])("%s gives a message and leaves the drawing", async (_, name, content) => {
		const page = await open();
		const before = await drawnPipes(page);
		await chooseFile(page, name, content);
		await page.locator(".message", { hasText: "The drawing stays as it was" }).waitFor();
		await settled(page);
		expect(await drawnPipes(page)).toBe(before);
		expect(await tool(page, "Undo").isEnabled()).toBe(false);
	});

	test("larger than any floor is not even read", async () => {
		const page = await open();
		await chooseFile(page, "huge.json", Buffer.alloc(9_000_000, " "));
		await page.locator(".message", { hasText: "larger than 8 MB" }).waitFor();
	});
});

describe("downloads", () => {
	test("the floor is read back as the floor that was drawn", async () => {
		const page = await open();
		await turnTo(page, "Start and keep");
		const { name, text } = await download(page, "Floor (JSON)");
		expect(name).toBe("kitchen-pollard-reach.floor.json");
		expect(readFloorText(text).floor).toEqual(readFloorText(kitchen).floor);
	});

	test("the layout is read back with the loops that are on screen", async () => {
		const page = await open();
		await turnTo(page, "Start and keep");
		const { name, text } = await download(page, "Layout (JSON)");
		expect(name).toBe("kitchen-pollard-reach.layout.json");
		const layout = readLayoutText(text);
		expect(layout.features).toHaveLength(await page.locator(".loop").count());
		const drawn = (await page.locator(".pipe").first().getAttribute("d")) ?? "";
		expect(layout.features[0]!.geometry.coordinates).toHaveLength(drawn.split("L").length);
	});

	test("the plan is the library's own drawing: well-formed SVG, to scale, with a path for every loop", async () => {
		const page = await open();
		await turnTo(page, "Start and keep");
		const { name, text } = await download(page, "Plan (SVG)");
		expect(name).toBe("kitchen-pollard-reach.svg");
		const svg = parseXml(text);
		expect(svg.name).toBe("svg");
		expect(svg.attributes["data-scale"]).toMatch(/^\d+$/);
		expect(text).toContain("Kitchen, Pollard Reach");
	});
});

describe("print", () => {
	test("asks the browser to print", async () => {
		const page = await open({
			before: () => {
				globalThis.print = () => document.documentElement.setAttribute("data-printed", "");
			},
		});
		await turnTo(page, "Start and keep");
		await page.getByRole("button", { name: "Print" }).click();
		expect(await page.locator("html[data-printed]").count()).toBe(1);
	});

	test("carries the whole plan, however narrow the paper", async () => {
		const page = await open();
		await takeFloor(page, "Whole house");
		const [paper] = await Promise.all([
			page.evaluate(
				() =>
					new Promise<{ rooms: number; cut: number }>((resolve) => {
						matchMedia("print").addEventListener("change", () => {
							const stage = document.querySelector(".plan__stage")!.getBoundingClientRect();
							const rooms = [...document.querySelectorAll(".floor .room")].map((room) => room.getBoundingClientRect());
							const cut = rooms.filter(
								({ left, right, top, bottom }) =>
									left < stage.left || right > stage.right || top < stage.top || bottom > stage.bottom,
							);
							resolve({ rooms: rooms.length, cut: cut.length });
						});
					}),
			),
			page.pdf({ format: "A5" }),
		]);
		expect(paper.rooms).toBeGreaterThanOrEqual(9);
		expect(paper.cut).toBe(0);
	});

	test("carries the plan and its figures whatever was looked at, light on a dark screen too", async () => {
		const page = await open({ colorScheme: "dark" });
		await turnTo(page, "Start and keep");
		await page.emulateMedia({ media: "print", colorScheme: "dark" });
		await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
		expect(await page.getByRole("region", { name: "Table of loops" }).isVisible()).toBe(true);
		expect(await page.locator(".pipe").first().isVisible()).toBe(true);
		for (const tool of [".rail", ".strip", ".view-buttons", ".tabs", "input[name=space]", ".check input"])
			expect([tool, await page.locator(tool).first().isVisible()]).toEqual([tool, false]);
		const paper = await page.evaluate(() => getComputedStyle(document.documentElement).getPropertyValue("--floor"));
		expect(paper.trim()).toMatch(/^#fff(fff)?$/);
	});
});

describe("the browser", () => {
	test("keeps the drawing from one visit to the next", async () => {
		const page = await open();
		await tool(page, /keep-out/).click();
		await dragFloor(page, [7000, 2500], [7800, 3300]);
		await routed(page);
		const pipes = await drawnPipes(page);
		await page.waitForFunction(() => localStorage.getItem("oxturn.floor")?.includes("keepout-1"));
		await page.reload();
		await routed(page);
		expect(await drawnPipes(page)).toBe(pipes);
	});

	test("keeps a floor that is only half drawn, too", async () => {
		const page = await openEmpty();
		await page.waitForFunction(() => localStorage.getItem("oxturn.floor")?.includes("New floor"));
		await page.reload();
		await settled(page);
		expect(await page.getByLabel("Name of the floor").inputValue()).toBe("New floor");
		expect(await page.locator(".room").count()).toBe(0);
	});

	test.each([
		["nonsense", "}{"],
		["a document of another kind", '{"type":"FeatureCollection","units":"mm","name":5,"features":[{"id":1}]}'],
		[
			"numbers that are none",
			'{"type":"FeatureCollection","units":"mm","name":"","system":{"spacing":"x"},"features":[]}',
		],
	])("that kept %s opens with the first floor", async (_, kept) => {
		const page = await openAny({ kept: { "oxturn.floor": kept } });
		await routed(page);
		expect(await status(page)).toContain("Kitchen");
		expect(page.url().startsWith(url())).toBe(true);
	});
});

test("an outline of ten thousand corners is drawn and routed, and the page stays usable", async () => {
	const page = await open();
	const corners = Array.from({ length: 10_000 }, (_, index) => {
		const angle = (index / 10_000) * 2 * Math.PI;
		return [Math.round(2500_000 * Math.cos(angle)) / 1000, Math.round(2000_000 * Math.sin(angle)) / 1000];
	});
	const document = {
		type: "FeatureCollection",
		units: "mm",
		name: "Cistern",
		features: [
			{
				type: "Feature",
				id: "r",
				properties: { kind: "room", name: "Cistern" },
				geometry: { type: "Polygon", coordinates: [[...corners, corners[0]]] },
			},
			{
				type: "Feature",
				id: "m",
				properties: { kind: "manifold", facing: 90 },
				geometry: { type: "Point", coordinates: [0, -2000] },
			},
		],
	};
	await chooseFile(page, "cistern.json", JSON.stringify(document));
	await page.locator(".message", { hasText: "Cistern opened" }).waitFor();
	await routed(page);
	expect(await page.locator(".loop").count()).toBeGreaterThan(0);
	expect(await page.locator(".handle").count()).toBe(0);
	await selectFeature(page, "r");
	await page.getByText("10000 corners: too many to list").waitFor();
});
