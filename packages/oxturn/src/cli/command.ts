import { type ParseArgsConfig, parseArgs } from "node:util";
import { Failure } from "./failure.ts";
import type { Terminal } from "./terminal.ts";

export interface Option {
	/** What its value is called in the help; a switch has none. */
	readonly value?: string;
	readonly help: string;
}

/** Done; the layout breaks a rule or leaves a room unserved; bad input or usage. */
export type ExitStatus = 0 | 1 | 2;

export interface Call {
	readonly operands: readonly string[];
	/** By option: its text, or `true` for a switch; absent where it was not given. */
	readonly options: Readonly<Record<string, string | true>>;
}

export interface Command {
	readonly name: string;
	readonly operands: readonly string[];
	/** One sentence for the list of commands. */
	readonly summary: string;
	/** More of it, for the command's own help. */
	readonly details: readonly string[];
	readonly options: Readonly<Record<string, Option>>;
	readonly run: (call: Call, terminal: Terminal) => ExitStatus | Promise<ExitStatus>;
}

/** Reads a command's arguments; `"help"` when help was asked for. Throws a `Failure` for what does not fit. */
export function readCall(command: Command, args: readonly string[]): Call | "help" {
	const options: NonNullable<ParseArgsConfig["options"]> = { help: { type: "boolean", short: "h" } };
	for (const [name, { value }] of Object.entries(command.options))
		options[name] = { type: value === undefined ? "boolean" : "string" };
	const hint = `See "oxturn ${command.name} --help".`;
	let parsed: ReturnType<typeof parseArgs>;
	try {
		parsed = parseArgs({ args: [...args], options, allowPositionals: true });
	} catch (error) {
		throw new Failure(`${command.name}: ${usageProblem(command, error)} ${hint}`);
	}
	if (parsed.values.help) return "help";
	const { positionals } = parsed;
	if (positionals.length !== command.operands.length) {
		const found = positionals.length === 0 ? "nothing" : positionals.map((text) => JSON.stringify(text)).join(" ");
		throw new Failure(`${command.name}: expected ${command.operands.join(" ")}, found ${found}. ${hint}`);
	}
	const given = Object.entries(parsed.values).filter(
		(entry): entry is [string, string | true] => entry[1] === true || typeof entry[1] === "string",
	);
	// an empty value is a slip, as of a script's variable that was never set: nothing would be written, in silence
	const empty = given.find(([, value]) => value === "");
	if (empty) throw new Failure(`${command.name}: ${missingValue(command, empty[0])} ${hint}`);
	return { operands: positionals, options: Object.fromEntries(given) };
}

const missingValue = (command: Command, name: string): string =>
	`--${name}: found nothing, expected ${command.options[name]?.value ?? "a value"}.`;

/** What `parseArgs` has found wrong, in one sentence. */
function usageProblem(command: Command, error: unknown): string {
	const [sentence = ""] = (error instanceof Error ? error.message : String(error)).split(/\.\s|\n/);
	const [, name = ""] = /^Option '(?:-\w, )?--([\w-]+)/.exec(sentence) ?? [];
	// a value that begins with a dash could be the next option as well
	if (sentence.endsWith("is ambiguous")) return `--${name}: a value that begins with "-" is written --${name}=VALUE.`;
	if (sentence.endsWith("argument missing")) return missingValue(command, name);
	return `${sentence.replace(/\.$/, "")}.`;
}

/** The help text of one command. */
export function helpFor(command: Command): string {
	const options = Object.entries({ ...command.options, help: { help: "Show this text." } } as Command["options"]);
	return [
		`oxturn ${command.name} ${command.operands.join(" ")} [options]`,
		"",
		command.summary,
		...command.details,
		"",
		"Options:",
		...columns(options.map(([name, { value, help }]) => [value ? `--${name} ${value}` : `--${name}`, help])),
		"",
	].join("\n");
}

/** The help text of the program. */
export function helpForAll(commands: readonly Command[]): string {
	return [
		"oxturn plans the loops of water underfloor heating.",
		"",
		"Commands:",
		...columns(commands.map(({ name, operands, summary }) => [`${name} ${operands.join(" ")}`, summary])),
		"",
		'"oxturn COMMAND --help" tells a command\'s options, "oxturn --version" the version.',
		"Exit status: 0 done; 1 the layout breaks a rule or leaves a room unserved; 2 bad input or usage.",
		"",
	].join("\n");
}

function columns(rows: readonly (readonly [string, string])[]): string[] {
	const width = Math.max(...rows.map(([left]) => left.length));
	return rows.map(([left, right]) => `  ${left.padEnd(width)}  ${right}`);
}
