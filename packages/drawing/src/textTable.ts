import { cleanText } from "./xml.ts";

/** A column of a table for terminals. */
export interface TextColumn {
	readonly name: string;
	readonly isNumber?: boolean;
}

/** Lays cells out under their heads, text to the left and figures to the right; lines without their breaks. */
export function textTable(columns: readonly TextColumn[], rows: readonly (readonly string[])[]): string[] {
	// names come from documents: a control character in one could drive the terminal
	const clean = [columns.map(({ name }) => name), ...rows].map((line) => line.map(cleanText));
	const widths = columns.map((_, column) => Math.max(...clean.map((line) => displayWidth(line[column] ?? ""))));
	const lines = clean.map((line) =>
		line
			.map((cell, column) => {
				const fill = " ".repeat((widths[column] ?? 0) - displayWidth(cell));
				return columns[column]?.isNumber ? fill + cell : cell + fill;
			})
			.join("  ")
			.trimEnd(),
	);
	lines.splice(1, 0, widths.map((width) => "-".repeat(width)).join("  "));
	return lines;
}

/** Terminal columns: wide scripts and emoji take two, combining marks none. */
function displayWidth(text: string): number {
	let width = 0;
	for (const character of text) {
		const code = character.codePointAt(0) ?? 0;
		if (/\p{Mark}/u.test(character) || code === 0x200d) continue;
		const isWide =
			(code >= 0x1100 && code <= 0x115f) ||
			(code >= 0x2e80 && code <= 0xd7a3) ||
			(code >= 0xf900 && code <= 0xfaff) ||
			(code >= 0xfe30 && code <= 0xfe6f) ||
			(code >= 0xff00 && code <= 0xff60) ||
			(code >= 0x1f300 && code <= 0x1faff);
		width += isWide ? 2 : 1;
	}
	return width;
}
