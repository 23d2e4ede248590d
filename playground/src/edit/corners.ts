import type { Point } from "oxturn";
import { type Draft, featureOf, isOutlined, type OutlinedFeature, withFeature } from "../document/draft.ts";
import { lengthOf, meetingPoint, middleOf, minus, plus, times, unit, wholeMm } from "../document/plane.ts";
import { ringOf, wallsOf, withRing } from "../document/rings.ts";

/** A corner of a ring, or the wall that runs from it to the next. */
export interface RingPlace {
	readonly id: string;
	/** 0 is the outline, then the holes. */
	readonly ring: number;
	readonly index: number;
}

/** An outline needs this many corners to have any floor in it. */
export const LEAST_CORNERS = 3;

function changeRing(
	draft: Draft,
	{ id, ring }: RingPlace,
	change: (corners: readonly Point[]) => readonly Point[],
): Draft {
	const feature = featureOf(draft, id);
	if (!feature || !isOutlined(feature)) return draft;
	return withFeature(draft, withRing<OutlinedFeature>(feature, ring, change(ringOf(feature, ring)).map(wholeMm)));
}

export function moveCorner(draft: Draft, place: RingPlace, to: Point): Draft {
	return changeRing(draft, place, (corners) => corners.map((corner, index) => (index === place.index ? to : corner)));
}

/** Puts a corner into the wall `place`, at `at` or in its middle: the wall is split in two. */
export function splitWall(draft: Draft, place: RingPlace, at?: Point): Draft {
	return changeRing(draft, place, (corners) => {
		const wall = wallsOf(corners)[place.index];
		return wall ? corners.toSpliced(place.index + 1, 0, at ?? middleOf(wall)) : corners;
	});
}

/** Takes a corner away; an outline of three corners keeps them. */
export function removeCorner(draft: Draft, place: RingPlace): Draft {
	return changeRing(draft, place, (corners) =>
		corners.length > LEAST_CORNERS ? corners.toSpliced(place.index, 1) : corners,
	);
}

/**
 * Moves a wall by `by`, as far as that leads across it: its ends slide along the walls beside it, so that those keep
 * their direction.
 */
export function moveWall(draft: Draft, place: RingPlace, by: Point): Draft {
	return changeRing(draft, place, (corners) => {
		const walls = wallsOf(corners);
		const wall = walls[place.index];
		const before = walls[(place.index + walls.length - 1) % walls.length];
		const after = walls[(place.index + 1) % walls.length];
		const along = wall && unit(minus(wall.to, wall.from));
		if (!wall || !before || !after || !along) return corners;
		const across: Point = [-along[1], along[0]];
		const shift = times(across, by[0] * across[0] + by[1] * across[1]);
		const moved = { from: plus(wall.from, shift), to: plus(wall.to, shift) };
		const from = meetingPoint(moved, before) ?? moved.from;
		const to = meetingPoint(moved, after) ?? moved.to;
		const next = (place.index + 1) % corners.length;
		return corners.map((corner, index) => (index === place.index ? from : index === next ? to : corner));
	});
}

/**
 * Gives a wall the length `length` mm. Its far end moves along it, and takes the wall after it along, so that
 * right angles stay right.
 */
export function setWallLength(draft: Draft, place: RingPlace, length: number): Draft {
	return changeRing(draft, place, (corners) => {
		const walls = wallsOf(corners);
		const wall = walls[place.index];
		const along = wall && unit(minus(wall.to, wall.from));
		if (!wall || !along) return corners;
		const shift = times(along, length - lengthOf(minus(wall.to, wall.from)));
		const next = (place.index + 1) % corners.length;
		const afterNext = (place.index + 2) % corners.length;
		const isCarried = (index: number): boolean => index === next || (corners.length > 3 && index === afterNext);
		return corners.map((corner, index) => (isCarried(index) ? plus(corner, shift) : corner));
	});
}
