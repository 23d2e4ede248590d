import type { Point } from "@oxturn/geometry";

const LONGEST_TEXT = 40;

/** A value as it reads in a message: short, and telling what sort of thing it is. */
export function describeValue(value: unknown): string {
	if (value === undefined) return "nothing";
	if (typeof value === "string") {
		const text = value.length > LONGEST_TEXT ? `${value.slice(0, LONGEST_TEXT)}…` : value;
		return JSON.stringify(text);
	}
	if (Array.isArray(value)) return value.length === 0 ? "an empty array" : `an array of ${value.length}`;
	if (typeof value === "object" && value !== null) return "an object";
	return typeof value === "function" ? "a function" : String(value);
}

/** A place as it reads in a message. */
export function describePoint([x, y]: Point): string {
	const round = (value: number): number => Math.round(value * 10) / 10;
	return `(${round(x)}, ${round(y)}) mm`;
}

/** Words as a list: `a`, `a and b`, `a, b and c`. */
export function describeList(words: readonly string[]): string {
	return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;
}
