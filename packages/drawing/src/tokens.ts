/** Light for paper, dark for screens. */
export type Theme = "light" | "dark";

/** Every colour that a drawing uses, under the name of what it is for. */
export interface Tokens {
	readonly paper: string;
	readonly floor: string;
	readonly unheated: string;
	readonly wall: string;
	readonly wallFace: string;
	readonly void: string;
	readonly keepout: string;
	readonly keepoutLine: string;
	readonly channel: string;
	readonly ink: string;
	readonly muted: string;
	readonly rule: string;
	readonly band: string;
	readonly caution: string;
	/**
	 * Pipe colours, taken in turn. Neighbours in the list differ in lightness as well as in hue, so that two loops
	 * side by side stay apart for colour-blind eyes and in grey print.
	 */
	readonly loops: readonly string[];
}

export const tokens: Readonly<Record<Theme, Tokens>> = {
	light: {
		paper: "#fdfcf9",
		floor: "#ffffff",
		unheated: "#f0eee8",
		wall: "#c9c5bb",
		wallFace: "#3c3f42",
		void: "#e4e1d9",
		keepout: "#f4f1ea",
		keepoutLine: "#a59f92",
		channel: "#8d9aa5",
		ink: "#22262a",
		muted: "#5c6268",
		rule: "#b9b5ab",
		band: "#f2efe8",
		caution: "#8a2f1d",
		loops: [
			"#174a7c",
			"#c4661a",
			"#5b2a6b",
			"#23897b",
			"#8c1f3f",
			"#5f84c4",
			"#4e4a12",
			"#b8619c",
			"#2f4a3a",
			"#8f7410",
		],
	},
	dark: {
		paper: "#15191d",
		floor: "#1c2126",
		unheated: "#23282d",
		wall: "#454c53",
		wallFace: "#9aa3ab",
		void: "#2f353b",
		keepout: "#282d32",
		keepoutLine: "#6d757c",
		channel: "#8fa0ae",
		ink: "#eceeef",
		muted: "#aab2b9",
		rule: "#4b535a",
		band: "#1f252a",
		caution: "#f0a48f",
		loops: [
			"#a9cdf2",
			"#d98445",
			"#d9b8ea",
			"#3fa594",
			"#f2a9bd",
			"#6c8fd6",
			"#e0d98a",
			"#c873ac",
			"#b9dcc6",
			"#b39a35",
		],
	},
};

/** Line widths, mm on paper. */
export const pen = { hair: 0.13, thin: 0.18, medium: 0.25, bold: 0.5 } as const;

/** Letter heights (font size), mm on paper. */
export const letter = { title: 5, heading: 3, name: 2.8, body: 2.3, small: 2 } as const;

/** Colour of the loop at `index` in its layout. Colours come round again after the last; the labels tell such loops apart. */
export function loopColour(colours: Tokens, index: number): string {
	return colours.loops[index % colours.loops.length] ?? colours.ink;
}
