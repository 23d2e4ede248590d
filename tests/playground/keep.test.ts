import { readFileSync } from "node:fs";
import { deflateRawSync } from "node:zlib";
import fc from "fast-check";
import { readFloor } from "oxturn";
import { describe, expect, test } from "vitest";
import { isDoorway } from "../../playground/src/document/draft.ts";
import { isDraft } from "../../playground/src/document/isDraft.ts";
import { readDraft } from "../../playground/src/document/readDraft.ts";
import { cutDoorway } from "../../playground/src/edit/doorways.ts";
import { house, houseRooms } from "../../playground/src/gallery/dwelling.ts";
import { oddRoomDraft, oddRooms } from "../../playground/src/gallery/oddRooms.ts";
import { randomRoom } from "../../playground/src/gallery/randomRoom.ts";
import { fileName } from "../../playground/src/keep/downloads.ts";
import { holdsPlainPolygons, roomsFromGeoJson } from "../../playground/src/keep/geoJsonRooms.ts";
import { linkFragment, readFragment } from "../../playground/src/keep/link.ts";
import { read } from "../../playground/src/work/jobs/read.ts";
import { twoRooms } from "./floors.ts";

describe("links", () => {
	test("give back the floor that went into them", async () => {
		for (const draft of [twoRooms, house]) {
			const reading = await readFragment(await linkFragment(draft));
			expect(reading.kind === "floor" && JSON.parse(reading.text)).toEqual(draft);
		}
	});

	test("of the whole house stay short enough to be sent", async () => {
		expect((await linkFragment(house)).length).toBeLessThan(2000);
	});

	test("that anybody made up are refused in words, never by an exception", async () => {
		await fc.assert(
			fc.asyncProperty(fc.string(), async (text) => {
				const reading = await readFragment(`#floor=${text}`);
				expect(["floor", "refused", "too-large"]).toContain(reading.kind);
			}),
		);
	});

	test("that unpack to far more than they weigh are not unpacked to the end", async () => {
		const bomb = deflateRawSync(Buffer.alloc(40_000_000, "0")).toString("base64url");
		expect(bomb.length).toBeLessThan(200_000);
		expect(await readFragment(`#floor=${bomb}`)).toEqual({ kind: "too-large" });
	});

	test("other fragments hold no floor", async () => {
		expect(await readFragment("")).toEqual({ kind: "none" });
		expect(await readFragment("#results")).toEqual({ kind: "none" });
	});
});

describe("plain polygons", () => {
	const feature = (coordinates: unknown, type = "Polygon", name?: string) => ({
		type: "Feature",
		properties: name === undefined ? null : { name },
		geometry: { type, coordinates },
	});
	const square = (x: number, y: number) => [
		[x, y],
		[x + 4, y],
		[x + 4, y + 3],
		[x, y + 3],
		[x, y],
	];
	const collection = {
		type: "FeatureCollection",
		features: [
			feature(
				[square(10, 20), square(11, 21).map(([x, y]) => [11 + (x! - 11) / 4, 21 + (y! - 21) / 4])],
				"Polygon",
				"Mill",
			),
			feature([[square(14.1, 20)], [square(18.2, 20)]], "MultiPolygon"),
			{ type: "Feature", properties: {}, geometry: { type: "Point", coordinates: [1, 2] } },
		],
	};

	test("become rooms in millimetres from their lower left corner, holes and all, with a manifold", () => {
		const { floor } = readFloor(roomsFromGeoJson(collection, "m", "Room"));
		expect(floor.rooms.map(({ name }) => name)).toEqual(["Mill", "Room 2", "Room 3"]);
		expect(floor.rooms[0]!.region.outer).toContainEqual([4000, 3000]);
		expect(floor.rooms[0]!.region.holes).toHaveLength(1);
		expect(floor.manifolds).toHaveLength(1);
	});

	test("are told from floor documents by the units that those state", () => {
		expect(holdsPlainPolygons(collection)).toBe(true);
		expect(holdsPlainPolygons(twoRooms)).toBe(false);
		for (const other of [
			null,
			5,
			[],
			{},
			{ type: "FeatureCollection", features: 3 },
			{ type: "Polygon", coordinates: [[]] },
		])
			expect(holdsPlainPolygons(other)).toBe(false);
	});

	test("are asked for their unit before they are read", () => {
		const text = JSON.stringify(collection);
		expect(read({ text, roomName: "Room" })).toEqual({ needsUnit: true });
		expect(read({ text, roomName: "Room", unit: "m" })).toHaveProperty("draft");
	});
});

describe("what is read", () => {
	test("says what the document said, without defaults, and is a draft", () => {
		const document = JSON.parse(readFileSync("docs/examples/dwelling.json", "utf8"));
		const draft = readDraft(document);
		expect(readFloor(draft)).toEqual(readFloor(document));
		expect(draft.features[0]!.properties).toEqual({ kind: "room", name: "Hall" });
		expect(isDraft(draft)).toBe(true);
	});

	test("comes with the reader's problems when it is no floor", () => {
		for (const text of ["", "{", "[]", "null", '"floor"', "[".repeat(50_000)])
			expect(read({ text, roomName: "Room" })).toHaveProperty("problems");
	});

	test("any JSON at all either is a draft that can be drawn, or is refused", () => {
		fc.assert(
			fc.property(fc.jsonValue(), (value) => {
				expect(isDraft(value)).toBe(false);
			}),
		);
	});
});

describe("the gallery", () => {
	test("holds floors that the library reads", () => {
		for (const draft of [house, ...houseRooms, ...oddRooms.map((room) => oddRoomDraft(room, room.id))])
			expect(() => readFloor(draft)).not.toThrow();
	});

	test("draws rooms at random that the library reads, the same for the same seed", () => {
		fc.assert(
			fc.property(fc.integer({ min: 0, max: 999_999_999 }), (seed) => {
				const draft = randomRoom(seed, "Any room");
				expect(() => readFloor(draft)).not.toThrow();
				expect(randomRoom(seed, "Any room")).toEqual(draft);
			}),
		);
	});
});

test("file names keep the letters of a floor's name and nothing that a folder could take amiss", () => {
	expect(fileName("Kitchen, Pollard Reach", ".svg")).toBe("kitchen-pollard-reach.svg");
	expect(fileName("../../Küche 2", ".svg")).toBe("küche-2.svg");
	expect(fileName("  ", ".floor.json")).toBe("floor.floor.json");
});

test("doorways that name their rooms, or say nothing, are read with the rooms' ids", () => {
	const { draft } = cutDoorway(twoRooms, [5040, 1234])!;
	for (const between of [["Weir room", "Sluice room"], undefined]) {
		const document = {
			...draft,
			features: draft.features.map((feature) =>
				isDoorway(feature) ? { ...feature, properties: { kind: "doorway", ...(between ? { between } : {}) } } : feature,
			),
		};
		expect(readDraft(document).features.find(isDoorway)?.properties.between).toEqual(["room-1", "room-2"]);
	}
});
