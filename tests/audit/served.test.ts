import type { LoopFeature, Notice, Room } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import { expect, test } from "vitest";
import { auditLayout } from "../../packages/routing/src/audit/auditLayout.ts";
import type { AuditReport } from "../../packages/routing/src/types.ts";
import { floorOf, layoutOf, loopOf, manifoldAt, rectangle, roomOf } from "./handmade.ts";

// 4 x 3 m at 200 mm wants 60 m of pipe: 6 m of its own, or 30 m of any
const room = roomOf("r1", rectangle(0, 0, 4000, 3000), { name: "Bath" });
const notice: Notice = { code: "ROOM_UNSERVED", message: "no way in", subject: "r1" };

function served(loops: readonly LoopFeature[], notices: readonly Notice[] = [], rooms: readonly Room[] = [room]) {
	const report: AuditReport = auditLayout(floorOf(rooms, [manifoldAt([0, 0])]), layoutOf(loops, { notices }), {
		coverage: false,
	});
	return { findings: report.findings.filter(({ rule }) => rule === "served"), unserved: report.unserved };
}

const rows = (length: number, count: number): Point[] =>
	Array.from({ length: count }, (_, k): Point[] => {
		const row: Point[] = [
			[100, 200 * k + 100],
			[100 + length, 200 * k + 100],
		];
		return k % 2 === 0 ? row : row.reverse();
	}).flat();

test("a room needs a tenth of its pipe from loops that name it", () => {
	// two rows and 200 mm between them
	expect(served([loopOf("L1", rows(2950, 2))]).findings).toEqual([]);
	expect(served([loopOf("L1", rows(2800, 2))]).findings).toMatchObject([
		{ subjects: ["r1"], value: 5.8, limit: 6, at: [0, 0] },
	]);
});

test("a loop names a room by id or name, and without rooms it names all", () => {
	const loop = loopOf("L1", rows(3000, 3), { rooms: ["Bath"] });
	expect(served([loop]).findings).toEqual([]);
	const { rooms: _, ...rest } = loop.properties;
	expect(served([{ ...loop, properties: rest as LoopFeature["properties"] }]).findings).toEqual([]);
});

test("passing pipe serves a room when there is half of what it wants", () => {
	const passing = (count: number) => loopOf("L1", rows(3800, count), { rooms: [] });
	expect(served([passing(8)]).findings).toEqual([]);
	expect(served([passing(7)]).findings).toHaveLength(1);
});

test("a notice owns up to a room without pipe, by id or name", () => {
	expect(served([], [notice])).toEqual({ findings: [], unserved: ["r1"] });
	expect(served([], [{ ...notice, subject: "Bath" }])).toEqual({ findings: [], unserved: ["r1"] });
	expect(served([], [{ ...notice, subject: "r2" }]).findings).toHaveLength(1);
});

test("unheated rooms and rooms under 1 m2 may stay empty", () => {
	expect(served([], [], [{ ...room, heated: false }]).findings).toEqual([]);
	expect(served([], [], [roomOf("r1", rectangle(0, 0, 999, 1000))]).findings).toEqual([]);
	expect(served([], [], [roomOf("r1", rectangle(0, 0, 1001, 1000))]).findings).toHaveLength(1);
});

test("pipe beyond the room's walls does not serve it", () => {
	const beside = rows(3800, 8).map(([x, y]): Point => [x, y - 4000]);
	expect(served([loopOf("L1", beside)]).findings).toHaveLength(1);
});
