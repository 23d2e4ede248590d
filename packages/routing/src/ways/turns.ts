import {
	direction,
	dot,
	leftOf,
	nearestOnRing,
	type Point,
	type Region,
	ringsOf,
	scale,
	segmentsCross,
	subtract,
} from "@oxturn/geometry";
import { beside } from "./lanes.ts";
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
	/** Straight on through a door that lies opposite. */
	readonly ahead: readonly number[];
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
const FAR = 1e6;

function perimeterPlace(region: Region, p: Point): number {
	const ring = region.outer;
	const { index, t } = nearestOnRing(ring, p);
	let along = 0;
	for (let i = 0; i < index; i++) along += Math.hypot(ring[i + 1]![0] - ring[i]![0], ring[i + 1]![1] - ring[i]![1]);
	const a = ring[index]!;
	const b = ring[(index + 1) % ring.length]!;
	return along + t * Math.hypot(b[0] - a[0], b[1] - a[1]);
}

function perimeter(region: Region): number {
	return region.outer.reduce((sum, a, i) => {
		const b = region.outer[(i + 1) % region.outer.length]!;
		return sum + Math.hypot(b[0] - a[0], b[1] - a[1]);
	}, 0);
}

/** How far ahead of `at` the floor goes on, mm. */
export function depthAhead(space: Region, at: Point, axis: Point): number {
	// A hair inside, so that the entrance's own wall is not met.
	const from = beside(at, axis, 20, 0);
	const to = beside(at, axis, FAR, 0);
	let nearest = FAR;
	for (const ring of ringsOf(space))
		for (let i = 0; i < ring.length; i++) {
			const a = ring[i]!;
			const b = ring[(i + 1) % ring.length]!;
			if (!segmentsCross(from, to, a, b)) continue;
			const across = leftOf(direction(a, b));
			const depth = dot(subtract(a, from), across) / dot(axis, across);
			if (depth > 0 && depth < nearest) nearest = depth;
		}
	return nearest + 20;
}

/** Every order of turns that keeps the tails from crossing, the cheapest first. */
export function turnsOf(options: TurnsOptions): Turns[] {
	const { space, at, axis, doors } = options;
	const total = perimeter(space);
	const start = perimeterPlace(space, at);
	/** Distances along the wall on the left. The ring runs anticlockwise, so that way is backwards. */
	const leftTo = (p: Point): number => (start - perimeterPlace(space, p) + 2 * total) % total;
	const placed = doors
		.map((door, index) => ({ ...door, index, along: leftTo(door.passage.middle) }))
		.sort((a, b) => a.along - b.along || a.index - b.index);
	const depth = depthAhead(space, at, axis);
	const opposite = leftTo(beside(at, axis, depth, 0));
	const found: Turns[] = [];
	const n = placed.length;
	const straight = placed.findIndex(
		({ passage }) =>
			dot(passage.axis, axis) > STRAIGHT_ON && dot(subtract(passage.middle, at), axis) > 0 && passage.middle !== at,
	);
	for (const ahead of straight >= 0 ? [straight, -1] : [-1])
		for (let i = 0; i <= n; i++)
			for (let j = i; j <= n; j++) {
				if (ahead >= 0 && (ahead < i || ahead >= j)) continue;
				const middle = placed.slice(i, j);
				const turn = ahead >= 0 ? placed[ahead]!.along : opposite;
				const farLeft = middle.filter((door, k) => (ahead >= 0 ? k + i < ahead : door.along <= opposite));
				const farRight = middle.filter((door, k) => (ahead >= 0 ? k + i > ahead : door.along > opposite));
				const pipeLength =
					placed.slice(0, i).reduce((sum, door) => sum + door.pipes * door.along, 0) +
					placed.slice(j).reduce((sum, door) => sum + door.pipes * (total - door.along), 0) +
					[...farLeft, ...farRight].reduce((sum, door) => sum + door.pipes * (depth + Math.abs(turn - door.along)), 0) +
					(ahead >= 0 ? placed[ahead]!.pipes * depth : 0);
				const cut = middle.length > 0 ? options.splitPrice : 0;
				const indices = (list: readonly { index: number }[]): number[] => list.map(({ index }) => index);
				found.push({
					left: indices(placed.slice(0, i)),
					farLeft: indices(farLeft),
					ahead: ahead >= 0 ? [placed[ahead]!.index] : [],
					farRight: indices(farRight),
					right: indices(placed.slice(j)),
					cost: pipeLength / 1000 + cut,
				});
			}
	return found.sort((a, b) => a.cost - b.cost);
}

/** Doors from left to right, as their pipes come in. */
export const inOrder = (turns: Turns): number[] => [
	...turns.left,
	...turns.farLeft,
	...turns.ahead,
	...turns.farRight,
	...turns.right,
];

/** Unit vector to the right of another. */
export const rightOf = (axis: Point): Point => scale(leftOf(axis), -1);
