import { readFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { floorDocument } from "./arbitraries.ts";
import { change, floorProblems, layoutProblems, validFloor, validLayout } from "./documents.ts";

function compile(name: string) {
	const path = new URL(`../../packages/floor/schema/${name}.schema.json`, import.meta.url);
	return new Ajv2020({ strict: true, strictTypes: false, strictTuples: false, strictRequired: false }).compile(
		JSON.parse(readFileSync(path, "utf8")),
	);
}

const floorSchema = compile("floor");
const layoutSchema = compile("layout");

describe("the floor schema and the reader agree", () => {
	test.each<[string, unknown]>([
		["name", undefined],
		["system", undefined],
		["system", {}],
		["system.pipe", {}],
		["system.spacing", 50],
		["system.spacing", 600],
		["system.edgeDistance", undefined],
		["bbox", [0, 0, 8000, 3000]],
		["features.0.remark", "unknown members are ignored"],
		["features.0.properties.floorCovering", "tiles"],
		["features.0.properties.name", undefined],
		["features.0.properties.share", true],
		["features.0.geometry.coordinates.0.0", [0, 0, 12]],
		["features.2.properties.between", undefined],
		["features.4.properties.facing", -270],
		["features.4.properties.ports", 12],
	])("that it is good with %s: %j", (path, value) => {
		const document = change(validFloor(), path, value);
		expect(floorSchema(document)).toBe(true);
		expect(floorProblems(document)).toEqual([]);
	});

	test.each<[string, unknown]>([
		["type", "Feature"],
		["type", undefined],
		["units", undefined],
		["units", "cm"],
		["name", null],
		["features", undefined],
		["features", {}],
		["features", []],
		["features", validFloor().features.slice(0, 4)],
		["features", validFloor().features.slice(4)],
		["system", []],
		["system", null],
		["system.pipe", 16],
		["system.pipe.outerDiameter", 5],
		["system.pipe.wallThickness", 0],
		["system.pipe.minBendRadius", 1001],
		["system.spacing", 49],
		["system.spacing", 601],
		["system.spacing", "150"],
		["system.edgeDistance", 0],
		["system.maxLoopLength", 501],
		["system.tailSpacing", 0],
		["features.0", null],
		["features.0.type", "Room"],
		["features.0.id", undefined],
		["features.0.id", 7],
		["features.0.id", ""],
		["features.0.geometry", undefined],
		["features.0.geometry", null],
		["features.0.geometry.type", "MultiPolygon"],
		["features.0.geometry.coordinates", []],
		["features.0.geometry.coordinates", [[]]],
		[
			"features.0.geometry.coordinates.0",
			[
				[0, 0],
				[4000, 0],
				[0, 0],
			],
		],
		["features.0.geometry.coordinates.0.1", [4000]],
		["features.0.geometry.coordinates.0.1", [4000, "0"]],
		["features.0.geometry.coordinates.0.1", [1e7, 0]],
		["features.0.properties", undefined],
		["features.0.properties", null],
		["features.0.properties.kind", undefined],
		["features.0.properties.kind", "wall"],
		["features.0.properties.heated", "no"],
		["features.0.properties.spacing", 10],
		["features.0.properties.pattern", "snail"],
		["features.2.properties.between", ["hall"]],
		["features.2.properties.between", ["hall", "kitchen", "bath"]],
		["features.3.properties.name", 3],
		["features.4.geometry.type", "Polygon"],
		["features.4.geometry.coordinates", []],
		["features.4.properties.facing", undefined],
		["features.4.properties.facing", "up"],
		["features.4.properties.facing", 361],
		["features.4.properties.portPitch", 9],
		["features.4.properties.ports", 0],
		["features.4.properties.ports", 1.5],
	])("that it is bad with %s: %j", (path, value) => {
		const document = change(validFloor(), path, value);
		expect(floorSchema(document)).toBe(false);
		expect(floorProblems(document)).not.toEqual([]);
	});

	test("about every valid document", () => {
		fc.assert(
			fc.property(floorDocument, (document) => floorSchema(document)),
			{ numRuns: 50 },
		);
	});

	test("what the schema refuses, the reader refuses", () => {
		const paths = [
			"system",
			"system.pipe.outerDiameter",
			"features.0",
			"features.0.properties.share",
			"features.2.geometry",
		];
		fc.assert(
			fc.property(fc.constantFrom(...paths), fc.jsonValue(), (path, value) => {
				const document = change(validFloor(), path, value);
				if (!floorSchema(document)) expect(floorProblems(document)).not.toEqual([]);
			}),
			{ numRuns: 300 },
		);
	});
});

describe("the layout schema and the reader agree", () => {
	test.each<[string, unknown]>([
		["name", undefined],
		["channels", undefined],
		["channels.0.doorway", undefined],
		["notices", undefined],
		["notices", []],
		["features", []],
		["features.0.properties.rooms", []],
		["features.0.properties.colour", "red"],
	])("that it is good with %s: %j", (path, value) => {
		const document = change(validLayout(), path, value);
		expect(layoutSchema(document)).toBe(true);
		expect(layoutProblems(document)).toEqual([]);
	});

	test.each<[string, unknown]>([
		["type", undefined],
		["units", "m"],
		["name", 1],
		["features", undefined],
		["features", [null]],
		["features.0.id", 1],
		["features.0.geometry.type", "Polygon"],
		["features.0.geometry.coordinates", [[0, 0]]],
		["features.0.geometry.coordinates.1", [0, 2e6]],
		["features.0.properties", null],
		["features.0.properties.kind", "pipe"],
		["features.0.properties.manifold", undefined],
		["features.0.properties.port", 0],
		["features.0.properties.port", 1.5],
		["features.0.properties.rooms", "hall"],
		["features.0.properties.pattern", "auto"],
		["features.0.properties.spacing", 0],
		["features.0.properties.length", -1],
		["channels", {}],
		["channels.0.room", undefined],
		["channels.0.pipes", 1.5],
		["channels.0.width", 0],
		["channels.0.path", [[0, 0]]],
		["notices.0.code", ""],
		["notices.0.message", undefined],
	])("that it is bad with %s: %j", (path, value) => {
		const document = change(validLayout(), path, value);
		expect(layoutSchema(document)).toBe(false);
		expect(layoutProblems(document)).not.toEqual([]);
	});
});
