import { FloorError, type Point, readFloor } from "oxturn";
import { describe, expect, test } from "vitest";
import type { Draft } from "../../playground/src/document/draft.ts";
import { closeRing } from "../../playground/src/document/rings.ts";
import { moveCorner } from "../../playground/src/edit/corners.ts";
import { addDoorway, addManifold, moveOutline } from "../../playground/src/edit/features.ts";
import { type SystemNumber, setSystemNumber } from "../../playground/src/edit/settings.ts";
import { problemLead } from "../../playground/src/panels/problemLead.ts";
import { noticeKind } from "../../playground/src/results/noticeKind.ts";
import { limitsOf } from "../../playground/src/settings/limits.ts";
import { readNumber } from "../../playground/src/settings/readNumber.ts";
import { catalogue, preferredLanguage } from "../../playground/src/text/catalogue.ts";
import { oneRoom, rectangle, twoRooms } from "./floors.ts";

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

	test.each([
		["en", ["licensed people", "Pressure", "surface", "maker of its covering", "electrician", "drill"]],
		["de", ["Fachleute", "Druck", "Oberfläche", "Hersteller des Belags", "Elektrofachkraft", "bohren"]],
	] as const)("warns of all that a plan does not settle (%s)", (language, words) => {
		const cautions = catalogue[language].cautions.join(" ");
		for (const word of words) expect(cautions).toContain(word);
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

describe("what stands in the way of a plan", () => {
	/** The lead sentences of a draft that the reader refuses. */
	function leadsOf(draft: Draft): (string | undefined)[] {
		try {
			readFloor(draft);
		} catch (error) {
			if (error instanceof FloorError)
				return error.problems.map((problem) => problemLead(problem, draft, catalogue.de.problems));
		}
		return [];
	}
	const lead = catalogue.de.problems;
	const withHole = (draft: Draft, hole: readonly Point[]): Draft => ({
		...draft,
		features: draft.features.map((feature) =>
			feature.geometry.type === "Polygon" && feature.id === "room-1"
				? ({
						...feature,
						geometry: { ...feature.geometry, coordinates: [...feature.geometry.coordinates, closeRing(hole)] },
					} as typeof feature)
				: feature,
		),
	});
	const without = (kind: string): Draft => ({
		...twoRooms,
		features: twoRooms.features.filter(({ properties }) => properties.kind !== kind),
	});

	test.each<[string, Draft, string]>([
		[
			"an outline that crosses itself",
			moveCorner(oneRoom, { id: "room-1", ring: 0, index: 2 }, [-500, 500]),
			lead.outline,
		],
		["rooms over each other", moveOutline(twoRooms, "room-2", [-1500, 0]), lead.overlap],
		[
			"a doorway away from its rooms",
			addDoorway(twoRooms, rectangle(5000, 9000, 5100, 9800), ["room-1", "room-2"]).draft,
			lead.doorway,
		],
		["no manifold", without("manifold"), lead.missing],
		["a manifold away from all walls", addManifold(oneRoom, [9000, 9000], 0).draft, lead.manifold],
		["a manifold that faces into its wall", addManifold(oneRoom, [1000, 0], 270).draft, lead.facing],
		["a hole that crosses its room's outline", withHole(oneRoom, rectangle(4000, 1000, 6000, 2000)), lead.hole],
		["a setting that cannot be", setSystemNumber(oneRoom, "spacing", -3), lead.setting],
	])("%s is told in a plain sentence before the reader's own", (_, draft, sentence) => {
		expect(leadsOf(draft)).toContain(sentence);
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
});
