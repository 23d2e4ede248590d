import type { Point } from "oxturn";
import { type Draft, featureOf, isDoorway, isManifold, isOutlined, type ManifoldFeature } from "../document/draft.ts";
import { plus, samePoint, times } from "../document/plane.ts";
import { ringOf } from "../document/rings.ts";
import type { Selection } from "../store/selection.ts";
import { moveCorner, moveWall } from "./corners.ts";
import { middleOfDoorway, moveDoorway } from "./doorways.ts";
import { moveOutline } from "./features.ts";
import { moveManifold } from "./manifolds.ts";

/** A manifold that a small step leaves where it is, as at a corner, is asked for this many steps at most. */
const MOST_STEPS = 24;

/** Moves what is selected by `by` mm. What hangs on walls moves along them, and round their corners. */
export function nudge(draft: Draft, { id, part }: Selection, by: Point): Draft {
	const feature = featureOf(draft, id);
	if (!feature) return draft;
	if (isManifold(feature)) return nudgeManifold(draft, feature, by);
	if (isDoorway(feature)) return moveDoorway(draft, id, plus(middleOfDoorway(feature), by));
	if (!part || !isOutlined(feature)) return moveOutline(draft, id, by);
	if (part.kind === "ring") return moveOutline(draft, id, by, part.ring);
	const place = { id, ring: part.ring, index: part.index };
	if (part.kind === "wall") return moveWall(draft, place, by);
	const corner = ringOf(feature, part.ring)[part.index];
	return corner ? moveCorner(draft, place, plus(corner, by)) : draft;
}

function nudgeManifold(draft: Draft, { id, geometry }: ManifoldFeature, by: Point): Draft {
	for (let steps = 1; steps <= MOST_STEPS; steps += 1) {
		const moved = moveManifold(draft, id, plus(geometry.coordinates, times(by, steps)));
		const now = featureOf(moved, id);
		if (now && isManifold(now) && !samePoint(now.geometry.coordinates, geometry.coordinates)) return moved;
	}
	return draft;
}
