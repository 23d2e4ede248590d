import type { Path } from "@oxturn/geometry";
import { describe, expect, it } from "vitest";
import { bestTurns } from "../../packages/routing/src/ways/bestTurns.ts";
import type { Manner } from "../../packages/routing/src/ways/laying.ts";
import type { LaidTurns } from "../../packages/routing/src/ways/layTurns.ts";
import type { Turns } from "../../packages/routing/src/ways/turns.ts";

/** Orders of turns to three doors straight ahead, told apart by the door that is first. */
const orders = [0, 1, 2].map(
	(first, cost): Turns => ({ groups: [{ way: "direct", doors: [first, (first + 1) % 3, (first + 2) % 3] }], cost }),
);

const LAID: Path = [
	[0, 0],
	[1, 0],
];

/** Lays orders of which as many pipes fail as `failing` tells, and keeps what has been tried. */
function layingOf(failing: (order: number, manner: Manner) => number) {
	const tried: { readonly order: number; readonly isLoose: boolean }[] = [];
	const attempt = (turns: Turns, manner: Manner): LaidTurns => {
		const order = orders.indexOf(turns);
		const failed = failing(order, manner);
		tried.push({ order, isLoose: manner.spreading > 0 || manner.standOff > 0 });
		const path = (pipe: number) => (pipe < failed ? undefined : LAID);
		return { turns, paths: [0, 1, 2].map((door) => [path(door)]), exits: [], starts: [], failed, own: [] };
	};
	return { tried, attempt };
}

describe("the order of turns that is taken in a room", () => {
	it("is the first that has a place for every pipe, as closely laid as can be", () => {
		const { tried, attempt } = layingOf((order) => (order === 0 ? 1 : 0));
		const { laid, manner } = bestTurns(orders, 0, false, attempt);
		expect(orders.indexOf(laid.turns)).toBe(1);
		expect(manner).toMatchObject({ spreading: 0, standOff: 0 });
		expect(tried.some(({ isLoose }) => isLoose)).toBe(false);
	});

	it("passes over as many as it is told to of those that fit, but the last of them stays", () => {
		const { attempt } = layingOf((order) => (order === 0 ? 1 : 0));
		expect(orders.indexOf(bestTurns(orders, 1, false, attempt).laid.turns)).toBe(2);
		expect(orders.indexOf(bestTurns(orders, 5, false, attempt).laid.turns)).toBe(2);
	});

	it("is laid with a fan beside a near wall before the next is tried, where the pipes come from ports", () => {
		const failing = (order: number, { fansAside }: Manner): number => (order === 0 && fansAside ? 0 : 1);
		const fromPorts = layingOf(failing);
		expect(orders.indexOf(bestTurns(orders, 0, true, fromPorts.attempt).laid.turns)).toBe(0);
		expect(new Set(fromPorts.tried.map(({ order }) => order))).toEqual(new Set([0]));
		// Pipes that come from a doorway lie at their pitch already.
		const fromDoorway = layingOf(failing);
		expect(bestTurns(orders, 0, false, fromDoorway.attempt).laid.failed).toBe(1);
	});

	it("is laid more loosely where none fits otherwise", () => {
		const { tried, attempt } = layingOf((order, { spreading }) => (order === 2 && spreading > 0 ? 0 : 1));
		const { laid, manner } = bestTurns(orders, 0, false, attempt);
		expect(orders.indexOf(laid.turns)).toBe(2);
		expect(laid.failed).toBe(0);
		expect(manner.spreading).toBeGreaterThan(0);
		const firstLoose = tried.findIndex(({ isLoose }) => isLoose);
		expect(new Set(tried.slice(0, firstLoose).map(({ order }) => order))).toEqual(new Set([0, 1, 2]));
	});

	it("is the one that leaves the fewest pipes without a place where none fits at all", () => {
		const { attempt } = layingOf((order) => 3 - order);
		expect(bestTurns(orders, 0, false, attempt).laid.failed).toBe(1);
	});
});
