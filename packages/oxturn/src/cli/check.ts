import { auditLayout, type Floor, type Layout, type LoopFeature } from "../index.ts";
import type { Command } from "./command.ts";
import { printable } from "./failure.ts";
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
		if (belongsElsewhere(floor, layout))
			terminal.error(
				`${printable(layoutFile)}: no loop of it fits ${printable(floorFile)}, by its rooms and manifold. Give the layout of this floor.\n`,
			);
		return wrong.length > 0 ? 1 : 0;
	},
};

/** A loop that starts farther from its manifold hangs on another one, mm; the audit's own limit is nearer. */
const FAR_OFF = 1000;

/** Whether a layout is likely to be another floor's: each loop names what this one lacks, or starts elsewhere. */
function belongsElsewhere(floor: Floor, layout: Layout): boolean {
	const rooms = new Set(floor.rooms.flatMap(({ id, name }) => [id, name]));
	const isStrange = ({ geometry, properties }: LoopFeature): boolean => {
		const manifold = floor.manifolds.find(({ id }) => id === properties.manifold);
		const [start] = geometry.coordinates;
		if (!manifold || !start || properties.rooms.some((room) => !rooms.has(room))) return true;
		return Math.hypot(start[0] - manifold.position[0], start[1] - manifold.position[1]) > FAR_OFF;
	};
	return layout.features.length > 0 && layout.features.every(isStrange);
}
