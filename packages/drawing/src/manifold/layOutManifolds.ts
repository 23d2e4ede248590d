import type { Floor, Layout, Manifold } from "@oxturn/floor";
import { boxesOverlap, middleBetween, regionHolds, regionMeetsBox, type View } from "../paper.ts";
import { besidePlan } from "./besidePlan.ts";
import { layOutManifold } from "./layOutManifold.ts";
import { leaderTo, type ManifoldDrawing } from "./manifoldDrawing.ts";
import { type Surroundings, surroundingsOf } from "./surroundings.ts";

/** mm on paper, tried in turn until strips stay apart. */
const LEADERS = [4, 9, 14, 19, 26];

/**
 * Places every manifold's body, ports and labels; strips keep clear of each other, and of rooms where they can.
 * `wall`: how thick outer walls are shown, mm of floor.
 */
export function layOutManifolds(floor: Floor, layout: Layout, view: View, wall: number): ManifoldDrawing[] {
	const plan = surroundingsOf(floor, view, wall, []);
	const placed: ManifoldDrawing[] = [];
	for (const manifold of floor.manifolds) {
		const taken = placed.flatMap(({ boxes }) => boxes);
		placed.push(placeManifold(manifold, layout, view, { ...plan, taken }));
	}
	return placed;
}

/** Behind the manifold if no room is there, else beside the plan, else wherever it is at least apart from others. */
function placeManifold(manifold: Manifold, layout: Layout, view: View, around: Surroundings): ManifoldDrawing {
	const attempts = LEADERS.map((leader) => layOutManifold(manifold, layout, view, leader));
	return (
		attempts.find((attempt) => isApart(attempt, around) && isOffRooms(attempt, around)) ??
		besidePlan(attempts[0]!, around) ??
		attempts.find((attempt) => isApart(attempt, around)) ??
		attempts[attempts.length - 1]!
	);
}

function isApart({ boxes }: ManifoldDrawing, { taken }: Surroundings): boolean {
	return boxes.every((box) => taken.every((other) => !boxesOverlap(box, other)));
}

/** Neither the labels nor the leaders to them lie on the floor of a room. */
function isOffRooms({ frame, strip, titleBox }: ManifoldDrawing, { rooms }: Surroundings): boolean {
	const middles = (strip?.cells ?? []).map((cell) => middleBetween(...leaderTo(cell, frame)));
	return !rooms.some(
		(room) => regionMeetsBox(room, strip?.box ?? titleBox) || middles.some((middle) => regionHolds(room, middle)),
	);
}
