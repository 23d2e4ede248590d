import { readFileSync } from "node:fs";
import { readFloorText } from "@oxturn/floor";
import { auditLayout, routeFloor } from "@oxturn/routing";
import { expect, test } from "vitest";

test("tails beside those of others bend as they may, so that no room is left without its loops for that", () => {
	const { floor } = readFloorText(readFileSync("tests/fixtures/tails-beside-those-of-others.json", "utf8"));
	const layout = routeFloor(floor);
	const audit = auditLayout(floor, layout);
	expect(audit.passed).toBe(true);
	const warm = audit.coverage.filter(({ within100 }) => within100 > 0.99).map(({ room }) => room);
	expect(warm).toEqual(expect.arrayContaining(["r-s1", "r-n1", "r-n2"]));
	// The hall's doorway cannot take the pipes of all.
	const told = layout.notices.map(({ code, subject }) => `${code} ${subject}`);
	expect(told).toContain("DOORWAY_TOO_NARROW r-hall");
});
