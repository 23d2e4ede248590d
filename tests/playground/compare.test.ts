import { type LayoutFigures, layoutFigures, readFloor, routeFloor } from "oxturn";
import { describe, expect, test } from "vitest";
import { figureRows, type Measured } from "../../playground/src/compare/figureRows.ts";
import { draftOf } from "../../playground/src/compare/variant.ts";
import { roomsOf } from "../../playground/src/document/draft.ts";
import { setRoom } from "../../playground/src/edit/settings.ts";
import { oneRoom, twoRooms } from "./floors.ts";

const figures: LayoutFigures = {
	loops: 2,
	pipe: 120.4,
	longest: 70,
	limit: 100,
	bends: 80,
	tails: 4,
	within055: 0.95,
	within100: 0.999,
	coldSpot: 120,
	rooms: [],
	findings: [],
};
const measured = (changes: Partial<LayoutFigures>, more: Partial<Measured> = {}): Measured => ({
	figures: { ...figures, ...changes },
	notices: 0,
	seconds: 0.2,
	...more,
});
const betterOf = (a: Measured, b: Measured): Record<string, string | undefined> =>
	Object.fromEntries(figureRows(a, b).map(({ id, better }) => [id, better]));

describe("the table of differences", () => {
	test("calls less pipe, fewer bends and smaller cold spots better, and more warm floor", () => {
		const better = betterOf(measured({}), measured({ pipe: 118, bends: 90, coldSpot: 60, within055: 0.9 }));
		expect(better).toMatchObject({ pipe: "b", bends: "a", coldSpot: "b", within055: "a", loops: undefined });
	});

	test("marks nothing that looks the same", () => {
		const better = betterOf(measured({}), measured({ pipe: 120.43, within100: 0.9993, coldSpot: 120.4 }));
		expect(Object.values(better).every((side) => side === undefined)).toBe(true);
	});

	test("does not praise a side without pipe for having little of it", () => {
		const none = measured({ loops: 0, pipe: 0, longest: 0, bends: 0, tails: 0, within055: 0, within100: 0 });
		expect(betterOf(measured({}), none)).toMatchObject({
			pipe: undefined,
			loops: undefined,
			bends: undefined,
			within100: "a",
		});
	});
});

describe("a variant of a floor", () => {
	test("has its settings, for rooms with a spacing of their own too", () => {
		const [first] = roomsOf(twoRooms);
		const own = setRoom(twoRooms, first!.id, { spacing: 100, pattern: "spiral" });
		const { floor } = readFloor(draftOf(own, { pattern: "serpentine", numbers: { spacing: 250, outerDiameter: 20 } }));
		expect(floor.rooms.map(({ spacing, pattern }) => [spacing, pattern])).toEqual([
			[250, "serpentine"],
			[250, "serpentine"],
		]);
		expect(floor.system.pipe).toMatchObject({ outerDiameter: 20, minBendRadius: 100 });
	});

	test("without settings is the floor as it is drawn", () => {
		expect(draftOf(twoRooms, { numbers: {} })).toEqual(twoRooms);
	});

	test("of one room heats that room alone", () => {
		const [first, second] = roomsOf(twoRooms);
		const { floor } = readFloor(draftOf(twoRooms, { numbers: {} }, second!.id));
		expect(floor.rooms.map(({ id, heated }) => [id, heated])).toEqual([
			[first!.id, false],
			[second!.id, true],
		]);
	});

	test("with a smaller spacing takes more pipe", () => {
		const pipeAt = (spacing: number): number => {
			const draft = draftOf(oneRoom, { numbers: { spacing } });
			return layoutFigures(readFloor(draft).floor, routeFloor(draft)).pipe;
		};
		expect(pipeAt(150)).toBeGreaterThan(pipeAt(250));
	});
});
