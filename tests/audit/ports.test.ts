import type { Point } from "@oxturn/geometry";
import { expect, test } from "vitest";
import { auditLayout } from "../../packages/routing/src/audit/auditLayout.ts";
import type { AuditFinding } from "../../packages/routing/src/types.ts";
import { floorOf, layoutOf, loopOf, manifoldAt, rectangle, roomOf, roundCorners } from "./handmade.ts";

const room = roomOf("r1", rectangle(0, 0, 9000, 9000));

/** A hairpin 3 m long that starts at (left, 0) and ends at (right, 0). */
const hairpin = (left: number, right: number): Point[] =>
	roundCorners(
		[
			[left, 0],
			[left, 400],
			[left - 300, 900],
			[left - 300, 3000],
			[right + 300, 3000],
			[right + 300, 900],
			[right, 400],
			[right, 0],
		],
		80,
	);

const portFindings = (paths: Point[][], manifold = manifoldAt([1000, 0]), change: object = {}): AuditFinding[] =>
	auditLayout(
		floorOf([room], [manifold]),
		layoutOf(paths.map((path, i) => loopOf(`L${i + 1}`, path, { port: i + 1, ...change }))),
		{ coverage: false },
	).findings.filter(({ rule }) => rule === "port");

test("a loop may end as far as 600 mm from its manifold, no farther", () => {
	expect(portFindings([hairpin(1000, 1599)])).toEqual([]);
	expect(portFindings([hairpin(1000, 1601)])).toMatchObject([{ at: [1601, 0], value: 601, limit: 600 }]);
});

test("ends are at least 20 mm apart, on one loop and between two", () => {
	expect(portFindings([hairpin(1000, 1020)])).toEqual([]);
	expect(portFindings([hairpin(1000, 1019)])).toMatchObject([{ value: 19, limit: 20, subjects: ["L1"] }]);
	expect(portFindings([hairpin(900, 1000), hairpin(1012, 1100)])).toMatchObject([
		{ value: 12, subjects: ["L1", "L2"] },
	]);
});

test("a manifold that does not exist is named, and the loop held to the nearest one", () => {
	expect(portFindings([hairpin(1000, 1100)], manifoldAt([1000, 0]), { manifold: "cellar" })).toMatchObject([
		{ subjects: ["L1", "cellar"] },
	]);
	expect(portFindings([hairpin(1000, 1100)], manifoldAt([1000, 0]), { manifold: undefined })).toEqual([]);
});

test("a manifold takes no more loops than it has ports", () => {
	const loops = [hairpin(800, 900), hairpin(1000, 1100)];
	expect(portFindings(loops, manifoldAt([1000, 0], { ports: 2 }))).toEqual([]);
	expect(portFindings(loops, manifoldAt([1000, 0], { ports: 1 }))).toMatchObject([
		{ subjects: ["m1"], value: 2, limit: 1 },
	]);
});

test("no two loops use one port", () => {
	expect(portFindings([hairpin(800, 900), hairpin(1000, 1100)], manifoldAt([1000, 0]), { port: 1 })).toMatchObject([
		{ subjects: ["L1", "L2"] },
	]);
});
