import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { clickFloor, cornersOf, dragFloor, drawnPipes, onPage, routed, settled } from "./openPlayground.ts";
import { browserSession } from "./session.ts";
import { announced, crossTo, drawOutline, placed, startEmpty, status, tabTo, tool, turnTo } from "./steps.ts";

const { open, openEmpty } = browserSession();

const L_ROOM = [
	[0, 0],
	[5000, 0],
	[5000, 2000],
	[2500, 2000],
	[2500, 4000],
	[0, 4000],
] as const;

/** The ids of everything on the floor, from the list of it. */
async function features(page: Page): Promise<string[]> {
	await turnTo(page, "Draw");
	const values = await page
		.getByLabel("On this floor")
		.locator("option")
		.evaluateAll((all) => all.map((one) => (one as HTMLOptionElement).value));
	return values.filter((value) => value !== "");
}

describe("drawing by mouse", () => {
	test("an L-shaped room point by point is piped at once, from a manifold that it gets with it", async () => {
		const page = await openEmpty();
		await drawOutline(page, L_ROOM);
		expect(await cornersOf(page, "room-1")).toEqual(L_ROOM.map((corner) => [...corner]));
		expect(await page.locator(".loop").count()).toBeGreaterThan(0);
		expect(await status(page)).toMatch(/^New floor: \d+ loops?, [\d.]+\sm of pipe/);
		expect(await features(page)).toEqual(["room-1", "manifold-1"]);
	});

	test("a rectangle is drawn by dragging across it", async () => {
		const page = await openEmpty();
		await dragFloor(page, [500, 500], [4500, 3500]);
		await routed(page);
		expect(await cornersOf(page, "room-1")).toEqual([
			[500, 500],
			[4500, 500],
			[4500, 3500],
			[500, 3500],
		]);
	});

	test("points are caught by the grid, and the last wall comes out square to the first", async () => {
		const page = await openEmpty();
		await page.getByLabel("Point by point").check();
		await clickFloor(page, 12, -9);
		await clickFloor(page, 3988, 7);
		await clickFloor(page, 4010, 2970);
		await clickFloor(page, 15, 3020);
		await page.getByRole("button", { name: "Close" }).click();
		await routed(page);
		expect(await cornersOf(page, "room-1")).toEqual([
			[0, 0],
			[4000, 0],
			[4000, 3000],
			[0, 3000],
		]);
	});

	test("a typed length sets how far the next corner is, in the direction of the pointer", async () => {
		const page = await openEmpty();
		await page.getByLabel("Point by point").check();
		await clickFloor(page, 0, 0);
		const right = await onPage(page, 1500, 0);
		await page.mouse.move(right.x, right.y);
		await page.getByLabel("Length", { exact: true }).fill("3.37 m");
		await page.getByLabel("Length", { exact: true }).press("Enter");
		const up = await onPage(page, 3370, 900);
		await page.mouse.move(up.x, up.y);
		await page.getByLabel("Length", { exact: true }).fill("2450");
		await page.getByLabel("Length", { exact: true }).press("Enter");
		await clickFloor(page, 0, 2450);
		await clickFloor(page, 0, 0);
		await routed(page);
		expect((await cornersOf(page, "room-1")).slice(0, 3)).toEqual([
			[0, 0],
			[3370, 0],
			[3370, 2450],
		]);
	});

	test("figures typed right after a click are a length, and Ctrl Z takes the last corner back", async () => {
		const page = await openEmpty();
		await page.getByLabel("Point by point").check();
		await clickFloor(page, 0, 0);
		await page.keyboard.press("ArrowRight");
		await page.keyboard.type("4250");
		await page.keyboard.press("Enter");
		expect(await page.locator(".ghost-point").count()).toBe(2);
		await page.keyboard.press("Control+z");
		expect(await page.locator(".ghost-point").count()).toBe(1);
		await page.keyboard.type("3 m");
		await page.keyboard.press("Enter");
		expect(await announced(page)).toMatch(/^Corner 2 at x 3\.00\sm, y 0\.00\sm/);
	});

	test("a width and a depth make a rectangle from one corner", async () => {
		const page = await openEmpty();
		await clickFloor(page, 1000, 500);
		await page.keyboard.type("3600x2.5m");
		await page.keyboard.press("Enter");
		await routed(page);
		expect(await cornersOf(page, "room-1")).toEqual([
			[1000, 500],
			[4600, 500],
			[4600, 3000],
			[1000, 3000],
		]);
	});

	test("a keep-out changes the plan, and no pipe runs through it", async () => {
		const page = await openEmpty();
		await dragFloor(page, [0, 0], [5000, 4000]);
		await routed(page);
		const before = await drawnPipes(page);
		await tool(page, /keep-out/).click();
		await dragFloor(page, [2000, 2500], [3000, 3500]);
		await routed(page);
		expect(await drawnPipes(page)).not.toBe(before);
		const inside = await page.locator(".pipe").evaluateAll((pipes) =>
			pipes
				.flatMap((pipe) => (pipe.getAttribute("d") ?? "").slice(1).split("L"))
				.map((pair) => pair.split(",").map(Number) as [number, number])
				.filter(([x, y]) => x > 2000 && x < 3000 && -y > 2500 && -y < 3500),
		);
		expect(inside).toEqual([]);
	});

	test("a hole is cut into the room that holds it, and refused where none does", async () => {
		const page = await openEmpty();
		await dragFloor(page, [0, 0], [4000, 3000]);
		await routed(page);
		await tool(page, /hole/).click();
		await dragFloor(page, [3500, 1000], [4800, 1500]);
		expect(await page.locator(".strip .problem").textContent()).toContain("No room holds");
		await dragFloor(page, [1800, 1500], [2200, 1900]);
		await routed(page);
		expect(await page.locator(".void").getAttribute("d")).toContain("1800");
	});

	test("a doorway is dropped on the wall that two rooms share", async () => {
		const page = await openEmpty();
		await dragFloor(page, [0, 0], [3000, 3000]);
		await dragFloor(page, [3100, 0], [5500, 3000]);
		await tool(page, /doorway/).click();
		await clickFloor(page, 3080, 1510);
		await settled(page);
		const corners = await cornersOf(page, "doorway-1");
		const xs = corners.map(([x]) => x);
		const ys = corners.map(([, y]) => y);
		expect([Math.min(...xs), Math.max(...xs)]).toEqual([2999, 3101]);
		expect(Math.max(...ys) - Math.min(...ys)).toBe(800);
		expect(await page.locator(".problems").count()).toBe(0);
	});
});

describe("changing what is there", () => {
	test("a corner is dragged, its measures are shown, and the plan follows", async () => {
		const page = await openEmpty();
		await dragFloor(page, [0, 0], [5000, 4000]);
		await routed(page);
		const before = await drawnPipes(page);
		await tool(page, "Select and move").click();
		const from = await onPage(page, 5000, 4000);
		const to = await onPage(page, 4500, 4000);
		await page.mouse.move(from.x, from.y);
		await page.mouse.down();
		await page.mouse.move(to.x, to.y, { steps: 10 });
		await page.locator(".dimension__figure", { hasText: "4.50" }).first().waitFor();
		await page.mouse.up();
		await routed(page);
		expect((await cornersOf(page, "room-1"))[2]).toEqual([4500, 4000]);
		expect(await drawnPipes(page)).not.toBe(before);
		await page.keyboard.press("Control+z");
		await routed(page);
		expect((await cornersOf(page, "room-1"))[2]).toEqual([5000, 4000]);
	});

	test("a room is selected through the pipes on it, and by nothing else than a click", async () => {
		const page = await open();
		await turnTo(page, "Draw");
		const pipe = (await page.locator(".pipe").first().getAttribute("d"))!
			.slice(1)
			.split("L")[40]!
			.split(",")
			.map(Number);
		await dragFloor(page, [pipe[0]!, -pipe[1]!], [pipe[0]! + 400, -pipe[1]!]);
		expect(await page.getByLabel("On this floor").inputValue()).toBe("");
		await clickFloor(page, pipe[0]!, -pipe[1]!);
		expect(await page.getByLabel("On this floor").inputValue()).toBe("kitchen");
	});

	test("a wall is dragged across and takes the manifold on it along", async () => {
		const page = await openEmpty();
		await dragFloor(page, [0, 0], [5000, 4000]);
		await routed(page);
		await tool(page, "Select and move").click();
		await dragFloor(page, [1000, 0], [1000, 500]);
		await routed(page);
		expect(await cornersOf(page, "room-1")).toEqual([
			[0, 500],
			[5000, 500],
			[5000, 4000],
			[0, 4000],
		]);
		expect(await page.locator(".manifold").getAttribute("transform")).toContain("translate(2500 -500)");
	});

	test("the manifold is dragged along the walls and faces the room on every one of them", async () => {
		const page = await openEmpty();
		await dragFloor(page, [0, 0], [5000, 4000]);
		await routed(page);
		const before = await drawnPipes(page);
		await tool(page, "Select and move").click();
		await dragFloor(page, [2500, -60], [4960, 2050]);
		await routed(page);
		// the mark is turned by 90 degrees less the way the pipes leave: 180 from the right wall
		expect(await page.locator(".manifold").getAttribute("transform")).toMatch(
			/translate\(5000 -2\d\d\d\) rotate\(-90\)/,
		);
		expect(await drawnPipes(page)).not.toBe(before);
	});

	test("a keep-out, a hole and a doorway are dragged as they are", async () => {
		const page = await openEmpty();
		await dragFloor(page, [0, 0], [3000, 4000]);
		await dragFloor(page, [3100, 0], [5600, 4000]);
		await tool(page, /doorway/).click();
		await clickFloor(page, 3050, 1500);
		await tool(page, /keep-out/).click();
		await dragFloor(page, [300, 2800], [1100, 3600]);
		await tool(page, /hole/).click();
		await dragFloor(page, [4200, 2600], [4700, 3100]);
		await tool(page, "Select and move").click();
		await routed(page);

		await dragFloor(page, [700, 3200], [1500, 3200]);
		expect((await cornersOf(page, "keepout-1"))[0]).toEqual([1100, 2800]);
		// along its wall and no farther: where the pointer goes beside the wall does not matter
		await dragFloor(page, [3050, 1500], [3400, 2500]);
		const doorway = await cornersOf(page, "doorway-1");
		expect(new Set(doorway.map(([x]) => x))).toEqual(new Set([2999, 3101]));
		expect(Math.min(...doorway.map(([, y]) => y))).toBeCloseTo(2100, -2);
		// a hole belongs to its room: that is selected first, then the hole is taken hold of
		await clickFloor(page, 5200, 500);
		await dragFloor(page, [4450, 2850], [4450, 2350]);
		await routed(page);
		const hole = (await page.locator('.void[data-id="room-2"]').getAttribute("d")) ?? "";
		const [x = 0, y = 0] = hole.slice(1).split("L")[0]!.split(",").map(Number);
		// a pointer stands on whole pixels of about 8 mm
		expect(Math.hypot(x - 4200, -y - 2100)).toBeLessThan(20);
		expect(await page.locator(".problems").count()).toBe(0);
		await turnTo(page, "Draw");
		await page.getByRole("button", { name: "Fill hole 1" }).click();
		expect(await page.locator('.void[data-id="room-2"]').getAttribute("d")).toBe("");
	});

	test("a wall is split, its corner moved and taken away again in the list of corners", async () => {
		const page = await openEmpty();
		await dragFloor(page, [0, 0], [5000, 4000]);
		await routed(page);
		await turnTo(page, "Draw");
		await page.getByRole("button", { name: "Put a corner into wall 1" }).click();
		expect(await cornersOf(page, "room-1")).toHaveLength(5);
		await page.getByLabel("y of corner 2").fill("-600");
		await page.getByLabel("y of corner 2").press("Enter");
		await routed(page);
		expect((await cornersOf(page, "room-1"))[1]).toEqual([2500, -600]);
		await page.getByRole("button", { name: "Take corner 2 away" }).click();
		await routed(page);
		expect(await cornersOf(page, "room-1")).toHaveLength(4);
		await page.getByLabel("Length of wall 1").fill("4.2 m");
		await page.getByLabel("Length of wall 1").press("Enter");
		await routed(page);
		expect(await cornersOf(page, "room-1")).toEqual([
			[0, 0],
			[4200, 0],
			[4200, 4000],
			[0, 4000],
		]);
	});

	test("Escape gives a drag up, and everything is as it was before", async () => {
		const page = await open();
		const before = await cornersOf(page, "kitchen");
		const from = await onPage(page, 9900, 4300);
		await page.mouse.move(from.x, from.y);
		await page.mouse.down();
		await page.mouse.move(from.x - 120, from.y + 40, { steps: 6 });
		await page.waitForFunction(() => document.querySelector<HTMLElement>(".plan")!.dataset.revision !== "1");
		await page.getByRole("application").press("Escape");
		await page.mouse.up();
		await routed(page);
		expect(await cornersOf(page, "kitchen")).toEqual(before);
		expect(await tool(page, "Undo").isEnabled()).toBe(false);
	});

	test("two quick clicks on a wall put a corner there", async () => {
		const page = await openEmpty();
		await dragFloor(page, [0, 0], [5000, 4000]);
		await routed(page);
		await tool(page, "Select and move").click();
		const at = await onPage(page, 1500, 4000);
		await page.mouse.dblclick(at.x, at.y);
		await routed(page);
		const corner = (await cornersOf(page, "room-1"))[3]!;
		expect(Math.hypot(corner[0] - 1500, corner[1] - 4000)).toBeLessThan(20);
	});

	test("an outline that crosses itself is told of, and neither the drawing nor the last plan is lost", async () => {
		const page = await openEmpty();
		await dragFloor(page, [0, 0], [5000, 4000]);
		await routed(page);
		const before = await drawnPipes(page);
		await tool(page, "Select and move").click();
		await dragFloor(page, [5000, 4000], [-600, 1000]);
		await page.locator(".problems li").first().waitFor();
		expect(await status(page)).toContain("cannot be routed as drawn");
		expect((await cornersOf(page, "room-1"))[2]?.[0]).toBeLessThan(0);
		await page.getByRole("button", { name: "Room 1", exact: true }).click();
		await page.locator(".room.is-selected").waitFor();
		expect(await page.locator(".loop").count()).toBeGreaterThan(0);
		await page.keyboard.press("Control+z");
		await routed(page);
		expect(await drawnPipes(page)).toBe(before);
		expect(await page.locator(".problems").count()).toBe(0);
	});

	test("undo goes back to the start, redo to the end, through every step", async () => {
		const page = await open();
		const first = await cornersOf(page, "kitchen");
		await startEmpty(page);
		await dragFloor(page, [0, 0], [5000, 4000]);
		await tool(page, /keep-out/).click();
		await dragFloor(page, [2000, 2500], [3000, 3500]);
		await tool(page, "Select and move").click();
		await dragFloor(page, [5000, 2000], [5500, 2000]);
		await routed(page);
		const end = await drawnPipes(page);
		const undo = tool(page, "Undo");
		for (let step = 0; step < 4; step += 1) {
			expect(await undo.isEnabled()).toBe(true);
			await undo.click();
		}
		expect(await undo.isEnabled()).toBe(false);
		await routed(page);
		expect(await cornersOf(page, "kitchen")).toEqual(first);
		const redo = tool(page, "Redo");
		for (let step = 0; step < 4; step += 1) await redo.click();
		expect(await redo.isEnabled()).toBe(false);
		await routed(page);
		expect(await drawnPipes(page)).toBe(end);

		await turnTo(page, "Start and keep");
		await page.getByRole("button", { name: "Undo everything" }).click();
		await routed(page);
		expect(await cornersOf(page, "kitchen")).toEqual(first);
		await page.getByRole("button", { name: "Redo everything" }).click();
		await routed(page);
		expect(await drawnPipes(page)).toBe(end);
	});
});

describe("drawing by keyboard alone", () => {
	test("an L-shaped room is drawn, edited and routed without a pointer", async () => {
		const page = await open();
		await tabTo(page, /^Results$/);
		await page.keyboard.press("ArrowRight");
		await page.keyboard.press("ArrowRight");
		await tabTo(page, /^Empty floor$/);
		await page.keyboard.press("Enter");
		await settled(page);
		await tabTo(page, /^Rectangle$/);
		await page.keyboard.press("ArrowDown");
		expect(await page.getByLabel("Point by point").isChecked()).toBe(true);
		await tabTo(page, /^Drawing area$/);

		// the cross starts in the middle; figures say how far the next corner is in the direction of the last arrow
		await page.keyboard.press("Enter");
		await page.keyboard.press("Enter");
		const walls = [
			["ArrowRight", "5000"],
			["ArrowUp", "2000"],
			["ArrowLeft", "2.5 m"],
			["ArrowUp", "2000"],
			["ArrowLeft", "2500"],
		] as const;
		for (const [arrow, length] of walls) {
			await page.keyboard.press(arrow);
			await page.keyboard.type(length);
			await page.keyboard.press("Enter");
		}
		await page.keyboard.press("Enter");
		await routed(page);
		const [start = [0, 0], ...others] = await cornersOf(page, "room-1");
		expect([start, ...others].map(([x, y]) => [x - start[0]!, y - start[1]!])).toEqual(
			L_ROOM.map((corner) => [...corner]),
		);
		const before = await drawnPipes(page);
		expect(before).not.toBe("");

		// back to selecting: the next thing on the floor, its corners, and one of them moved
		await page.keyboard.press("Escape");
		await page.keyboard.press("Escape");
		await page.keyboard.press("PageDown");
		await page.keyboard.press("Enter");
		await page.keyboard.press("PageDown");
		await page.keyboard.press("ArrowDown");
		await routed(page);
		expect(await drawnPipes(page)).not.toBe(before);
		expect(await announced(page)).toMatch(/^Wall 1 of Room 1: 5.00\sm/);
		expect((await cornersOf(page, "room-1"))[0]).toEqual([start[0], start[1]! - 100]);
	});

	test("a second room and a doorway to it, and a hole, need no pointer either", async () => {
		const page = await openEmpty();
		await page.getByRole("application").focus();
		const rectangle = async (x: number, y: number, size: string): Promise<void> => {
			await crossTo(page, x, y);
			await page.keyboard.press("Enter");
			await page.keyboard.type(size);
			await page.keyboard.press("Enter");
		};
		await rectangle(0, 0, "3000x3000");
		await rectangle(3100, 0, "2500x3000");
		await page.keyboard.press("d");
		await crossTo(page, 3050, 1500);
		await page.keyboard.press("Enter");
		expect(await announced(page)).toBe("Doorway cut.");
		await page.keyboard.press("h");
		await rectangle(4400, 1800, "400x400");
		expect(await announced(page)).toBe("A hole was cut into Room 2.");
		await page.keyboard.press("v");
		await routed(page);
		expect(await features(page)).toEqual(["room-1", "manifold-1", "room-2", "doorway-1"]);
		expect(await page.locator(".loop").count()).toBe(2);
	});

	test("the manifold goes round the room by arrow keys", async () => {
		const page = await open();
		await page.getByRole("application").focus();
		for (let presses = 0; presses < 10; presses += 1) {
			await page.keyboard.press("PageDown");
			if ((await announced(page))?.startsWith("Manifold")) break;
		}
		const before = await page.locator(".manifold").getAttribute("transform");
		await page.keyboard.press("ArrowLeft");
		await routed(page);
		const after = await page.locator(".manifold").getAttribute("transform");
		expect(after).not.toBe(before);
		for (let presses = 0; presses < 60; presses += 1) await page.keyboard.press("ArrowLeft");
		for (let presses = 0; presses < 10; presses += 1) await page.keyboard.press("ArrowDown");
		await routed(page);
		expect(await page.locator(".manifold").getAttribute("transform")).toMatch(/rotate\(90\)$/);
	});

	test("moves the view and brings it back while nothing is selected", async () => {
		const page = await open();
		const whole = await placed(page);
		await page.getByRole("application").focus();
		await page.keyboard.press("+");
		const nearer = await placed(page);
		expect(nearer).not.toBe(whole);
		await page.keyboard.press("ArrowRight");
		expect(await placed(page)).not.toBe(nearer);
		await page.keyboard.press("0");
		expect(await placed(page)).toBe(whole);
	});
});
