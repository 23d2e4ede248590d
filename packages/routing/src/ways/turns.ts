import { dot, type Point, subtract } from "@oxturn/geometry";
import { rightOf } from "../tails/lanes.ts";
import type { Passage } from "./passages.ts";
import type { ShortCut } from "./shortCuts.ts";

/** Where a door of a room lies for who comes in. */
export interface Door {
	readonly passage: Passage;
	/** Pipes that go through it. */
	readonly pipes: number;
}

/**
 * The way that tails take to doors: along the wall on a side; along it up to opposite the door and straight over to it;
 * along it up to a short cut, by that over the room and on along the wall there, or back along it; across the room first
 * and then back along the far wall; or without following a wall, through a door that lies opposite, or with one turn
 * through doors to the side.
 */
export type Way =
	| "left"
	| "overLeft"
	| "backLeft"
	| "onLeft"
	| "farLeft"
	| "direct"
	| "farRight"
	| "onRight"
	| "backRight"
	| "overRight"
	| "right";

/** Doors to which tails take the same way. */
export interface Group {
	readonly way: Way;
	/** Indices in order of the wall from the left. */
	readonly doors: readonly number[];
	/** The line over the room that they take, where their way has one. */
	readonly shortCut?: ShortCut;
}

/** The doors of a room in the order of the wall, by the way that the tails to them take. */
export interface Turns {
	/** From left to right: the first goes left, the last goes right, and what is between them cuts the room. */
	readonly groups: readonly Group[];
	/** Metres of pipe at a guess, and a price for what the room is cut into. */
	readonly cost: number;
}

/** The ways that begin straight ahead: between them there is no floor for the room's own loops. */
export const isAhead = (way: Way): boolean => way === "farLeft" || way === "direct" || way === "farRight";

/** Whether tails of two ways, one right of the other, lie side by side up to where they part, with no floor between them. */
const areClose = (left: Way, right: Way): boolean =>
	(isAhead(left) && isAhead(right)) ||
	(left === "backLeft" && right === "onLeft") ||
	(left === "onRight" && right === "backRight");

/** Where a room's own loops come in: each slot lies before the group with this index. */
export const slotsOf = ({ groups }: Turns): number[] =>
	groups.flatMap(({ way }, i) => (i === 0 || areClose(groups[i - 1]!.way, way) ? [] : [i]));

/** Doors from left to right, as their pipes come in. */
export const inOrder = ({ groups }: Turns): number[] => groups.flatMap(({ doors }) => doors);

/** Doors whose way through differs from the entrance's by less than this lie straight on, as a cosine. */
const STRAIGHT_ON = 0.996;
/** Straight on is no farther to the side than this, from the middle of the pipes to the nearest jamb, mm. */
const MOST_ASIDE = 250;
/** Doors that are square to the entrance but for this, as a cosine, take one turn. */
const SQUARE = 0.2;

export function isStraightOn({ axis: out, middle, low, high }: Passage, at: Point, axis: Point): boolean {
	const offset = dot(subtract(at, middle), rightOf(axis));
	const aside = Math.max(low - offset, offset - high, 0);
	return dot(out, axis) > STRAIGHT_ON && dot(subtract(middle, at), axis) > 0 && aside < MOST_ASIDE;
}

/** The side that a door lies on, where one square turn leads to it; undefined where none does. */
export function sideOf({ axis: out, middle }: Passage, at: Point, axis: Point): "left" | "right" | undefined {
	if (Math.abs(dot(out, axis)) > SQUARE || dot(subtract(middle, at), axis) <= 0) return undefined;
	if (dot(subtract(middle, at), out) <= 0) return undefined;
	return dot(out, rightOf(axis)) > 0 ? "right" : "left";
}
