import manifest from "../../package.json" with { type: "json" };
import { batch } from "./batch.ts";
import { check } from "./check.ts";
import { type Command, type ExitStatus, helpFor, helpForAll, readCall } from "./command.ts";
import { compare } from "./compare.ts";
import { Failure, printable } from "./failure.ts";
import { route } from "./route.ts";
import type { Terminal } from "./terminal.ts";

export const commands: readonly Command[] = [route, batch, check, compare];

/** Runs the program on its arguments and gives its exit status. Nothing is thrown. */
export async function main(args: readonly string[], terminal: Terminal): Promise<ExitStatus> {
	try {
		return await run(args, terminal);
	} catch (error) {
		const lines = error instanceof Failure ? error.lines : [error instanceof Error ? error.message : String(error)];
		for (const line of lines) terminal.error(`oxturn: ${printable(line)}\n`);
		return error instanceof Failure ? 2 : 1;
	}
}

function run([first, ...rest]: readonly string[], terminal: Terminal): ExitStatus | Promise<ExitStatus> {
	if (first === "--version" || first === "-v") {
		terminal.out(`${manifest.version}\n`);
		return 0;
	}
	if (first === "--help" || first === "-h" || first === "help") {
		terminal.out(helpForAll(commands));
		return 0;
	}
	const command = commands.find(({ name }) => name === first);
	if (!command) {
		const found = first === undefined ? "no command" : JSON.stringify(first);
		const known = commands.map(({ name }) => name).join(", ");
		throw new Failure(`found ${found}, expected one of ${known}. See "oxturn --help".`);
	}
	const call = readCall(command, rest);
	if (call === "help") {
		terminal.out(helpFor(command));
		return 0;
	}
	return command.run(call, terminal);
}
