import { readFileSync } from "node:fs";
import { floorNoticeCodes, readFloorText, readLayoutText } from "@oxturn/floor";
import { expect, test } from "vitest";
import { notices } from "../../packages/routing/src/notices/notices.ts";
import { everyNotice } from "../support/everyNotice.ts";

/** The guide promises that its examples are whole documents. */
const guide = readFileSync(new URL("../../docs/floor-document.md", import.meta.url), "utf8");
const [floorExample, layoutExample] = [...guide.matchAll(/```json\n(.*?)```/gs)].map(([, code]) => code!);

test("the guide's floor reads as the guide tells it", () => {
	const { floor, notices } = readFloorText(floorExample!);
	expect(notices).toEqual([]);
	expect(floor.rooms.map(({ name, spacing, edgeDistance, share }) => [name, spacing, edgeDistance, share])).toEqual([
		["Living room", 150, 75, false],
		["Bath", 100, 50, true],
	]);
	expect(floor.doorways[0]!.between).toEqual(["living", "bath"]);
	expect(floor.manifolds[0]).toMatchObject({ facing: 90, portPitch: 50 });
	expect(floor.system.pipe.minBendRadius).toBe(80);
});

test("the guide's layout reads, and belongs to the guide's floor", () => {
	const { floor } = readFloorText(floorExample!);
	const layout = readLayoutText(layoutExample!);
	expect(layout.name).toBe(floor.name);
	expect(layout.features.map(({ properties }) => properties.manifold)).toEqual([floor.manifolds[0]!.id]);
	expect(layout.channels[0]!.doorway).toBe(floor.doorways[0]!.id);
});

test("the guide's notice is one that routing gives", () => {
	const { floor } = readFloorText(floorExample!);
	const bath = floor.rooms[1]!;
	expect(readLayoutText(layoutExample!).notices).toEqual([notices.noPort(bath, { ...floor.manifolds[0]!, ports: 1 })]);
});

test("the guide tells the details of every notice that routing gives", () => {
	const { floor } = readFloorText(floorExample!);
	for (const { code, details = {} } of Object.values(everyNotice(floor))) {
		const rows = [...guide.matchAll(new RegExp(`^\\| \`${code}\` +\\|(.*)$`, "gm"))].map(([, row = ""]) => row);
		const { reason } = details;
		const told = [...Object.keys(details), ...(reason === undefined ? [] : [String(reason)])];
		expect([code, rows.length]).toEqual([code, 1]);
		for (const name of told) expect([code, rows[0]]).toEqual([code, expect.stringContaining(`\`${name}\``)]);
	}
});

test("the guide explains every notice that reading gives", () => {
	for (const code of Object.keys(floorNoticeCodes)) expect(guide).toMatch(new RegExp(`\\| \`${code}\` +\\|`));
});
