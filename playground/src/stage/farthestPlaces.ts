import type { Point } from "oxturn";
import { roomsOf } from "../document/draft.ts";
import { extentOfPoints } from "../store/view.svelte.ts";
import type { Workbench } from "../store/workbench.svelte.ts";
import { COLD } from "./bands.ts";

/** The place of a room that lies farthest from any pipe, where that is cold. */
export interface FarthestPlace {
	readonly room: string;
	readonly at: Point;
	/** mm */
	readonly distance: number;
	/** It lies in the right half of its room: its figure stands to the left of it. */
	readonly isRight: boolean;
}

/** The middle of a figure stands this far from its cross, px. */
const FIGURE = 36;

/** What the marks take up, mm, for other words to keep off: the crosses and the middles of their figures. */
export const farthestMarked = (places: readonly FarthestPlace[], px: number): readonly Point[] =>
	places.flatMap(({ at, isRight }): Point[] => [at, [at[0] + (isRight ? -FIGURE : FIGURE) * px, at[1]]]);

/** The farthest cold places of the plan on screen, while the map of distances is shown. */
export function farthestPlaces({ playground, look, warmth }: Workbench): readonly FarthestPlace[] {
	const { map } = warmth;
	if (!look.isShown("warmth") || !map || map.of !== playground.routed) return [];
	const outlines = new Map(roomsOf(playground.draft).map(({ id, geometry }) => [id, geometry.coordinates[0] ?? []]));
	return map.rooms.flatMap(({ room, farthest, spacing }) => {
		const outline = outlines.get(room);
		if (!farthest || !outline || farthest.distance <= COLD * spacing) return [];
		const { left, right } = extentOfPoints(outline);
		return [{ room, ...farthest, isRight: farthest.at[0] > (left + right) / 2 }];
	});
}
