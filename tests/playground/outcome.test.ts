import type { Point } from "oxturn";
import { describe, expect, test } from "vitest";
import { type Draft, emptyDraft, featureOf, isManifold, nameOf, roomsOf } from "../../playground/src/document/draft.ts";
import { removeFeature } from "../../playground/src/edit/features.ts";
import { renameFeature } from "../../playground/src/edit/settings.ts";
import { en } from "../../playground/src/text/en.ts";
import { type Outcome, outlined, setIntoWall } from "../../playground/src/tools/outcome.ts";
import type { OutlineTool } from "../../playground/src/tools/tool.ts";
import { oneRoom, rectangle, twoRooms } from "./floors.ts";

const text = en.drawing;
const hole = rectangle(2000, 2000, 2400, 2400);

/** An outline of which something came. */
function outlinedWell(tool: OutlineTool, draft: Draft, corners: readonly Point[]): Extract<Outcome, { made: object }> {
	const outcome = outlined(tool, draft, corners, text);
	if (!outcome.made) throw new Error(outcome.problem);
	return outcome;
}

describe("an outline drawn with the tool for", () => {
	test("rooms is a room with a number for a name; the first one gets a manifold", () => {
		const { made, words } = outlinedWell("room", emptyDraft, rectangle(0, 0, 3000, 3000));
		expect(words).toBe(text.roomAdded(text.newRoom(1)));
		expect(roomsOf(made.draft).map(({ id }) => id)).toEqual([made.id]);
		expect(made.draft.features.filter(isManifold)).toHaveLength(1);
		const next = outlinedWell("room", oneRoom, rectangle(6000, 0, 8000, 3000));
		expect(next.made.draft.features.filter(isManifold)).toHaveLength(1);
	});

	test.each(["room", "keepout"] as const)("%ss has the lowest number that no other name has", (tool) => {
		const numbered = tool === "room" ? text.newRoom : text.newKeepout;
		const add = (draft: Draft) => outlinedWell(tool, draft, rectangle(0, 0, 3000, 3000)).made;
		const nameIn = ({ draft, id }: ReturnType<typeof add>) => nameOf(featureOf(draft, id)!);
		const first = add(twoRooms);
		const second = add(first.draft);
		const third = add(second.draft);
		expect([first, second, third].map(nameIn)).toEqual([1, 2, 3].map(numbered));
		expect(nameIn(add(removeFeature(third.draft, first.id)))).toBe(numbered(1));
		expect(nameIn(add(renameFeature(third.draft, first.id, numbered(4))))).toBe(numbered(1));
		expect(nameIn(add(renameFeature(second.draft, first.id, numbered(3))))).toBe(numbered(1));
		expect(nameIn(add(renameFeature(third.draft, third.id, "Net loft")))).toBe(numbered(3));
	});

	test("keep-outs is a keep-out", () => {
		const { made, words } = outlinedWell("keepout", twoRooms, hole);
		expect(words).toBe(text.keepoutAdded);
		expect(featureOf(made.draft, made.id)?.properties).toMatchObject({ kind: "keepout", name: text.newKeepout(1) });
	});

	test("holes is cut out of the room that holds it, which is told by its name, or by its id where it has none", () => {
		expect(outlinedWell("hole", oneRoom, hole).words).toBe(text.holeAdded("Weir room"));
		const nameless = renameFeature(oneRoom, "room-1", "");
		expect(outlinedWell("hole", nameless, hole).words).toBe(text.holeAdded("room-1"));
	});

	test("holes is nothing outside of every room, and says why", () => {
		const outside = rectangle(9000, 9000, 9400, 9400);
		expect(outlined("hole", oneRoom, outside, text)).toEqual({ made: undefined, problem: text.noHole });
	});
});

test("a doorway and a manifold need a wall, and say so where there is none", () => {
	expect(setIntoWall("doorway", twoRooms, [5050, 1000], text)).toMatchObject({ words: text.doorwayAdded });
	expect(setIntoWall("doorway", oneRoom, [5000, 1000], text)).toEqual({ made: undefined, problem: text.noDoorway });
	expect(setIntoWall("manifold", oneRoom, [0, 1000], text)).toMatchObject({ words: text.manifoldAdded });
	expect(setIntoWall("manifold", emptyDraft, [0, 0], text)).toEqual({ made: undefined, problem: text.noWall });
});
