import { type AuditReport, type Layout, readFloor } from "oxturn";
import { describe, expect, it } from "vitest";
import { unservedRooms } from "../../packages/oxturn/src/cli/report.ts";
import { throughDoorway } from "./documents.ts";

const { floor } = readFloor(throughDoorway(900));
const report: AuditReport = { passed: true, findings: [], unserved: [], coverage: [] };
const layout = (notices: Layout["notices"]): Layout => ({
	type: "FeatureCollection",
	units: "mm",
	name: "",
	features: [],
	channels: [],
	notices,
});
const byTails = { code: "HEATED_BY_TAILS", subject: "cell", message: "" };

describe("rooms that count as left without pipe", () => {
	it("are those that no loop names", () => {
		expect(unservedRooms(floor, layout([]), report)).toEqual(["study", "cell"]);
	});

	it("are not those that passing tails heat", () => {
		expect(unservedRooms(floor, layout([byTails]), report)).toEqual(["study"]);
	});

	it("are those where the audit finds too little pipe, whatever a notice says", () => {
		expect(unservedRooms(floor, layout([byTails]), { ...report, unserved: ["cell"] })).toEqual(["study", "cell"]);
	});

	it("are those whose notice says anything else", () => {
		const other = { ...byTails, code: "ROOM_UNSERVED" };
		expect(unservedRooms(floor, layout([other]), report)).toEqual(["study", "cell"]);
	});
});
