/** Ends a command with status 2: bad input or usage, told in lines that each stand alone. */
export class Failure extends Error {
	readonly lines: readonly string[];

	constructor(...lines: readonly string[]) {
		super(lines.join("\n"));
		this.name = "Failure";
		this.lines = lines;
	}
}

/** Ids and names come from documents: a control character or line break in one must not reach the terminal. */
export function printable(text: string): string {
	return text.replace(/[\p{Cc}\u2028\u2029]+/gu, " ");
}
