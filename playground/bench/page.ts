import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { cpus } from "node:os";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import type { Page } from "playwright-core";
import { cornersOf, onPage, type Playground, routed, startPlayground } from "../../tests/browser/openPlayground.ts";

/*
 * How the built page keeps up: what it weighs, how soon a first plan stands, and how fast a plan follows a corner that is
 * dragged at 60 events a second. It prints figures beside what they ought to be, and fails nothing.
 */

const DIST = "playground/dist";
/** Events a second, and for how long, s. */
const RATE = 60;
const SECONDS = Number(process.env.BENCH_SECONDS ?? 10);
/** How far the corner goes from its place and back, mm, and in how many events. */
const SWING = 900;
const PERIOD = 120;
const COLD_LOADS = 5;

interface Trace {
	/** Of each event, ms until a plan of the floor as it was then, or later, was drawn. */
	readonly waits: readonly number[];
	readonly longTasks: readonly number[];
	/** Plans drawn. */
	readonly plans: number;
	readonly events: number;
}

const percentile = (values: readonly number[], share: number): number =>
	values.toSorted((a, b) => a - b)[Math.min(values.length - 1, Math.floor(share * values.length))] ?? Number.NaN;

const print = (what: string, figure: string, goal: string): void =>
	console.log(`${what.padEnd(52)} ${figure.padStart(22)}   ${goal}`);

/** Compressed size of the scripts that the page loads before its worker, and with it, kB. */
function scriptSizes(): { first: number; all: number } {
	const html = readFileSync(join(DIST, "index.html"), "utf8");
	const entry = [...html.matchAll(/(?:src|href)="\.\/(assets\/[^"]+\.js)"/g)].map(([, file]) => file ?? "");
	const sizeOf = (file: string): number => gzipSync(readFileSync(join(DIST, file))).length / 1000;
	const workers = new Set(
		entry.flatMap((file) =>
			[...readFileSync(join(DIST, file), "utf8").matchAll(/worker-[\w-]+\.js/g)].map(([name]) => `assets/${name}`),
		),
	);
	const first = entry.reduce((sum, file) => sum + sizeOf(file), 0);
	return { first, all: first + [...workers].reduce((sum, file) => sum + sizeOf(file), 0) };
}

/** Runs in the page before its scripts: marks the frame that shows the first pipe. */
function markFirstPlan(): void {
	const look = (): void => {
		if (document.querySelector(".pipe")) performance.mark("first-plan");
		else requestAnimationFrame(look);
	};
	requestAnimationFrame(look);
}

/** ms from asking for the page to a first plan on screen, each in a browser that has never seen it. */
async function firstRoutes(playground: Playground): Promise<number[]> {
	const times: number[] = [];
	for (let run = 0; run < COLD_LOADS; run += 1) {
		const { page, close } = await playground.open({ before: markFirstPlan });
		await page.waitForFunction(() => performance.getEntriesByName("first-plan").length > 0);
		times.push(await page.evaluate(() => performance.getEntriesByName("first-plan")[0]?.startTime ?? Number.NaN));
		await close();
	}
	return times;
}

/** Runs in the page: notes every pointer event, every plan and every long task. */
function watch(): void {
	const plan = document.querySelector<HTMLElement>(".plan");
	const stage = document.querySelector<HTMLElement>(".plan__stage");
	if (!plan || !stage) throw new Error("There is no plan to watch.");
	const trace = { waits: [] as number[], longTasks: [] as number[], plans: 0, events: 0 };
	let fresh: number[] = [];
	let waiting: { revision: number; at: number }[] = [];
	stage.addEventListener("pointermove", ({ timeStamp }) => {
		trace.events += 1;
		fresh.push(timeStamp);
	});
	new MutationObserver(() => {
		const [shown, drawn] = [Number(plan.dataset.revision), Number(plan.dataset.routed)];
		waiting.push(...fresh.map((at) => ({ revision: shown, at })));
		fresh = [];
		const done = waiting.filter(({ revision }) => revision <= drawn);
		if (done.length === 0) return;
		waiting = waiting.filter(({ revision }) => revision > drawn);
		trace.plans += 1;
		// the next frame has painted it
		requestAnimationFrame(() => {
			const now = performance.now();
			trace.waits.push(...done.map(({ at }) => now - at));
		});
	}).observe(plan, { attributes: true, attributeFilter: ["data-revision", "data-routed"] });
	new PerformanceObserver((list) => {
		for (const { duration } of list.getEntries()) trace.longTasks.push(duration);
	}).observe({ type: "longtask" });
	Object.assign(globalThis, { benchTrace: trace });
}

/** Drags a corner of a room to and fro. */
async function drag(page: Page, room: string, corner: number): Promise<Trace> {
	const [x, y] = (await cornersOf(page, room))[corner] ?? [0, 0];
	const inside = await page
		.locator(`.floor [data-id="${room}"]`)
		.first()
		.evaluate((path) => {
			const { x, y, width, height } = (path as SVGGraphicsElement).getBBox();
			return [x + width / 2, -(y + height / 2)];
		});
	const centre = await onPage(page, inside[0] ?? x, inside[1] ?? y);
	await page.mouse.click(centre.x, centre.y);
	const from = await onPage(page, x, y);
	const scale = (await onPage(page, x + 1000, y)).x - from.x;
	await page.evaluate(watch);
	await page.mouse.move(from.x, from.y);
	await page.mouse.down();
	const started = performance.now();
	for (let event = 0; event < RATE * SECONDS; event += 1) {
		const swing = (1 - Math.cos((2 * Math.PI * event) / PERIOD)) / 2;
		const away = (swing * SWING * scale) / 1000;
		const due = started + (event * 1000) / RATE;
		const early = due - performance.now();
		if (early > 0) await new Promise((resolve) => setTimeout(resolve, early));
		// towards the middle of the room, so that no wall is crossed
		await page.mouse.move(
			from.x + Math.sign(centre.x - from.x) * away,
			from.y + Math.sign(centre.y - from.y) * away * 0.6,
		);
	}
	await page.waitForTimeout(500);
	const trace = await page.evaluate(() => (globalThis as unknown as { benchTrace: Trace }).benchTrace);
	await page.mouse.up();
	await routed(page);
	return trace;
}

function printDrag(what: string, { waits, longTasks, plans, events }: Trace, goal: number): void {
	const ms = (value: number): string => `${value.toFixed(0)} ms`;
	print(`${what}: event to drawn plan, median`, ms(percentile(waits, 0.5)), "");
	print(`${what}: event to drawn plan, p95`, ms(percentile(waits, 0.95)), `< ${goal} ms`);
	print(`${what}: events, plans drawn in ${SECONDS} s`, `${events}, ${plans}`, "");
	print(
		`${what}: tasks over 50 ms, the longest`,
		longTasks.length === 0 ? "0" : `${longTasks.length}, ${ms(Math.max(...longTasks))}`,
		"0",
	);
}

/** One room of 20 m2 with a manifold, as the link of a floor. */
const room20 = {
	type: "FeatureCollection",
	units: "mm",
	name: "Room of 20 m2",
	features: [
		{
			type: "Feature",
			id: "room",
			geometry: {
				type: "Polygon",
				coordinates: [
					[
						[0, 0],
						[5000, 0],
						[5000, 4000],
						[0, 4000],
						[0, 0],
					],
				],
			},
			properties: { kind: "room", name: "Room" },
		},
		{
			type: "Feature",
			id: "m1",
			geometry: { type: "Point", coordinates: [1000, 0] },
			properties: { kind: "manifold", facing: 90 },
		},
	],
};

execFileSync(
	process.execPath,
	["node_modules/vite/bin/vite.js", "build", "--mode", "playground", "--logLevel", "error"],
	{
		stdio: "inherit",
	},
);
console.log(`${cpus().length} x ${cpus()[0]?.model ?? "unknown processor"}, Node ${process.version}\n`);
const { first, all } = scriptSizes();
print("Script of the first view, gzip", `${first.toFixed(0)} kB`, "< 250 kB");
print("The same with its worker, gzip", `${all.toFixed(0)} kB`, "");

const playground = await startPlayground();
try {
	const cold = await firstRoutes(playground);
	print(
		`First plan after a cold load, median of ${COLD_LOADS}`,
		`${percentile(cold, 0.5).toFixed(0)} ms (worst ${Math.max(...cold).toFixed(0)})`,
		"< 1000 ms",
	);

	const room = await playground.open({ viewport: { width: 1280, height: 800 } });
	await routed(room.page);
	await room.page.locator("#tab-keep").click();
	await room.page.locator("#file").setInputFiles({
		name: "room.json",
		mimeType: "application/json",
		buffer: Buffer.from(JSON.stringify(room20)),
	});
	await room.page.locator('.floor [data-id="room"]').first().waitFor();
	await routed(room.page);
	printDrag("Room of 20 m2", await drag(room.page, "room", 2), 50);
	await room.close();

	const house = await playground.open({ viewport: { width: 1280, height: 800 } });
	await routed(house.page);
	await house.page.locator("#tab-keep").click();
	await house.page.locator("#gallery").selectOption({ index: 1 });
	await routed(house.page);
	printDrag("Demo dwelling", await drag(house.page, "river-bedroom", 3), 200);
	await house.close();
} finally {
	await playground.stop();
}
