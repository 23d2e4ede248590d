import { floorNoticeCodes, type Notice, readFloor } from "oxturn";
import { describe, expect, test } from "vitest";
import { notices as build } from "../../packages/routing/src/notices/notices.ts";
import { findingNotice } from "../../playground/src/results/findingNotice.ts";
import { noticeWords } from "../../playground/src/results/noticeWords.ts";
import { catalogue, type Language, languages } from "../../playground/src/text/catalogue.ts";
import {
	formatArea,
	formatLength,
	formatPipe,
	formatSmall,
	type UnitSystem,
} from "../../playground/src/units/lengths.ts";
import { everyNotice, finding } from "../support/everyNotice.ts";
import { oneRoom } from "./floors.ts";

const { floor } = readFloor(oneRoom);
const room = floor.rooms[0]!;
const ofRouting = everyNotice(floor);

/** Notices of the reader, from floors that bring them about. */
const ofReading: readonly Notice[] = (() => {
	const around = Array.from({ length: 601 }, (_, index) => {
		const angle = ((index % 600) / 600) * 2 * Math.PI;
		return [3000 + Math.round(1900_00 * Math.cos(angle)) / 100, 3000 + Math.round(1900_00 * Math.sin(angle)) / 100];
	});
	const spiked = [
		[0, 0],
		[4000, 0],
		[4000, 1000],
		[4730, 1000],
		[4000, 1000],
		[4000, 3000],
		[0, 3000],
		[0, 0],
	];
	const stray = [
		[90_000, 0],
		[91_000, 0],
		[91_000, 1000],
		[90_000, 0],
	];
	const polygon = (id: string, kind: string, outline: readonly (readonly number[])[]) => ({
		type: "Feature",
		id,
		properties: { kind },
		geometry: { type: "Polygon", coordinates: [outline] },
	});
	const read = (outline: readonly (readonly number[])[], at: readonly number[], facing: number, ...more: object[]) =>
		readFloor({
			type: "FeatureCollection",
			units: "mm",
			features: [
				polygon("r", "room", outline),
				{
					type: "Feature",
					id: "m",
					properties: { kind: "manifold", facing },
					geometry: { type: "Point", coordinates: at },
				},
				...more,
			],
		}).notices;
	return [...read(around, [4900, 3000], 180), ...read(spiked, [2000, 0], 90, polygon("k", "keepout", stray))];
})();

const all: readonly Notice[] = [...Object.values(ofRouting), ...ofReading];

function wordsOf(notice: Notice, language: Language, units: UnitSystem = "metric"): string | undefined {
	const number = (value: number, digits = 0): string =>
		new Intl.NumberFormat(language, { minimumFractionDigits: digits, maximumFractionDigits: digits }).format(value);
	return noticeWords(notice, room.name, catalogue[language].notices.words, {
		number,
		length: (mm) => formatLength(mm, units, number),
		small: (mm, digits) => formatSmall(mm, units, number, digits),
		pipe: (metres) => formatPipe(metres, units, number),
		area: (m2, digits) => formatArea(m2, units, number, digits),
	});
}

const plain = (words: string | undefined): string => (words ?? "").replaceAll("\u00a0", " ");

/** Figures of at least two digits, or behind a decimal mark; "m2" is a unit and no figure. */
const figuresIn = (words: string): string[] => words.replaceAll(/L\d|m2/g, "").match(/\d+(?:[.,]\d+)?/g) ?? [];

describe("a finding of the audit", () => {
	test("is told like the notice that routing gives of it", () => {
		expect(findingNotice(finding)).toEqual({ ...build.ruleBroken(finding), message: finding.message });
	});
});

describe("a notice", () => {
	test("is here for every code that the library has, each with a heading and words in every language", () => {
		expect(new Set(ofReading.map(({ code }) => code))).toEqual(new Set(Object.keys(floorNoticeCodes)));
		const codes = new Set(all.map(({ code }) => code));
		for (const language of languages) {
			const { kinds, words } = catalogue[language].notices;
			expect([language, new Set(Object.keys(kinds))]).toEqual([language, codes]);
			expect([language, new Set(Object.keys(words))]).toEqual([language, codes]);
		}
	});

	test.each(all.map((notice) => [notice.code, notice] as const))(
		"%s reads in English as the library words it",
		(code, notice) => {
			const words = plain(wordsOf(notice, "en"));
			const message = notice.message.replaceAll("m2", "m²");
			// places are written as lengths on the floor everywhere on the page, not as a pair of mm
			if (notice.details?.x === undefined) expect([code, words]).toEqual([code, message]);
			else expect(words).toContain(finding.message);
		},
	);

	test.each(all.map((notice) => [notice.code, notice] as const))(
		"%s keeps its figures and names in German",
		(_, notice) => {
			const words = plain(wordsOf(notice, "de"));
			expect(words).not.toMatch(/undefined|\b(NaN|the|pipe|floor|loop)\b/);
			const isPlaced = notice.details?.x !== undefined;
			const wanted = isPlaced ? ["1,234", "0,567", "38,4", "45,2"] : figuresIn(notice.message);
			for (const figure of wanted) expect(words).toContain(figure.replace(".", ","));
			for (const name of notice.message.match(/"(\w[^"]*)"/g) ?? [])
				if (!isPlaced) expect(words).toContain(`„${name.slice(1, -1)}“`);
		},
	);

	test("tells lengths in feet and inches to who reads them so", () => {
		expect(wordsOf(ofRouting.unserved, "en", "imperial")).toContain('no pipe at 5.91" spacing');
		expect(plain(wordsOf(ofRouting.cutOff, "de", "imperial"))).toContain("5,0 ft²");
	});

	test("of an unknown code, or without its figures, is left to the library's own sentence", () => {
		expect(wordsOf({ code: "NEW", subject: "", message: "Something new." }, "de")).toBeUndefined();
		const { details: _figures, ...bare } = ofRouting.spacingOpened;
		expect(wordsOf(bare, "de")).toBeUndefined();
	});
});
