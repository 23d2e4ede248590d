import { execFileSync } from "node:child_process";
import { type Browser, type BrowserContextOptions, chromium, type Page } from "playwright-core";
import { type ServedPage, servePage } from "./servePage.ts";

export interface Playground {
	readonly url: string;
	readonly open: (options?: OpenOptions) => Promise<OpenPage>;
	readonly stop: () => Promise<void>;
}

export interface OpenOptions extends BrowserContextOptions {
	/** Changes the page's scripts on their way to the browser, as when its floors held other words. */
	readonly rewrite?: (script: string) => string;
	/** What stands after the page's address. */
	readonly fragment?: string;
	/** Runs in the page before its own scripts do. */
	readonly before?: () => void;
	/** What the browser kept from an earlier visit. */
	readonly kept?: Readonly<Record<string, string>>;
}

export interface OpenPage {
	readonly page: Page;
	/** What the console called an error, what was thrown, and what was asked of another host. */
	readonly complaints: readonly string[];
	readonly close: () => Promise<void>;
}

/** Serves the page as it was built, and starts a browser to open it in. */
export async function startPlayground(): Promise<Playground> {
	const executablePath = execFileSync(process.execPath, ["tests/browser/ensureChromium.mjs"], {
		encoding: "utf8",
		stdio: ["ignore", "pipe", "inherit"],
	}).trim();
	const served = await servePage("playground/dist");
	const browser = await chromium.launch({
		executablePath,
		args: ["--no-sandbox", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
	});
	return {
		url: served.url,
		open: (options) => openPage(browser, served, options),
		stop: async () => {
			await browser.close();
			await served.stop();
		},
	};
}

async function openPage(
	browser: Browser,
	served: ServedPage,
	{ rewrite, fragment = "", kept = {}, before, ...options }: OpenOptions = {},
): Promise<OpenPage> {
	const context = await browser.newContext({ reducedMotion: "reduce", locale: "en-GB", ...options });
	if (rewrite)
		await context.route("**/*.js", async (route) => {
			const response = await route.fetch();
			await route.fulfill({ response, body: rewrite(await response.text()) });
		});
	if (Object.keys(kept).length > 0)
		await context.addInitScript((items) => {
			for (const [key, value] of items) if (localStorage.getItem(key) === null) localStorage.setItem(key, value);
		}, Object.entries(kept));
	if (before) await context.addInitScript(before);
	const page = await context.newPage();
	page.setDefaultTimeout(10_000);
	const complaints: string[] = [];
	page.on("console", (message) => {
		if (message.type() === "error") complaints.push(`console: ${message.text()}`);
	});
	page.on("pageerror", (error) => complaints.push(`thrown: ${error.message}`));
	context.on("request", (request) => {
		const url = request.url();
		if (!url.startsWith(served.url) && !url.startsWith("data:") && !url.startsWith("blob:"))
			complaints.push(`request: ${url}`);
	});
	context.on("response", (response) => {
		if (response.status() >= 400) complaints.push(`${response.status()}: ${response.url()}`);
	});
	await page.goto(served.url + fragment);
	return { page, complaints, close: () => context.close() };
}

/** Waits until nothing is being routed, so that the plan on screen is all that there is to say of the floor. */
export async function settled(page: Page): Promise<void> {
	await page.locator('.plan[aria-busy="false"]:not([data-revision="0"])').waitFor({ timeout: 20_000 });
}

/** Waits until the plan on screen belongs to the floor as it is drawn. */
export async function routed(page: Page): Promise<void> {
	await page.waitForFunction(
		() => {
			const plan = document.querySelector<HTMLElement>(".plan");
			return (
				plan?.ariaBusy === "false" && plan.dataset.revision !== "0" && plan.dataset.revision === plan.dataset.routed
			);
		},
		undefined,
		{ timeout: 20_000 },
	);
}

/** The pipes as drawn: changes when the plan does, and not when it is merely moved. */
export async function drawnPipes(page: Page): Promise<string> {
	const paths = await page.locator(".pipe").evaluateAll((pipes) => pipes.map((pipe) => pipe.getAttribute("d")));
	return paths.join("\n");
}

/** The corners of an outlined feature as drawn, mm. */
export async function cornersOf(page: Page, id: string): Promise<[number, number][]> {
	const path = await page.locator(`.floor [data-id="${id}"]`).first().getAttribute("d");
	const outline = (path ?? "").split("Z")[0] ?? "";
	return outline
		.slice(1)
		.split("L")
		.map((pair) => pair.split(",").map(Number))
		.map(([x = Number.NaN, y = Number.NaN]) => [x, -y + 0]);
}

/** Where a point of the floor, mm, lies on the page, px. */
export async function onPage(page: Page, x: number, y: number): Promise<{ x: number; y: number }> {
	const stage = await page.getByRole("application").boundingBox();
	const placed = (await page.locator(".plan svg[role=img] > g").first().getAttribute("transform")) ?? "";
	const [left = 0, top = 0, scale = 1] = placed.match(/-?[\d.]+(?:e-?\d+)?/g)?.map(Number) ?? [];
	return { x: (stage?.x ?? 0) + left + x * scale, y: (stage?.y ?? 0) + top - y * scale };
}

/** Clicks a point of the floor, mm. */
export async function clickFloor(page: Page, x: number, y: number): Promise<void> {
	const at = await onPage(page, x, y);
	await page.mouse.move(at.x, at.y);
	await page.mouse.click(at.x, at.y);
}

/** Drags from one point of the floor to another, mm, in `steps` moves. */
export async function dragFloor(
	page: Page,
	[fromX, fromY]: readonly [number, number],
	[toX, toY]: readonly [number, number],
	steps = 8,
): Promise<void> {
	const from = await onPage(page, fromX, fromY);
	const to = await onPage(page, toX, toY);
	await page.mouse.move(from.x, from.y);
	await page.mouse.down();
	await page.mouse.move(to.x, to.y, { steps });
	await page.mouse.up();
}
