import type { Texts } from "../text/catalogue.ts";
import type { Limits } from "./limits.ts";

export type NumberReading = { readonly value: number | undefined } | { readonly problem: string };

export interface NumberRules {
	readonly limits: Limits;
	/** Whether an empty entry means the default. */
	readonly mayBeEmpty: boolean;
	readonly text: Texts["settings"];
	readonly number: (value: number, digits: number) => string;
}

/** The range in words: "mm, 75 to 400". */
export function rangeOf({ limits: { least, most, unit }, text, number }: NumberRules): string {
	const digits = Number.isInteger(least) && Number.isInteger(most) ? 0 : 1;
	return text.range(number(least, digits), number(most, digits), unit);
}

/** Reads what was typed as a number within limits; what cannot be used comes back as a sentence to show beside the field. */
export function readNumber(typed: string, rules: NumberRules): NumberReading {
	const { limits, mayBeEmpty, text, number } = rules;
	const entry = typed.trim();
	if (entry === "" && mayBeEmpty) return { value: undefined };
	const value = Number(entry.replace(",", "."));
	const range = rangeOf(rules);
	if (entry === "" || !Number.isFinite(value)) return { problem: text.noNumber(range) };
	const shown = `${number(value, Number.isInteger(value) ? 0 : 2)}${limits.unit === "" ? "" : `\u00a0${limits.unit}`}`;
	if (value < limits.least) return { problem: text.tooSmall(shown, range) };
	if (value > limits.most) return { problem: text.tooLarge(shown, range) };
	if (limits.unit === "" && !Number.isInteger(value)) return { problem: text.wholeNumber };
	return { value };
}
