/** One thing that is wrong with a document: whose, which member, and what to do about it. */
export interface Problem {
	/** Id of the feature; its place in the document when it has no id; `"document"` for the top level. */
	readonly subject: string;
	/**
	 * Path of the member inside the feature or the document, as in `properties.spacing`; the subject again where the
	 * whole of it is meant, and a line and a column where the text is no JSON.
	 */
	readonly member: string;
	/** What was found, what was expected and what to do. */
	readonly message: string;
}

/** The subject of problems that belong to no feature. */
export const DOCUMENT = "document";

function describe(problems: readonly Problem[]): string {
	return problems
		.map(({ subject, member, message }) => `${subject}${member === subject ? "" : `, ${member}`}: ${message}`)
		.join("\n");
}

/** Thrown for a floor document that cannot be read; carries every problem that was found, its message a line for each. */
export class FloorError extends Error {
	readonly code = "FLOOR_INVALID";
	readonly problems: readonly Problem[];

	constructor(problems: readonly Problem[]) {
		super(describe(problems));
		this.name = "FloorError";
		this.problems = problems;
	}
}

/** Thrown for a layout document that cannot be read; carries every problem that was found, its message a line for each. */
export class LayoutError extends Error {
	readonly code = "LAYOUT_INVALID";
	readonly problems: readonly Problem[];

	constructor(problems: readonly Problem[]) {
		super(describe(problems));
		this.name = "LayoutError";
		this.problems = problems;
	}
}
