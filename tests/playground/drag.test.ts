import { describe, expect, test } from "vitest";
import { featureOf, isOutlined } from "../../playground/src/document/draft.ts";
import { ringOf } from "../../playground/src/document/rings.ts";
import { neighbourOf, partsOf, stillThere } from "../../playground/src/store/selectionOrder.ts";
import { drag } from "../../playground/src/tools/dragging.ts";
import { oneRoom, rectangle, twoRooms } from "./floors.ts";

const outline = (draft: typeof oneRoom, id: string) => {
	const feature = featureOf(draft, id);
	return feature && isOutlined(feature) ? ringOf(feature, 0) : [];
};

const corner = (index: number) => ({ id: "room-1", part: { kind: "corner", ring: 0, index } }) as const;
const wall = (index: number) => ({ id: "room-1", part: { kind: "wall", ring: 0, index } }) as const;

describe("a drag", () => {
	test("brings a corner into line with its neighbours and tells by what it was caught", () => {
		const { draft, snap } = drag(oneRoom, corner(2), [5000, 4000], [4310, 3970], 60);
		expect(outline(draft, "room-1")[2]).toEqual([4300, 4000]);
		expect(snap?.kind).toBe("align");
	});

	test("depends on where it began and where it is, not on the way", () => {
		const there = drag(oneRoom, wall(1), [5000, 2000], [6240, 2100], 60).draft;
		const back = drag(oneRoom, wall(1), [5000, 2000], [5010, 2000], 60).draft;
		expect(outline(there, "room-1")).toEqual(rectangle(0, 0, 6200, 4000));
		expect(outline(back, "room-1")).toEqual(outline(oneRoom, "room-1"));
	});

	test("moves a keep-out as it is, and a room with its holes", () => {
		const { draft } = drag(twoRooms, { id: "keepout-1" }, [1000, 2500], [2010, 1490], 60);
		expect(outline(draft, "keepout-1")).toEqual(rectangle(1500, 1000, 2500, 2000));
	});

	test("of something that is gone changes nothing", () => {
		expect(drag(oneRoom, { id: "nobody" }, [0, 0], [1, 1], 60).draft).toBe(oneRoom);
	});
});

describe("going through what is on the floor", () => {
	test("visits everything once, in a ring", () => {
		const seen: (string | undefined)[] = [];
		let at = neighbourOf(twoRooms, undefined, 1);
		for (let step = 0; step < twoRooms.features.length; step += 1) {
			seen.push(at?.id);
			at = neighbourOf(twoRooms, at, 1);
		}
		expect(new Set(seen).size).toBe(twoRooms.features.length);
		expect(at?.id).toBe(seen[0]);
		expect(neighbourOf(twoRooms, undefined, -1)?.id).toBe(seen.at(-1));
	});

	test("inside a room goes from corner to wall to corner", () => {
		const parts = partsOf(oneRoom, "room-1");
		expect(parts.map(({ part }) => `${part?.kind} ${part?.index}`).slice(0, 4)).toEqual([
			"corner 0",
			"wall 0",
			"corner 1",
			"wall 1",
		]);
		expect(neighbourOf(oneRoom, parts.at(-1), 1)).toEqual(parts[0]);
		expect(partsOf(oneRoom, "manifold-1")).toEqual([]);
	});

	test("a selection falls back to the feature, or to nothing, when its corner is gone", () => {
		expect(stillThere(oneRoom, corner(7))).toEqual({ id: "room-1" });
		expect(stillThere(oneRoom, { id: "nobody" })).toBeUndefined();
	});
});
