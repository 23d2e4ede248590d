import { cleanText, element, escapeXml } from "./xml.ts";

// Advance widths in em, on the wide side of common sans-serif faces: which face a reader has is not known, and text
// that turns out narrower than reckoned never runs into its neighbour.
function advance(character: string): number {
	const code = character.codePointAt(0) ?? 0;
	if (code >= 0x1100) return code >= 0x2000 && code < 0x2300 ? 0.75 : 1.1;
	if ("iljI.,:;'|!".includes(character)) return 0.35;
	if (' ftr()[]/-"'.includes(character)) return 0.42;
	if ("mwMW%@".includes(character)) return 1;
	if (character >= "A" && character <= "Z") return 0.74;
	return 0.64;
}

/** Reckoned width of a line of text, in the unit of `size`. */
export function textWidth(text: string, size: number, bold = false): number {
	let width = 0;
	for (const character of text) width += advance(character);
	return width * size * (bold ? 1.1 : 1);
}

/** `text` if it fits `width`, else its beginning and an ellipsis. */
export function shorten(text: string, width: number, size: number, bold = false): string {
	const clean = cleanText(text);
	if (textWidth(clean, size, bold) <= width) return clean;
	const characters = [...clean];
	while (characters.length > 0 && textWidth(`${characters.join("").trimEnd()}…`, size, bold) > width) characters.pop();
	return `${characters.join("").trimEnd()}…`;
}

/** Breaks `text` at spaces, or inside a word wider than a line; what exceeds `maxLines` ends in an ellipsis. */
export function wrapText(text: string, width: number, size: number, maxLines = Number.POSITIVE_INFINITY): string[] {
	const lines: string[] = [];
	let line = "";
	for (const word of cleanText(text).split(" ")) {
		const joined = line === "" ? word : `${line} ${word}`;
		if (textWidth(joined, size) <= width) {
			line = joined;
			continue;
		}
		if (line !== "") lines.push(line);
		line = "";
		for (const character of word) {
			if (line !== "" && textWidth(line + character, size) > width) {
				lines.push(line);
				line = "";
			}
			line += character;
		}
	}
	if (line !== "") lines.push(line);
	if (lines.length <= maxLines) return lines;
	const rest = lines.slice(maxLines - 1).join(" ");
	return [...lines.slice(0, maxLines - 1), shorten(rest, width, size)];
}

/** "1 loop", "2 loops". */
export function counted(n: number, noun: string): string {
	return `${n} ${noun}${n === 1 ? "" : "s"}`;
}

export interface TextStyle {
	readonly size: number;
	readonly fill: string;
	readonly bold?: boolean;
	readonly anchor?: "start" | "middle" | "end";
	/** Turned a quarter anticlockwise about its anchor. */
	readonly upright?: boolean;
}

/** A text element whose anchor is the middle of the letters' height, mm on paper. */
export function textAt(x: number, y: number, text: string, style: TextStyle): string {
	// 0.36 em is half of a usual capital height; `dominant-baseline` is not honoured by every renderer
	const drop = style.size * 0.36;
	const baseX = style.upright ? x + drop : x;
	const baseY = style.upright ? y : y + drop;
	return element(
		"text",
		{
			x: baseX,
			y: baseY,
			"font-size": style.size,
			"font-weight": style.bold ? "bold" : undefined,
			"text-anchor": style.anchor === "start" ? undefined : style.anchor,
			fill: style.fill,
			transform: style.upright
				? `rotate(-90 ${Math.round(baseX * 100) / 100} ${Math.round(baseY * 100) / 100})`
				: undefined,
		},
		escapeXml(text),
	);
}
