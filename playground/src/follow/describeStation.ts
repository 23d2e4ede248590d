import { polygonContains } from "d3";
import type { LoopFeature, Point } from "oxturn";
import { type Draft, nameOf, roomsOf } from "../document/draft.ts";
import { preferences } from "../store/preferences.svelte.ts";
import { lengthOfLoop, placeAt } from "./alongPipe.ts";

/** "L2 after 14.5 m of 81.3 m, flow half, in Kitchen". */
export function describeStation(draft: Draft, loop: LoopFeature, station: number): string {
	const whole = lengthOfLoop(loop);
	const { text } = preferences;
	const room = roomAt(draft, placeAt(loop, station));
	return text.follow.at(
		loop.id,
		preferences.pipe(station / 1000),
		preferences.pipe(whole / 1000),
		station <= whole / 2 ? text.plan.flow : text.plan.return,
		room ?? "",
	);
}

/** Name of the room that a place lies in; none in a doorway or in a wall. */
function roomAt(draft: Draft, at: Point): string | undefined {
	const room = roomsOf(draft).find(({ geometry }) => {
		const ring = geometry.coordinates[0] ?? [];
		return polygonContains(
			ring.map(([x, y]) => [x, y]),
			[at[0], at[1]],
		);
	});
	return room && nameOf(room);
}
