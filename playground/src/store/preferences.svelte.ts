import { keepText, keptText } from "../keep/browserStorage.ts";
import { catalogue, type Language, languages, preferredLanguage, type Texts } from "../text/catalogue.ts";
import { formatArea, formatLength, formatPipe, formatSmall, type UnitSystem } from "../units/lengths.ts";

const KEY = "oxturn.preferences";

interface Kept {
	readonly language: Language;
	readonly units: UnitSystem;
}

function kept(): Partial<Kept> {
	try {
		const read: unknown = JSON.parse(keptText(KEY) ?? "{}");
		const { language, units } = (read ?? {}) as Record<string, unknown>;
		return {
			...(languages.some((known) => known === language) ? { language: language as Language } : {}),
			...(units === "metric" || units === "imperial" ? { units } : {}),
		};
	} catch {
		return {};
	}
}

/** Formatters take long to make and are asked for at every frame of a drag. */
const formatters = new Map<string, Intl.NumberFormat>();

function formatterOf(language: Language, digits: number): Intl.NumberFormat {
	const key = `${language} ${digits}`;
	const known = formatters.get(key);
	if (known) return known;
	const made = new Intl.NumberFormat(language, { minimumFractionDigits: digits, maximumFractionDigits: digits });
	formatters.set(key, made);
	return made;
}

/** How the reader wants the page: its language and its units, kept in the browser. */
class Preferences {
	language = $state<Language>(kept().language ?? preferredLanguage(navigator.languages));
	units = $state<UnitSystem>(kept().units ?? "metric");

	/** The catalogue in the reader's language. */
	get text(): Texts {
		return catalogue[this.language];
	}

	setLanguage(language: Language): void {
		this.language = language;
		this.#keep();
	}

	setUnits(units: UnitSystem): void {
		this.units = units;
		this.#keep();
	}

	number = (value: number, digits = 0): string =>
		formatterOf(this.language, digits).format(value).replace("-", "\u2212");

	/** A length on the floor, from mm. */
	length = (mm: number): string => formatLength(mm, this.units, this.number);

	/** A small dimension, from mm. */
	small = (mm: number, digits = 0): string => formatSmall(mm, this.units, this.number, digits);

	/** A length of pipe, from metres. */
	pipe = (metres: number): string => formatPipe(metres, this.units, this.number);

	/** An area, from m2. */
	area = (m2: number, digits = 1): string => formatArea(m2, this.units, this.number, digits);

	#keep(): void {
		keepText(KEY, JSON.stringify({ language: this.language, units: this.units } satisfies Kept));
	}
}

/** One for the page: every component reads its words and its units here. */
export const preferences = new Preferences();
