import { floorNoticeCodes, type Notice, readFloor, routeNoticeCodes } from "oxturn";
import { describe, expect, test } from "vitest";
import { auditLayout } from "../../packages/routing/src/audit/auditLayout.ts";
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
import { floorOf, layoutOf, loopOf, manifoldAt, rectangle, roomOf } from "../audit/handmade.ts";
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

	// 12 m2 at 120 mm want 100 m of pipe, 10 m of it from loops of the room
	const hall = roomOf("r1", rectangle(0, 0, 4000, 3000), { spacing: 120 });
	const outOfTheRoom = [
		[1000, 0],
		[1000, 3200],
		[2000, 3200],
		[2000, 0],
	] as const;
	const besideIt = [
		[1030, 0],
		[1030, 1000],
		[1060, 1000],
		[1060, 0],
	] as const;
	const { findings } = auditLayout(
		floorOf([hall], [manifoldAt([1000, 0], { ports: 1 })]),
		layoutOf([loopOf("L1", outOfTheRoom, { length: 9 }), loopOf("L2", besideIt, { port: 2 })]),
		{ coverage: false },
	);

	test.each([
		["an end away from its manifold", "port", "L1", "gemessen 1.000,0 mm, Grenze 600,0 mm", `39,37", Grenze 23,62"`],
		["loops beyond a manifold's ports", "port", "m1", "gemessen 2, Grenze 1)", "gemessen 2, Grenze 1)"],
		["pipe beside pipe", "clearance", "L1, L2", "gemessen 30,0 mm, Grenze 48,5 mm", `1,18", Grenze 1,91"`],
		["pipe outside the floor", "inside", "L1", "gemessen 208,0 mm, Grenze 0,0 mm", `8,19", Grenze 0,00"`],
		["a bend", "bend", "L1", "gemessen 90°, Grenze 7°", "gemessen 90°, Grenze 7°"],
		["a length", "length", "L1", "gemessen 9,0 m, Grenze 7,4 m", "gemessen 30 ft, Grenze 24 ft"],
		["pipe of a room", "served", "r1", "gemessen 8,0 m, Grenze 10,0 m", "gemessen 26 ft, Grenze 33 ft"],
	])("has figures in the unit in which the audit measures %s", (_, rule, subjects, metric, imperial) => {
		const found = findings.find((one) => one.rule === rule && one.subjects.join(", ") === subjects)!;
		expect(plain(wordsOf(findingNotice(found), "de"))).toContain(metric);
		expect(plain(wordsOf(findingNotice(found), "de", "imperial"))).toContain(imperial);
	});
});

describe("a notice", () => {
	test("is here for every code that the library has, each with a heading and words in every language", () => {
		expect(new Set(ofReading.map(({ code }) => code))).toEqual(new Set(Object.keys(floorNoticeCodes)));
		const codes = new Set(all.map(({ code }) => code));
		expect(codes).toEqual(new Set([...Object.keys(routeNoticeCodes), ...Object.keys(floorNoticeCodes)]));
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
