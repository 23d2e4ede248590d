import type { Point } from "oxturn";
import { type Draft, featureOf, isDoorway, isManifold, isOutlined } from "../document/draft.ts";
import { minus, plus } from "../document/plane.ts";
import { ringOf } from "../document/rings.ts";
import { moveCorner, moveWall } from "../edit/corners.ts";
import { middleOfDoorway, moveDoorway } from "../edit/doorways.ts";
import { moveOutline } from "../edit/features.ts";
import { moveManifold } from "../edit/manifolds.ts";
import { GRID, type Snap, type SnapOptions, snap } from "../snap/snap.ts";
import type { Selection } from "../store/selection.ts";

/** A drag as it stands: the floor as it would be, and what the dragged point was caught by. */
export interface Dragged {
	readonly draft: Draft;
	readonly snap: Snap | undefined;
}

/**
 * The floor `base` with what was grabbed at `from` dragged to `to`, mm. `reach` mm is how far points are caught from.
 * Depends on nothing that happened in between, so that frames may be left out.
 */
export function drag(base: Draft, { id, part }: Selection, from: Point, to: Point, reach: number): Dragged {
	const feature = featureOf(base, id);
	if (!feature) return { draft: base, snap: undefined };
	const by = minus(to, from);
	if (isManifold(feature))
		return { draft: moveManifold(base, id, plus(feature.geometry.coordinates, by)), snap: undefined };
	if (isDoorway(feature)) return { draft: moveDoorway(base, id, plus(middleOfDoorway(feature), by)), snap: undefined };
	if (!isOutlined(feature)) return { draft: base, snap: undefined };

	const ring = part?.ring ?? 0;
	const index = part?.index ?? 0;
	const corners = ringOf(feature, ring);
	const anchor = corners[index];
	if (!anchor) return { draft: base, snap: undefined };
	const count = corners.length;
	const next = (index + 1) % count;
	const own: Readonly<Record<NonNullable<Selection["part"]>["kind"] | "feature", SnapOptions["except"]>> = {
		corner: (other, otherRing, at) => other === id && otherRing === ring && at === index,
		wall: (other, otherRing, at) => other === id && otherRing === ring && (at === index || at === next),
		ring: (other, otherRing) => other === id && otherRing === ring,
		feature: (other) => other === id,
	};
	const except = own[part?.kind ?? "feature"];
	const neighbours = [corners[(index + count - 1) % count], corners[next]].filter((corner) => corner !== undefined);
	const caught = snap(base, plus(anchor, by), {
		reach,
		grid: GRID,
		...(except ? { except } : {}),
		...(part?.kind === "corner" ? { squareTo: neighbours } : {}),
	});
	const place = { id, ring, index };
	const shift = minus(caught.at, anchor);
	if (part?.kind === "corner") return { draft: moveCorner(base, place, caught.at), snap: caught };
	if (part?.kind === "wall") return { draft: moveWall(base, place, shift), snap: caught };
	return { draft: moveOutline(base, id, shift, part?.kind === "ring" ? ring : undefined), snap: caught };
}
