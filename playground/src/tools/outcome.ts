import type { Point } from "oxturn";
import { type Draft, type DraftFeature, featureOf, isKeepout, nameOf, roomsOf } from "../document/draft.ts";
import { cutDoorway } from "../edit/doorways.ts";
import { addHole, addKeepout, addRoom, type Made } from "../edit/features.ts";
import { hangManifold, withFirstManifold } from "../edit/manifolds.ts";
import type { Texts } from "../text/catalogue.ts";
import type { OutlineTool, WallTool } from "./tool.ts";

/** What came of a tool, and the words for it: what was made, or why nothing was. */
export type Outcome =
	| { readonly made: Made; readonly words: string }
	| { readonly made: undefined; readonly problem: string };

/** What a finished outline becomes. */
export function outlined(tool: OutlineTool, draft: Draft, corners: readonly Point[], text: Texts["drawing"]): Outcome {
	if (tool === "room") {
		const name = freshName(roomsOf(draft), text.newRoom);
		const made = addRoom(draft, corners, name);
		return { made: { ...made, draft: withFirstManifold(made.draft, made.id) }, words: text.roomAdded(name) };
	}
	if (tool === "keepout") {
		const name = freshName(draft.features.filter(isKeepout), text.newKeepout);
		return { made: addKeepout(draft, corners, name), words: text.keepoutAdded };
	}
	const made = addHole(draft, corners);
	const room = made && featureOf(draft, made.id);
	return room ? { made, words: text.holeAdded(nameOf(room)) } : { made: undefined, problem: text.noHole };
}

/** What is set into a wall near `at`. */
export function setIntoWall(tool: WallTool, draft: Draft, at: Point, text: Texts["drawing"]): Outcome {
	if (tool === "doorway") {
		const made = cutDoorway(draft, at);
		return made ? { made, words: text.doorwayAdded } : { made, problem: text.noDoorway };
	}
	const made = hangManifold(draft, at);
	return made ? { made, words: text.manifoldAdded } : { made, problem: text.noWall };
}

/** The name with the lowest number that none of the others has. */
function freshName(others: readonly DraftFeature[], numbered: (number: number) => string): string {
	const taken = new Set(others.map(nameOf));
	for (let number = 1; ; number += 1) if (!taken.has(numbered(number))) return numbered(number);
}
