import { de } from "./de.ts";
import { en } from "./en.ts";

/** What every language has to say; a member that one of them lacks does not compile. */
export type Texts = typeof en;

export const catalogue = { en, de } as const satisfies Record<string, Texts>;

export type Language = keyof typeof catalogue;

export const languages = Object.keys(catalogue) as Language[];

/** The language of the catalogue that a reader's own list asks for first; English when it asks for none of them. */
export function preferredLanguage(wanted: readonly string[]): Language {
	const found = wanted
		.map((tag) => tag.toLowerCase().split("-")[0])
		.find((tag): tag is Language => languages.some((known) => known === tag));
	return found ?? "en";
}
