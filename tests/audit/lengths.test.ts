import { expect, test } from "vitest";
import { auditLayout } from "../../packages/routing/src/audit/auditLayout.ts";
import type { AuditFinding } from "../../packages/routing/src/types.ts";
import { floorOf, layoutOf, loopOf, manifoldAt, rectangle, roomOf } from "./handmade.ts";

// one straight pipe of 50 m: only its length matters here
const floor = floorOf([roomOf("r1", rectangle(0, -1000, 51000, 1000))], [manifoldAt([0, 0])]);

const lengthFindings = (stated: number | undefined, maxLoopLength = 100): AuditFinding[] => {
	const loop = loopOf("L1", [
		[0, 0],
		[50000, 0],
	]);
	const properties = { ...loop.properties, length: stated as number };
	return auditLayout({ ...floor, system: { ...floor.system, maxLoopLength } }, layoutOf([{ ...loop, properties }]), {
		coverage: false,
	}).findings.filter(({ rule }) => rule === "length");
};

test("a loop is no longer than the limit, 0.2 % forgiven", () => {
	expect(lengthFindings(50, 50)).toEqual([]);
	expect(lengthFindings(50, 49.92)).toEqual([]);
	expect(lengthFindings(50, 49.88)).toMatchObject([{ subjects: ["L1"], value: 50, limit: 49.88 }]);
});

test("a loop states its length to half a percent", () => {
	expect(lengthFindings(50.24)).toEqual([]);
	expect(lengthFindings(49.76)).toEqual([]);
	expect(lengthFindings(50.26)).toMatchObject([{ value: 50.26, limit: 50 }]);
	expect(lengthFindings(49.74)).toHaveLength(1);
	expect(lengthFindings(undefined)).toMatchObject([{ limit: 50 }]);
});
