import { resolve } from "node:path";
import { auditLayout, drawPlan, layoutToJson } from "../index.ts";
import { routeRead } from "../route.ts";
import type { Command } from "./command.ts";
import { Failure, printable } from "./failure.ts";
import { readFloorFile, writeFile } from "./files.ts";
import { readRouteOptions, routeOptions, textOf } from "./options.ts";
import { faults, formatLayout } from "./report.ts";

export const route: Command = {
	name: "route",
	operands: ["FLOOR.json"],
	summary: "Route one floor; print its loop schedule, channels and notices.",
	details: [
		"The whole floor is routed, through its doorways. Channels tell how many tails share a doorway, and how wide they are",
		"together, centre to centre. Without --out and --svg nothing is written.",
	],
	options: {
		out: { value: "LAYOUT.json", help: "Write the layout document." },
		svg: { value: "PLAN.svg", help: "Write the plan, drawn to scale." },
		...routeOptions,
	},
	run: (call, terminal) => {
		const [file = ""] = call.operands;
		const options = readRouteOptions(call);
		const targets = [textOf(call, "out"), textOf(call, "svg")];
		for (const target of targets)
			if (target !== undefined && resolve(terminal.directory, target) === resolve(terminal.directory, file))
				throw new Failure(`route: ${printable(file)} would be written over. Give another name.`);
		const [first, second] = targets.map((target) => target && resolve(terminal.directory, target));
		if (first !== undefined && first === second)
			throw new Failure(`route: --out and --svg are both ${printable(targets[0]!)}. Give each a name of its own.`);
		const read = readFloorFile(file, terminal);
		const { floor } = read;
		const layout = routeRead(read, options);
		const [out, svg] = targets;
		if (out !== undefined) writeFile(out, layoutToJson(layout), terminal);
		if (svg !== undefined) writeFile(svg, drawPlan({ floor, layout }), terminal);
		terminal.out(formatLayout(floor, layout));
		const written = targets.filter((target) => target !== undefined);
		if (written.length > 0) terminal.out(`\nWritten: ${written.map(printable).join(", ")}\n`);
		const wrong = faults(floor, layout, auditLayout(floor, layout, { coverage: false }));
		for (const line of wrong) terminal.error(`${printable(file)}: ${line}\n`);
		return wrong.length > 0 ? 1 : 0;
	},
};
