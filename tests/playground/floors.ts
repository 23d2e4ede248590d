import type { Point } from "oxturn";
import { type Draft, emptyDraft } from "../../playground/src/document/draft.ts";
import { addKeepout, addManifold, addRoom } from "../../playground/src/edit/features.ts";

export const rectangle = (left: number, bottom: number, right: number, top: number): readonly Point[] => [
	[left, bottom],
	[right, bottom],
	[right, top],
	[left, top],
];

/** One room of 5 by 4 m with a manifold in the middle of its lower wall. */
export const oneRoom: Draft = addManifold(
	addRoom(emptyDraft, rectangle(0, 0, 5000, 4000), "Weir room").draft,
	[2500, 0],
	90,
).draft;

/** The same with a second room beyond a wall of 100 mm, and a keep-out. */
export const twoRooms: Draft = addKeepout(
	addRoom(oneRoom, rectangle(5100, 0, 8000, 3000), "Sluice room").draft,
	rectangle(500, 2000, 1500, 3000),
	"Hearth",
).draft;
