import type { Notice } from "oxturn";
import type { Texts } from "../text/catalogue.ts";
import type { NoticeFacts } from "../text/noticeFacts.ts";

/** How figures are written for the reader: what `preferences` does. */
export interface FactFormats {
	readonly number: (value: number, digits?: number) => string;
	readonly length: (mm: number) => string;
	readonly small: (mm: number, digits?: number) => string;
	readonly pipe: (metres: number) => string;
	readonly area: (m2: number, digits?: number) => string;
}

/**
 * A notice in the reader's language and units; `room` is what its subject is called. `undefined` where the catalogue has
 * no words for it, or it came without its figures: then there is only the library's own sentence.
 */
export function noticeWords(
	notice: Notice,
	room: string,
	words: Texts["notices"]["words"],
	formats: FactFormats,
): string | undefined {
	const write = Object.entries(words).find(([known]) => known === notice.code)?.[1];
	// a builder that has something to say of figures asks for at least one
	if (!write || (write.length > 0 && notice.details === undefined)) return undefined;
	return write(factsOf(notice, room, formats));
}

/** What a notice tells, written for the reader; what it does not tell is empty, or 0. */
function factsOf({ details = {} }: Notice, room: string, formats: FactFormats): NoticeFacts {
	const figure = (name: string): number => (typeof details[name] === "number" ? details[name] : 0);
	const word = (name: string): string => String(details[name] ?? "");
	const written = (name: string, write: (value: number) => string): string =>
		typeof details[name] === "number" ? write(details[name]) : "";
	const small = (mm: number): string => formats.small(mm);
	const angle = (degrees: number): string => `${formats.number(degrees, 1)}°`;
	const measure = measureOf(word("rule"), details.x !== undefined, formats);
	return {
		room,
		reason: word("reason"),
		spacing: written("spacing", small),
		laid: written("laid", small),
		cold: written("cold", (share) => `${formats.number(100 * share)}\u00a0%`),
		area: written("area", (m2) => formats.area(m2, 2)),
		zones: figure("zones"),
		loops: figure("loops"),
		places: figure("places"),
		wanted: word("wanted"),
		doorway: word("doorway"),
		hostName: word("hostName"),
		throughName: word("throughName"),
		facing: written("facing", angle),
		square: written("square", angle),
		keepout: word("keepout"),
		manifold: word("manifold"),
		ports: figure("ports"),
		pipes: figure("pipes"),
		fit: figure("fit"),
		ring: figure("ring"),
		spikes: figure("spikes"),
		longest: written("longest", small),
		before: figure("before"),
		after: figure("after"),
		tolerance: written("tolerance", small),
		rule: word("rule"),
		place: details.x === undefined ? "" : `(${written("x", formats.length)}, ${written("y", formats.length)})`,
		subjects: word("subjects"),
		value: written("value", measure),
		limit: written("limit", measure),
		finding: word("finding"),
	};
}

/** How the figures of a rule are written: the audit measures each in a unit of its own. */
function measureOf(rule: string, hasPlace: boolean, { number, pipe, small }: FactFormats): (value: number) => string {
	if (rule === "length" || rule === "served") return pipe;
	if (rule === "bend") return (radians) => `${number((180 * radians) / Math.PI)}°`;
	// of ports there are distances, each at its place, and the loops of a manifold that has too few
	if (rule === "port" && !hasPlace) return (loops) => number(loops);
	return (mm) => small(mm, 1);
}
