import fc from "fast-check";
import { type Point, readFloor } from "oxturn";
import { describe, expect, test } from "vitest";
import { type Draft, featureOf, isManifold, isOutlined } from "../../playground/src/document/draft.ts";
import { ringOf } from "../../playground/src/document/rings.ts";
import { moveCorner, moveWall, removeCorner, setWallLength, splitWall } from "../../playground/src/edit/corners.ts";
import { cutDoorway, moveDoorway, nearestDoorway } from "../../playground/src/edit/doorways.ts";
import { addHole, moveOutline, removeFeature, removeHole } from "../../playground/src/edit/features.ts";
import { followWalls } from "../../playground/src/edit/followWalls.ts";
import { hangManifold, moveManifold, nearestWallPlace } from "../../playground/src/edit/manifolds.ts";
import { nudge } from "../../playground/src/edit/nudge.ts";
import { renameFeature, setPattern, setRoom, setSystemNumber } from "../../playground/src/edit/settings.ts";
import { oneRoom, rectangle, twoRooms } from "./floors.ts";

const outline = (draft: Draft, id = "room-1", ring = 0): readonly Point[] => {
	const feature = featureOf(draft, id);
	return feature && isOutlined(feature) ? ringOf(feature, ring) : [];
};

const place = (index: number, ring = 0, id = "room-1") => ({ id, ring, index });

describe("corners and walls", () => {
	test("moving a corner moves that corner alone, to whole millimetres, and leaves the draft before as it was", () => {
		const moved = moveCorner(oneRoom, place(2), [4500.4, 3999.6]);
		expect(outline(moved)).toEqual([
			[0, 0],
			[5000, 0],
			[4500, 4000],
			[0, 4000],
		]);
		expect(outline(oneRoom)[2]).toEqual([5000, 4000]);
	});

	test("a ring stays closed whichever corner moves", () => {
		for (const index of [0, 1, 2, 3]) {
			const room = featureOf(moveCorner(oneRoom, place(index), [123, 456]), "room-1");
			const ring = room?.geometry.type === "Polygon" ? room.geometry.coordinates[0]! : [];
			expect(ring[0]).toEqual(ring.at(-1));
			expect(ring).toHaveLength(5);
		}
	});

	test("a wall moves across itself only, and its neighbours keep their direction", () => {
		expect(outline(moveWall(oneRoom, place(1), [-700, 333]))).toEqual(rectangle(0, 0, 4300, 4000));
		const slanted = moveCorner(oneRoom, place(2), [4000, 4000]);
		expect(outline(moveWall(slanted, place(2), [0, -2000]))).toEqual([
			[0, 0],
			[5000, 0],
			[4500, 2000],
			[0, 2000],
		]);
	});

	test("splitting a wall puts a corner in its middle, and taking that away gives the outline back", () => {
		const split = splitWall(oneRoom, place(3));
		expect(outline(split)).toEqual([
			[0, 0],
			[5000, 0],
			[5000, 4000],
			[0, 4000],
			[0, 2000],
		]);
		expect(outline(removeCorner(split, place(4)))).toEqual(outline(oneRoom));
	});

	test("the last three corners cannot be taken away", () => {
		const triangle = removeCorner(oneRoom, place(0));
		expect(outline(triangle)).toHaveLength(3);
		expect(outline(removeCorner(triangle, place(0)))).toEqual(outline(triangle));
	});

	test("a wall takes a typed length, and the room stays rectangular", () => {
		expect(outline(setWallLength(oneRoom, place(0), 3700))).toEqual(rectangle(0, 0, 3700, 4000));
	});

	test("an edit of something that is not there changes nothing", () => {
		expect(moveCorner(oneRoom, place(0, 0, "nobody"), [1, 1])).toBe(oneRoom);
		expect(removeHole(oneRoom, "room-1", 0)).toBe(oneRoom);
		expect(moveManifold(oneRoom, "room-1", [0, 0])).toBe(oneRoom);
		expect(nudge(oneRoom, { id: "nobody" }, [1, 0])).toBe(oneRoom);
	});
});

describe("holes", () => {
	test("belong to the room that holds them whole", () => {
		const made = addHole(oneRoom, rectangle(2000, 2000, 2400, 2400));
		expect(made?.id).toBe("room-1");
		expect(outline(made!.draft, "room-1", 1)).toHaveLength(4);
		expect(readFloor(made!.draft).floor.rooms[0]!.region.holes).toHaveLength(1);
		expect(outline(moveOutline(made!.draft, "room-1", [100, 0], 1), "room-1", 1)[0]).toEqual([2100, 2000]);
		expect(outline(removeHole(made!.draft, "room-1", 1), "room-1", 1)).toEqual([]);
	});

	test("are refused across a wall", () => {
		expect(addHole(oneRoom, rectangle(4800, 2000, 5300, 2400))).toBeUndefined();
	});
});

describe("manifolds", () => {
	test("hang on the nearest wall and face the room, wherever they are asked to be", () => {
		fc.assert(
			fc.property(fc.integer({ min: -2000, max: 9000 }), fc.integer({ min: -2000, max: 6000 }), (x, y) => {
				const moved = moveManifold(twoRooms, "manifold-1", [x, y]);
				// the reader refuses a manifold away from the floor, or one that faces into the wall
				expect(() => readFloor(moved)).not.toThrow();
			}),
		);
	});

	test("go with the wall that they hang on", () => {
		const moved = followWalls(oneRoom, moveWall(oneRoom, place(0), [0, 600]));
		const manifold = featureOf(moved, "manifold-1");
		expect(manifold?.geometry.coordinates).toEqual([2500, 600]);
	});

	test("stay where they are while other walls move", () => {
		const moved = moveWall(oneRoom, place(2), [0, 600]);
		expect(featureOf(followWalls(oneRoom, moved), "manifold-1")).toBe(featureOf(oneRoom, "manifold-1"));
	});

	test("face the way that the wall looks, whichever way round it was drawn", () => {
		const backwards = { ...oneRoom, features: oneRoom.features.filter((feature) => !isManifold(feature)) };
		const reversed = structuredClone(backwards);
		const ring = reversed.features[0]!.geometry.coordinates as Point[][];
		ring[0]!.reverse();
		expect(nearestWallPlace(reversed, [5200, 2000])).toEqual({ at: [5000, 2000], facing: 180, away: 200 });
		expect(nearestWallPlace(backwards, [5200, 2000])).toEqual({ at: [5000, 2000], facing: 180, away: 200 });
	});

	test("go round the corners of a room by small steps", () => {
		let draft = oneRoom;
		for (let presses = 0; presses < 40; presses += 1) draft = nudge(draft, { id: "manifold-1" }, [100, 0]);
		for (let presses = 0; presses < 10; presses += 1) draft = nudge(draft, { id: "manifold-1" }, [0, 100]);
		const manifold = featureOf(draft, "manifold-1");
		expect(manifold?.properties).toMatchObject({ facing: 180 });
	});

	test("there is no place for one on a floor without rooms", () => {
		expect(hangManifold({ ...oneRoom, features: [] }, [0, 0])).toBeUndefined();
	});
});

describe("doorways", () => {
	test("are cut through the whole wall between two rooms, and the reader takes them", () => {
		const made = cutDoorway(twoRooms, [5040, 1234]);
		expect(outline(made!.draft, "doorway-1")).toEqual([
			[4999, 834],
			[4999, 1634],
			[5101, 1634],
			[5101, 834],
		]);
		expect(readFloor(made!.draft).floor.doorways[0]!.between).toEqual(["room-1", "room-2"]);
	});

	test("stay within the stretch of wall that both rooms have", () => {
		const corners = nearestDoorway(twoRooms, [5050, 3900])!.corners;
		expect(Math.max(...corners.map(([, y]) => y))).toBe(3000);
	});

	test("slide along the wall as wide as they are", () => {
		const { draft } = cutDoorway(twoRooms, [5050, 1000], 900)!;
		const ys = outline(moveDoorway(draft, "doorway-1", [5050, 2200]), "doorway-1").map(([, y]) => y);
		expect(Math.max(...ys) - Math.min(...ys)).toBe(900);
		expect(Math.min(...ys)).toBe(1750);
	});

	test("are cut anew when the wall between their rooms moves", () => {
		const before = cutDoorway(twoRooms, [5050, 1000])!.draft;
		const after = followWalls(before, moveWall(before, place(1), [-100, 0]));
		const xs = outline(after, "doorway-1").map(([x]) => x);
		expect([Math.min(...xs), Math.max(...xs)]).toEqual([4899, 5101]);
		expect(() => readFloor(after)).not.toThrow();
	});

	test("are not cut where rooms share no wall", () => {
		expect(cutDoorway(oneRoom, [5000, 1000])).toBeUndefined();
		const apart = moveOutline(twoRooms, "room-2", [1000, 0]);
		expect(cutDoorway(apart, [5000, 1000])).toBeUndefined();
	});

	test("go with a room that is removed", () => {
		const { draft } = cutDoorway(twoRooms, [5040, 1234])!;
		expect(removeFeature(draft, "room-2").features.map(({ id }) => id)).toEqual(["room-1", "manifold-1", "keepout-1"]);
	});
});

describe("settings", () => {
	test("stand in the document where the reader looks for them", () => {
		const numbers = [
			["spacing", 150],
			["edgeDistance", 90],
			["tailSpacing", 60],
			["maxLoopLength", 80],
			["outerDiameter", 14],
			["minBendRadius", 70],
		] as const;
		const draft = numbers.reduce<Draft>((changed, [name, value]) => setSystemNumber(changed, name, value), oneRoom);
		const { system } = readFloor(draft).floor;
		expect(system).toMatchObject({ spacing: 150, edgeDistance: 90, tailSpacing: 60, maxLoopLength: 80 });
		expect(system.pipe).toMatchObject({ outerDiameter: 14, minBendRadius: 70 });
	});

	test("that are taken back leave nothing in the document", () => {
		const draft = setSystemNumber(setSystemNumber(oneRoom, "outerDiameter", 14), "outerDiameter", undefined);
		expect(draft.system).toEqual({ pipe: {} });
		const room = setRoom(setRoom(oneRoom, "room-1", { spacing: 100 }), "room-1", { spacing: undefined });
		expect(featureOf(room, "room-1")?.properties).toEqual({ kind: "room", name: "Weir room" });
	});

	test("of a room are its own, the pattern of the floor is every room's", () => {
		const draft = setPattern(setRoom(twoRooms, "room-2", { spacing: 100, heated: false }), "spiral");
		const { rooms } = readFloor(draft).floor;
		expect(rooms.map(({ spacing, heated, pattern }) => [spacing, heated, pattern])).toEqual([
			[200, true, "spiral"],
			[100, false, "spiral"],
		]);
	});

	test("names are kept as they are typed", () => {
		expect(featureOf(renameFeature(twoRooms, "keepout-1", "<b>"), "keepout-1")?.properties).toMatchObject({
			name: "<b>",
		});
	});
});
