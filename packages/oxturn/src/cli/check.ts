import { auditLayout } from "../index.ts";
import type { Command } from "./command.ts";
import { readFloorFile, readLayoutFile } from "./files.ts";
import { faults, formatCoverage } from "./report.ts";

export const check: Command = {
	name: "check",
	operands: ["FLOOR.json", "LAYOUT.json"],
	summary: "Check any layout against its floor; print findings and coverage.",
	details: [
		"Ports, crossings, clearances, walls, bends, lengths and rooms without pipe, judged by the final centrelines.",
		'"Within 0.55" and "Within 1" are the shares of the floor so many spacings from a pipe; density is pipe x spacing',
		"/ area; the cold spot is the largest circle of floor farther than one spacing from any pipe.",
	],
	options: {},
	run: (call, terminal) => {
		const [floorFile = "", layoutFile = ""] = call.operands;
		const { floor } = readFloorFile(floorFile, terminal);
		const layout = readLayoutFile(layoutFile, terminal);
		const report = auditLayout(floor, layout);
		const wrong = faults(floor, layout, report);
		terminal.out(wrong.length === 0 ? "No finding.\n" : wrong.map((line) => `${line}\n`).join(""));
		terminal.out(`\n${formatCoverage(report.coverage)}`);
		return wrong.length > 0 ? 1 : 0;
	},
};
