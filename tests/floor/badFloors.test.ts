import { FloorError, readFloor, readFloorText } from "@oxturn/floor";
import { describe, expect, test } from "vitest";
import { area, change, floorProblems, manifold, rectangle, validFloor, validLayout } from "./documents.ts";

const outline = "features.0.geometry.coordinates";

/** The hall with another outer ring. */
function withOutline(...rings: number[][][]): unknown {
	return change(validFloor(), outline, rings);
}

function withFeature(feature: unknown): unknown {
	return change(validFloor(), "features", [...validFloor().features, feature]);
}

/** The document is refused with exactly one problem, and it reads like this. */
function expectProblem(document: unknown, subject: string, member: string, message: RegExp): void {
	const problems = floorProblems(document);
	expect(problems).toHaveLength(1);
	expect(problems[0]).toMatchObject({ subject, member, message: expect.stringMatching(message) });
}

test("the document that the bad ones are made of is good", () => {
	expect(floorProblems(validFloor())).toEqual([]);
});

describe("the top level", () => {
	test.each([
		["type", "Feature", /found "Feature", expected "FeatureCollection"/],
		["type", undefined, /found nothing, expected "FeatureCollection"/],
		["units", "m", /found "m", expected "mm"\. Convert the coordinates to millimetres/],
		["units", undefined, /found nothing, expected "mm".*say so with "units": "mm"/],
		["name", 7, /found 7, expected a string/],
		["features", { hall: {} }, /found an object, expected an array of features/],
		["features", undefined, /found nothing, expected an array of features/],
		["system", [], /found an empty array, expected an object/],
		["system", null, /found null, expected an object/],
	])("%s: %j", (member, value, message) => {
		expectProblem(change(validFloor(), member, value), "document", member, message);
	});

	test.each([[null], [42], ["floor"], [[]], [undefined]])("%j is no document", (document) => {
		expectProblem(document, "document", "document", /expected an object: a GeoJSON FeatureCollection/);
	});

	test("a layout is told from a floor in one problem", () => {
		expectProblem(validLayout(), "document", "features", /found loops, which make a layout, expected a floor/);
	});

	test("a floor drawn in metres is told so, and not what follows from it", () => {
		const inMetres = [area("room", "hall", [rectangle(0, 0, 4, 3)]), manifold("m1", [2, 0], 90)];
		const message = /found rooms that measure 4\.0 mm across, all together.*multiply metres by 1000/;
		expectProblem(change(validFloor(), "features", inMetres), "document", "features", message);
	});

	test("a floor needs a room and a manifold", () => {
		expect(floorProblems(change(validFloor(), "features", [])).map(({ message }) => message)).toEqual([
			expect.stringContaining("found no room"),
			expect.stringContaining("found no manifold"),
		]);
	});
});

describe("the system", () => {
	test.each([
		["spacing", 20, /found 20, expected a number from 50 to 600 mm/],
		["spacing", 601, /from 50 to 600 mm/],
		["spacing", "150", /found "150", expected a number/],
		["spacing", Number.NaN, /found NaN, expected a number/],
		["edgeDistance", 2, /found 2, expected a number from 3 to 500 mm/],
		["edgeDistance", 7, /at least half the outer diameter, 8 mm/],
		["edgeDistance", 501, /from 3 to 500 mm/],
		["maxLoopLength", 0, /from 5 to 500 m\. Give metres/],
		["maxLoopLength", 100_000, /from 5 to 500 m\. Give metres/],
		["tailSpacing", 16, /found 16, expected at least the outer diameter and 1 mm, 17 mm/],
		["pipe.outerDiameter", -16, /from 6 to 40 mm/],
		["pipe.wallThickness", 8, /found 8, expected less than half the outer diameter, 8 mm/],
		["pipe.minBendRadius", 15, /found 15, expected at least the outer diameter, 16 mm.*leave it out for 80 mm/],
	])("%s: %j", (member, value, message) => {
		const path = `system.${member}`;
		expectProblem(change(validFloor(), path, value), "document", path, message);
	});
});

describe("features and their properties", () => {
	test.each([
		["features.0.type", "Room", "hall", "type", /expected "Feature"/],
		["features.0.properties.kind", "chamber", "hall", "properties.kind", /found "chamber", expected one of "room"/],
		["features.0.properties.kind", "constructor", "hall", "properties.kind", /found "constructor", expected one of/],
		["features.0.properties.spacing", 40, "hall", "properties.spacing", /found 40, expected a number from 50 to 600/],
		["features.0.properties.heated", "yes", "hall", "properties.heated", /found "yes", expected true or false/],
		["features.0.properties.share", 1, "hall", "properties.share", /found 1, expected true or false/],
		["features.0.properties.name", 5, "hall", "properties.name", /found 5, expected a string/],
		["features.0.properties.pattern", "snail", "hall", "properties.pattern", /"serpentine" or "spiral" or "auto"/],
		["features.4.properties.portPitch", 0, "m1", "properties.portPitch", /found 0, expected a number from 10 to 500/],
		["features.4.properties.ports", 2.5, "m1", "properties.ports", /found 2.5, expected a whole number/],
		["features.4.properties.ports", 0, "m1", "properties.ports", /found 0, expected a number from 1/],
		["features.4.properties.facing", 900, "m1", "properties.facing", /found 900, expected a number from -360 to 360/],
		["features.2.properties.between", ["hall"], "d1", "properties.between.1", /found nothing, expected a room's id/],
		[
			"features.2.properties.between",
			"hall",
			"d1",
			"properties.between",
			/found "hall", expected the ids of two rooms/,
		],
		["features.4.geometry.type", "MultiPoint", "m1", "geometry.type", /found "MultiPoint", expected "Point"/],
		["features.0.geometry.type", "LineString", "hall", "geometry.type", /found "LineString", expected "Polygon"/],
	])("%s: %j", (path, value, subject, member, message) => {
		expectProblem(change(validFloor(), path, value), subject, member, message);
	});

	test("an id is missing: the feature is named by its place", () => {
		expectProblem(change(validFloor(), "features.3.id", undefined), "feature 4", "id", /found nothing.*Add an id/);
	});

	test.each([[7], [""], [null]])("an id that is no text: %j", (id) => {
		expectProblem(change(validFloor(), "features.3.id", id), "feature 4", "id", /expected a string that is not empty/);
	});

	test("an id that was there before", () => {
		expectProblem(change(validFloor(), "features.3.id", "m1"), "m1", "id", /found "m1" a second time/);
	});

	test.each([[null], ["hall"], [[]]])("a feature that is no object: %j", (feature) => {
		const problems = floorProblems(withFeature(feature));
		expect(problems).toContainEqual(expect.objectContaining({ subject: "feature 6" }));
	});

	test("properties that are null", () => {
		expectProblem(
			change(validFloor(), "features.3.properties", null),
			"units",
			"properties",
			/found null, expected an object with a kind/,
		);
	});
});

describe("coordinates", () => {
	test.each([
		[Number.NaN, /found NaN, expected a number in mm/],
		[Number.POSITIVE_INFINITY, /found Infinity, expected a finite number/],
		[1e300, /found 1e\+300 mm, which is over 1 km from the origin/],
		[-1_000_001, /over 1 km from the origin.*move the floor nearer to the origin/],
		["12", /found "12", expected a number/],
		[null, /found null, expected a number/],
	])("%j", (value, message) => {
		expectProblem(change(validFloor(), `${outline}.0.1.0`, value), "hall", "geometry.coordinates.0.1.0", message);
		expectProblem(
			change(validFloor(), "features.4.geometry.coordinates.1", value),
			"m1",
			"geometry.coordinates.1",
			message,
		);
	});

	test("many bad positions of one ring are one problem", () => {
		const ring = Array.from({ length: 5000 }, () => [Number.NaN, 0]);
		expectProblem(withOutline(ring), "hall", "geometry.coordinates.0.0.0", /\(4999 more like it\.\)/);
	});
});

describe("outlines", () => {
	const ring = "geometry.coordinates.0";
	const column = "geometry.coordinates.1";
	const hall = rectangle(0, 0, 4000, 3000).map((position) => [...position]);
	const box = (...sides: [number, number, number, number]) => rectangle(...sides).map((position) => [...position]);

	test("no ring", () => {
		expectProblem(change(validFloor(), outline, []), "hall", "geometry.coordinates", /expected an outer ring/);
	});

	test("an open ring", () => {
		expectProblem(withOutline(hall.slice(0, -1)), "hall", ring, /open ring from \(0, 0\) mm to \(0, 3000\) mm/);
	});

	test("fewer than three different points", () => {
		const twoPoints = [hall[0]!, hall[1]!, hall[0]!, hall[1]!, hall[0]!];
		expectProblem(withOutline(twoPoints), "hall", ring, /fewer than 3 different points/);
		expectProblem(withOutline([]), "hall", ring, /found 0 positions/);
	});

	test("no area", () => {
		const line = [
			[0, 0],
			[1000, 0],
			[3000, 0],
			[0, 0],
		];
		expectProblem(withOutline(line), "hall", ring, /encloses no floor \(area 0\)/);
	});

	test("a bow tie crosses itself, and the message says where", () => {
		const bowTie = [hall[0]!, hall[2]!, hall[1]!, hall[3]!, hall[0]!];
		expectProblem(withOutline(bowTie), "hall", ring, /crosses or touches itself near \(2000, 1500\) mm/);
	});

	test("a corner on another wall touches it", () => {
		const pinched = [
			[0, 0],
			[4000, 0],
			[4000, 3000],
			[2000, 0],
			[0, 3000],
			[0, 0],
		];
		expectProblem(withOutline(pinched), "hall", ring, /crosses or touches itself near \(2000, 0\) mm/);
	});

	test("a corner visited twice", () => {
		const pinched = [
			[0, 0],
			[4000, 0],
			[2000, 1500],
			[4000, 3000],
			[0, 3000],
			[2000, 1500],
			[0, 0],
		];
		expectProblem(withOutline(pinched), "hall", ring, /crosses or touches itself near \(2000, 1500\) mm/);
	});

	test("a hole outside the room", () => {
		expectProblem(withOutline(hall, box(9000, 0, 9500, 500)), "hall", column, /hole 1 lies outside the outer ring/);
	});

	test("a hole across the wall", () => {
		expectProblem(
			withOutline(hall, box(-200, 1000, 300, 1300)),
			"hall",
			column,
			/hole 1 crosses or touches the outer ring near \(0, 1\d00\) mm/,
		);
	});

	test("holes across each other", () => {
		expectProblem(
			withOutline(hall, box(1000, 1000, 1500, 1500), box(1400, 1400, 1800, 1800)),
			"hall",
			"geometry.coordinates.2",
			/hole 2 crosses or touches hole 1.*draw them as one hole/,
		);
	});

	test("a hole in a hole", () => {
		expectProblem(
			withOutline(hall, box(1000, 1000, 2000, 2000), box(1400, 1400, 1600, 1600)),
			"hall",
			"geometry.coordinates.2",
			/hole 2 lies inside hole 1/,
		);
	});

	test("more corners than anybody draws", () => {
		const ringOfMany = Array.from({ length: 50_001 }, (_, i) => [i, i % 2]);
		expectProblem(withOutline(ringOfMany), "hall", ring, /found 50001 positions, expected at most 50000/);
	});
});

describe("features beside each other", () => {
	test("rooms that overlap", () => {
		expectProblem(
			withFeature(area("room", "store", [rectangle(7000, 1000, 9000, 2000)])),
			"store",
			"geometry.coordinates",
			/found 1\.00 m2 that lie in room "kitchen" too/,
		);
	});

	test("a room inside another", () => {
		const message = /found 0\.250 m2 that lie in room "hall" too/;
		const shaft = area("room", "shaft", [rectangle(1000, 1000, 1500, 1500)]);
		expectProblem(withFeature(shaft), "shaft", "geometry.coordinates", message);
	});

	test("rooms may share a wall, overlap by a sliver, or lie in another's hole", () => {
		const store = area("room", "store", [rectangle(7999, 0, 9000, 3000)]);
		const beside = area("room", "beside", [rectangle(0, 3000, 4000, 4000)]);
		expect(floorProblems(change(validFloor(), "features", [...validFloor().features, store, beside]))).toEqual([]);
		const ring = rectangle(0, 0, 4000, 3000);
		const hole = rectangle(1000, 1000, 1500, 1500);
		const shaft = area("room", "shaft", [hole]);
		const document = change(withFeature(shaft), outline, [ring, hole]);
		expect(floorProblems(document)).toEqual([]);
	});

	test("a doorway that names an unknown room", () => {
		expectProblem(
			change(validFloor(), "features.2.properties.between", ["hall", "attic"]),
			"d1",
			"properties.between",
			/found "attic", which no room is called, expected one of "hall" and "kitchen"/,
		);
	});

	test("a doorway that names one room twice", () => {
		expectProblem(
			change(validFloor(), "features.2.properties.between", ["hall", "Hall"]),
			"d1",
			"properties.between",
			/found room "hall" on both sides/,
		);
	});

	test("a doorway that names a room by a name of two", () => {
		const document = change(validFloor(), "features.1.properties.name", "Hall");
		expectProblem(
			change(document, "features.2.properties.between", ["Hall", "kitchen"]),
			"d1",
			"properties.between",
			/the name of 2 rooms.*Write an id: "hall" and "kitchen"/,
		);
	});

	test("a doorway that does not reach a room it names", () => {
		expectProblem(
			change(validFloor(), "features.2.geometry.coordinates", [rectangle(3999, 1000, 4050, 1900)]),
			"d1",
			"geometry.coordinates",
			/does not touch room "kitchen"/,
		);
	});

	test.each([
		["no room", rectangle(4040, 1000, 4060, 1900), /touches no room, expected it to come within 2 mm of two rooms/],
		["one room", rectangle(3999, 1000, 4050, 1900), /touches only room "hall"/],
	])("a doorway that touches %s", (_, ring, message) => {
		const document = change(validFloor(), "features.2.properties.between", undefined);
		expectProblem(change(document, "features.2.geometry.coordinates", [ring]), "d1", "geometry.coordinates", message);
	});

	test("a doorway that touches three rooms and does not say which two", () => {
		const bath = area("room", "bath", [rectangle(3000, 3000, 4040, 4000)]);
		const document = change(withFeature(bath), "features.2.geometry.coordinates", [rectangle(3999, 2500, 4101, 3100)]);
		expect(floorProblems(document)).toEqual([]);
		expectProblem(
			change(document, "features.2.properties.between", undefined),
			"d1",
			"geometry.coordinates",
			/touches 3 rooms, "hall", "kitchen" and "bath".*Say which two/,
		);
	});

	test("a manifold far from all floor", () => {
		expectProblem(
			withFeature(manifold("m2", [2000, -300], 90)),
			"m2",
			"geometry.coordinates",
			/\(2000, -300\) mm, 300 mm from the nearest room or doorway, expected it within 100 mm/,
		);
	});

	test.each([
		["lower", [2000, -50], 90],
		["left", [0, 1500], 0],
		["upper", [2000, 3000], 270],
		["right", [8000, 1500], 180],
	])("a manifold on the %s wall that faces into it is told the way out", (_, position, facing) => {
		expectProblem(
			withFeature(manifold("m2", position, facing - 180)),
			"m2",
			"properties.facing",
			new RegExp(`faces into the wall.*"facing": ${facing}\\.$`),
		);
	});

	test("a manifold without facing is told the way its wall faces", () => {
		expectProblem(
			change(validFloor(), "features.4.properties.facing", undefined),
			"m1",
			"properties.facing",
			/found nothing, expected the way the pipes leave\. The nearest wall faces 90 degrees/,
		);
	});
});

describe("the error", () => {
	test("carries every problem at once, and reads one line for each", () => {
		let document = change(validFloor(), "units", "inch");
		document = change(document, "system.spacing", 10);
		document = change(document, "features.0.properties.pattern", "snail");
		document = change(document, "features.1.geometry.coordinates.0.0", [500, 500]);
		document = change(document, "features.4.properties.ports", -1);
		const error = (() => {
			try {
				return readFloor(document);
			} catch (thrown) {
				return thrown;
			}
		})();
		expect(error).toBeInstanceOf(FloorError);
		expect(error).toBeInstanceOf(Error);
		expect(error).toMatchObject({ code: "FLOOR_INVALID", name: "FloorError" });
		const { problems, message } = error as FloorError;
		expect(problems.map(({ subject, member }) => `${subject} ${member}`)).toEqual([
			"document units",
			"document system.spacing",
			"hall properties.pattern",
			"kitchen geometry.coordinates.0",
			"m1 properties.ports",
		]);
		expect(message.split("\n")).toEqual(problems.map((p) => `${p.subject}, ${p.member}: ${p.message}`));
	});

	test("the document is left as it was", () => {
		const document = validFloor();
		readFloor(document);
		expect(document).toEqual(validFloor());
	});
});

describe("text that is no JSON", () => {
	test.each([
		["", "line 1, column 1", /found the end of the text in line 1, column 1, expected a value/],
		['{\n\t"units": mm\n}', "line 2, column 11", /found "mm" .*, expected a value/],
		['{\n  "name": "A",\n}', "line 3, column 1", /found "}" .*, expected a member's name/],
		['{"a": [1, 2}', "line 1, column 12", /expected a comma or the end/],
		['{"a": 1} x', "line 1, column 10", /found "x" .*, expected the end of the text/],
		['{"a" 1}', "line 1, column 6", /expected a colon/],
		["{'a': 1}", "line 1, column 2", /member's name in double quotes/],
		['["tab\there"]', "line 1, column 2", /expected a value or \]/],
		["[01]", "line 1, column 3", /expected a comma/],
	])("%j", (text, member, message) => {
		expect(() => readFloorText(text)).toThrow(FloorError);
		try {
			readFloorText(text);
		} catch (error) {
			expect((error as FloorError).problems).toEqual([
				{ subject: "document", member, message: expect.stringMatching(message) },
			]);
		}
	});

	test("good text reads as the document does, with a byte order mark too", () => {
		const text = JSON.stringify(validFloor());
		expect(readFloorText(text)).toEqual(readFloor(validFloor()));
		expect(readFloorText(`\uFEFF${text}`)).toEqual(readFloor(validFloor()));
	});
});
