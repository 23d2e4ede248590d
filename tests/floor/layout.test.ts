import { LayoutError, layoutToJson, readLayout, readLayoutText } from "@oxturn/floor";
import fc from "fast-check";
import { expect, test } from "vitest";
import { change, layoutProblems, validFloor, validLayout } from "./documents.ts";

test("a layout document reads as it is, as fresh data", () => {
	const document = validLayout();
	const layout = readLayout(document);
	expect(layout).toEqual(document);
	expect(layout.features[0]!.geometry.coordinates).not.toBe(document.features[0]!.geometry.coordinates);
});

test("a missing name, channels and notices become empty", () => {
	const { type, units, features } = validLayout();
	expect(readLayout({ type, units, features })).toEqual({
		type,
		units,
		name: "",
		features,
		channels: [],
		notices: [],
	});
});

test("unknown members and heights are left out", () => {
	const heights = change(validLayout(), "features.0.geometry.coordinates.0", [0, 0, 35]);
	expect(readLayout(change(heights, "features.0.properties.colour", "red"))).toEqual(validLayout());
});

test("what a notice tells as data is kept, and left out where it is something else", () => {
	const notice = { ...validLayout().notices[0]!, details: { reason: "no-fit", spacing: 150 } };
	const written = change(validLayout(), "notices.0", notice);
	expect(readLayoutText(layoutToJson(readLayout(written))).notices).toEqual([notice]);
	for (const details of ["none", 3, [], { spacing: { mm: 150 } }, null])
		expect(readLayout(change(validLayout(), "notices.0.details", details))).toEqual(validLayout());
});

test.each<[string, unknown, string, string, RegExp]>([
	["units", "m", "document", "units", /found "m", expected "mm"/],
	["features.0.id", undefined, "feature 1", "id", /found nothing, expected a string that no other loop has/],
	["features.0.properties.kind", "tail", "L1", "properties.kind", /found "tail", expected "loop"/],
	["features.0.properties.pattern", "auto", "L1", "properties.pattern", /found "auto", expected "serpentine" or/],
	["features.0.properties.length", 0, "L1", "properties.length", /found 0, expected a positive number in m/],
	["features.0.properties.spacing", Number.NaN, "L1", "properties.spacing", /found NaN, expected a positive number/],
	["features.0.geometry.coordinates.2.1", 1e300, "L1", "geometry.coordinates.2.1", /over 1 km from the origin/],
	["features.0.geometry.coordinates", [], "L1", "geometry.coordinates", /expected at least two positions/],
	["channels.0.width", -3, "document", "channels.0.width", /found -3, expected a positive number in mm/],
	["notices.0.code", undefined, "document", "notices.0.code", /found nothing, expected a code/],
])("%s: %j is refused", (path, value, subject, member, message) => {
	expect(layoutProblems(change(validLayout(), path, value))).toEqual([
		{ subject, member, message: expect.stringMatching(message) },
	]);
});

test("a floor is told from a layout in one problem", () => {
	expect(layoutProblems(validFloor())).toEqual([
		{ subject: "document", member: "features", message: expect.stringContaining("which make a floor, expected loops") },
	]);
});

test("two loops with one id are refused", () => {
	const [loop] = validLayout().features;
	expect(layoutProblems(change(validLayout(), "features", [loop, loop]))).toEqual([
		{ subject: "L1", member: "id", message: expect.stringContaining('found "L1" a second time') },
	]);
});

test("the error carries every problem", () => {
	const document = change(change(validLayout(), "units", "m"), "features.0.properties.port", 0);
	expect(() => readLayout(document)).toThrow(LayoutError);
	expect(layoutProblems(document).map(({ member }) => member)).toEqual(["units", "properties.port"]);
	expect(() => readLayoutText('{"units": "mm"')).toThrow(/line 1, column 15/);
});

test("the text of a layout holds one loop a line and reads back as the same layout", () => {
	const layout = readLayout(validLayout());
	const text = layoutToJson(layout);
	expect(text.split("\n").filter((line) => line.includes('"id":"L1"'))).toHaveLength(1);
	expect(readLayoutText(text)).toEqual(layout);
	const empty = { ...layout, features: [], channels: [], notices: [] };
	expect(readLayoutText(layoutToJson(empty))).toEqual(empty);
});

test("any JSON in the place of any member gives a layout or a LayoutError, and nothing else", () => {
	const paths = [
		"features",
		"features.0",
		"features.0.geometry",
		"features.0.properties.rooms",
		"channels.0",
		"notices",
	];
	fc.assert(
		fc.property(fc.constantFrom(...paths), fc.jsonValue(), (path, value) => {
			for (const { message } of layoutProblems(change(validLayout(), path, value)))
				expect(message).toMatch(/^found .*, expected /);
		}),
		{ numRuns: 300 },
	);
	fc.assert(fc.property(fc.jsonValue(), (value) => layoutProblems(value).length > 0));
});
