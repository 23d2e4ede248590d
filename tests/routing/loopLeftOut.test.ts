import { readFileSync } from "node:fs";
import { readFloorText } from "@oxturn/floor";
import { auditLayout, routeFloor } from "@oxturn/routing";
import { expect, test } from "vitest";

test("a room that lacks a loop which would break a rule keeps its others, rather than to go without any", () => {
	const { floor } = readFloorText(readFileSync("tests/fixtures/one-loop-bends-too-tightly.json", "utf8"));
	const layout = routeFloor(floor);
	const served = new Set(layout.features.flatMap(({ properties }) => properties.rooms));
	expect(served).toContain("r-hall");
	expect(served).toContain("r-s1");
	expect(auditLayout(floor, layout).passed).toBe(true);
});
