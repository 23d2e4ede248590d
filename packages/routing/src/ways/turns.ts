import { dot, type Point, type Region, subtract } from "@oxturn/geometry";
import { beside, rightOf } from "../tails/lanes.ts";
import { positionOf, trackOf } from "../tails/tracks.ts";
import { depthAhead } from "./depthAhead.ts";
import type { Passage } from "./passages.ts";

/** Where a door of a room lies for who comes in. */
export interface Door {
	readonly passage: Passage;
	/** Pipes that go through it. */
	readonly pipes: number;
}

/** The doors of a room in the order of the wall, by the way that the tails to them take, from left to right. */
export interface Turns {
	/** Indices of doors reached along the wall on the left, nearest first. */
	readonly left: readonly number[];
	/** Reached across the room and along the far wall to the left; the farthest from the crossing first. */
	readonly farLeft: readonly number[];
	/** Without following a wall: through a door that lies opposite, or with one turn through doors to the side. */
	readonly direct: readonly number[];
	/** The same to the right, nearest to the crossing first. */
	readonly farRight: readonly number[];
	readonly right: readonly number[];
	/** Metres of pipe at a guess, and a price for what the crossing cuts in two. */
	readonly cost: number;
}

export interface TurnsOptions {
	readonly space: Region;
	/** In the middle of the pipes that come in, and the way they go. */
	readonly at: Point;
	readonly axis: Point;
	readonly doors: readonly Door[];
	/** What it costs to cut the room in two, m. */
	readonly splitPrice: number;
}

/** Doors whose way through differs from the entrance's by less than this lie straight on, as a cosine. */
const STRAIGHT_ON = 0.996;
/** Straight on is no farther to the side than this, from the middle of the pipes to the nearest jamb, mm. */
const MOST_ASIDE = 250;
/** Doors that are square to the entrance but for this, as a cosine, take one turn. */
const SQUARE = 0.2;

interface Placed extends Door {
	readonly index: number;
	/** Along the wall on the left, mm. */
	readonly along: number;
}

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

const isInView = (passage: Passage, at: Point, axis: Point): boolean =>
	isStraightOn(passage, at, axis) || sideOf(passage, at, axis) !== undefined;

const manhattan = (p: Point, at: Point, axis: Point): number =>
	Math.abs(dot(subtract(p, at), axis)) + Math.abs(dot(subtract(p, at), rightOf(axis)));

/** Every order of turns that keeps the tails from crossing, the cheapest first. */
export function turnsOf(options: TurnsOptions): Turns[] {
	const { space, at, axis, doors } = options;
	const rim = trackOf(space.outer);
	const total = rim.length;
	const start = positionOf(rim, at);
	/** Distances along the wall on the left. The ring runs anticlockwise, so that way is backwards. */
	const leftTo = (p: Point): number => (start - positionOf(rim, p) + 2 * total) % total;
	const placed = doors
		.map((door, index): Placed => ({ ...door, index, along: leftTo(door.passage.middle) }))
		.sort((a, b) => a.along - b.along || a.index - b.index);
	const depth = depthAhead(space, at, axis);
	const opposite = leftTo(beside(at, axis, depth, 0));
	const found: Turns[] = [];
	const n = placed.length;
	const walk = (list: readonly Placed[], along: (door: Placed) => number): number =>
		list.reduce((sum, door) => sum + door.pipes * along(door), 0);
	const push = (i: number, j: number, farLeft: Placed[], direct: Placed[], farRight: Placed[], turn: number): void => {
		const pipeLength =
			walk(placed.slice(0, i), ({ along }) => along) +
			walk(placed.slice(j), ({ along }) => total - along) +
			walk([...farLeft, ...farRight], ({ along }) => depth + Math.abs(turn - along)) +
			walk(direct, ({ passage }) => manhattan(passage.middle, at, axis));
		const indices = (list: readonly Placed[]): number[] => list.map(({ index }) => index);
		found.push({
			left: indices(placed.slice(0, i)),
			farLeft: indices(farLeft),
			direct: indices(direct),
			farRight: indices(farRight),
			right: indices(placed.slice(j)),
			cost: pipeLength / 1000 + (i < j ? options.splitPrice : 0),
		});
	};
	for (let i = 0; i <= n; i++)
		for (let j = i; j <= n; j++) {
			const middle = placed.slice(i, j);
			push(
				i,
				j,
				middle.filter(({ along }) => along <= opposite),
				[],
				middle.filter(({ along }) => along > opposite),
				opposite,
			);
			if (i < j && middle.every(({ passage }) => isInView(passage, at, axis))) push(i, j, [], middle, [], 0);
			for (const [k, door] of middle.entries())
				if (j - i > 1 && isStraightOn(door.passage, at, axis))
					push(i, j, middle.slice(0, k), [door], middle.slice(k + 1), door.along);
		}
	return found.sort((a, b) => a.cost - b.cost);
}

/** Doors from left to right, as their pipes come in. */
export const inOrder = (turns: Turns): number[] => [
	...turns.left,
	...turns.farLeft,
	...turns.direct,
	...turns.farRight,
	...turns.right,
];
