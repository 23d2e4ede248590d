import { floorNoticeCodes, readFloor } from "oxturn";
import { describe, expect, test } from "vitest";
import { type SystemNumber, setSystemNumber } from "../../playground/src/edit/settings.ts";
import { noticeKind } from "../../playground/src/results/noticeKind.ts";
import { limitsOf } from "../../playground/src/settings/limits.ts";
import { readNumber } from "../../playground/src/settings/readNumber.ts";
import { catalogue, preferredLanguage } from "../../playground/src/text/catalogue.ts";
import { oneRoom } from "./floors.ts";

/** Every text of a catalogue by its path; functions are asked with figures and words. */
function entriesOf(value: unknown, path: string): [string, string][] {
	if (typeof value === "string") return [[path, value]];
	if (typeof value === "function")
		return [[path, String((value as (...all: unknown[]) => unknown)(3, "3", "4", "5", "6"))]];
	return Object.entries(value as object).flatMap(([key, member]) => entriesOf(member, `${path}.${key}`));
}

describe("the catalogue", () => {
	const english = new Map(entriesOf(catalogue.en, ""));
	const german = new Map(entriesOf(catalogue.de, ""));

	test("has the same members in every language, none of them empty where another has words", () => {
		expect([...german.keys()].sort()).toEqual([...english.keys()].sort());
		for (const [path, words] of english) expect([path, german.get(path) === ""]).toEqual([path, words === ""]);
	});

	test("is translated: only words that both languages share are the same", () => {
		const same = [...english].filter(([path, words]) => german.get(path) === words && /[a-z]{3}/i.test(words));
		expect(same.map(([path]) => path).filter((path) => !/\.(title|name|plan)$/.test(path)).length).toBeLessThanOrEqual(
			3,
		);
	});

	test("is chosen by the reader's own list", () => {
		expect(preferredLanguage(["fr-FR", "de-AT", "en"])).toBe("de");
		expect(preferredLanguage(["fr", "it"])).toBe("en");
		expect(preferredLanguage([])).toBe("en");
	});
});

describe("numbers of the system", () => {
	const names: readonly SystemNumber[] = [
		"spacing",
		"edgeDistance",
		"tailSpacing",
		"maxLoopLength",
		"outerDiameter",
		"minBendRadius",
		"wallThickness",
	];

	test.each(names)("%s: the library takes both ends of the range that the page offers", (name) => {
		const { least, most } = limitsOf(oneRoom, name);
		for (const value of [least, most]) expect(() => readFloor(setSystemNumber(oneRoom, name, value))).not.toThrow();
	});

	test("depend on each other as the library wants it", () => {
		const wide = setSystemNumber(oneRoom, "outerDiameter", 32);
		expect(limitsOf(wide, "minBendRadius").least).toBe(32);
		expect(limitsOf(wide, "tailSpacing").least).toBe(33);
		expect(limitsOf(setSystemNumber(oneRoom, "tailSpacing", 20), "outerDiameter").most).toBe(19);
	});

	test("are explained when they cannot be", () => {
		const rules = {
			limits: limitsOf(oneRoom, "spacing"),
			mayBeEmpty: false,
			text: catalogue.en.settings,
			number: (value: number, digits = 0) => value.toFixed(digits),
		};
		expect(readNumber("150", rules)).toEqual({ value: 150 });
		expect(readNumber("150,5", rules)).toEqual({ value: 150.5 });
		expect(readNumber("500", rules)).toEqual({ problem: "500\u00a0mm is too large. Give mm, 75 to 400." });
		expect(readNumber("20", rules)).toEqual({ problem: "20\u00a0mm is too small. Give mm, 75 to 400." });
		for (const typed of ["", "wide", "1e999", "NaN"]) expect(readNumber(typed, rules)).toHaveProperty("problem");
		expect(readNumber("", { ...rules, mayBeEmpty: true })).toEqual({ value: undefined });
	});
});

describe("notices", () => {
	test("are headed in the reader's language by what they are about and by whose", () => {
		const notice = { code: "ROOM_UNSERVED", subject: "room-1", message: "" };
		expect(noticeKind(notice, oneRoom, catalogue.en.notices.kinds)).toBe("No pipe: Weir room");
		expect(noticeKind(notice, oneRoom, catalogue.de.notices.kinds)).toBe("Ohne Rohr: Weir room");
		expect(noticeKind({ ...notice, code: "NEW" }, oneRoom, catalogue.de.notices.kinds)).toBe("Weir room");
		expect(noticeKind({ ...notice, subject: "L1" }, oneRoom, catalogue.en.notices.kinds)).toBe("No pipe");
	});

	test("of the reader all have a heading", () => {
		for (const code of Object.keys(floorNoticeCodes)) expect(catalogue.en.notices.kinds).toHaveProperty(code);
	});
});
