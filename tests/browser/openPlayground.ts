import { execFileSync } from "node:child_process";
import { type Browser, type BrowserContextOptions, chromium, type Page } from "playwright-core";
import { type ServedPage, servePage } from "./servePage.ts";

export interface Playground {
	readonly open: (options?: OpenOptions) => Promise<OpenPage>;
	readonly stop: () => Promise<void>;
}

export interface OpenOptions extends BrowserContextOptions {
	/** Changes the page's scripts on their way to the browser, as when its floors held other words. */
	readonly rewrite?: (script: string) => string;
}

export interface OpenPage {
	readonly page: Page;
	/** What the console called an error, what was thrown, and what was asked of another host. */
	readonly complaints: readonly string[];
	readonly close: () => Promise<void>;
}

/** Builds the page as it is published, serves it, and starts a browser to open it in. */
export async function startPlayground(): Promise<Playground> {
	// without the test run's own environment, in which the page would be built for development
	const { NODE_ENV: _testing, VITEST: _run, ...env } = process.env;
	execFileSync(
		process.execPath,
		["node_modules/vite/bin/vite.js", "build", "--mode", "playground", "--logLevel", "warn"],
		{ env, stdio: ["ignore", "ignore", "inherit"] },
	);
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
	{ rewrite, ...options }: OpenOptions = {},
): Promise<OpenPage> {
	const context = await browser.newContext({ reducedMotion: "reduce", ...options });
	if (rewrite)
		await context.route("**/*.js", async (route) => {
			const response = await route.fetch();
			await route.fulfill({ response, body: rewrite(await response.text()) });
		});
	const page = await context.newPage();
	page.setDefaultTimeout(10_000);
	const complaints: string[] = [];
	page.on("console", (message) => {
		if (message.type() === "error") complaints.push(`console: ${message.text()}`);
	});
	page.on("pageerror", (error) => complaints.push(`thrown: ${error.message}`));
	context.on("request", (request) => {
		const url = request.url();
		if (!url.startsWith(served.url) && !url.startsWith("data:")) complaints.push(`request: ${url}`);
	});
	context.on("response", (response) => {
		if (response.status() >= 400) complaints.push(`${response.status()}: ${response.url()}`);
	});
	await page.goto(served.url);
	return { page, complaints, close: () => context.close() };
}

/** Waits until the plan on screen answers the choices made, which were `runs` since the page was opened. */
export async function planOfRun(page: Page, runs: number): Promise<void> {
	await page.locator(`.plan[data-run="${runs}"] .room`).first().waitFor({ timeout: 60_000 });
}

/** The pipes as drawn: changes when the plan does, and not when it is merely moved. */
export async function drawnPipes(page: Page): Promise<string> {
	const paths = await page.locator(".pipe").evaluateAll((pipes) => pipes.map((pipe) => pipe.getAttribute("d")));
	return paths.join("\n");
}
