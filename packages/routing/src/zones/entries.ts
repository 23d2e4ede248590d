import { boundingBox, distance, nearestOnRing, type Point, type Region, regionContains } from "@oxturn/geometry";
import { sum } from "../sum.ts";
import type { Way } from "../tails/tracks.ts";

/** Where a zone first comes to the wall, going one way from the manifold. */
export interface Entry {
	readonly way: Way;
	/** Along the wall from the manifold, mm. */
	readonly along: number;
	/** Just off the wall. */
	readonly point: Point;
}

/** A zone and the way its tails take to it. */
export interface Assignment {
	readonly cell: number;
	readonly entry: Entry;
}

const SAMPLE = 40;
/** A zone must follow the wall for so many steps before its tails can enter it. */
const FRONT_STEPS = 6;
const OFF_WALL = 4;
const MOST_ORDERS = 4;

/** Places just off the wall of a room, at even steps from its manifold on. */
export interface WallPlaces {
	/** All the way round, mm. */
	readonly total: number;
	/** `along` mm from the manifold. */
	readonly at: (way: Way, along: number) => Point;
	/** The one that is so many steps from the manifold. */
	readonly step: (way: Way, steps: number) => Point;
}

/** The same for every way of cutting the room, so each step is looked up once. */
export function wallPlaces(floor: Region, manifold: Point): WallPlaces {
	const ring = floor.outer;
	const foot = nearestOnRing(ring, manifold);
	const lengths = ring.map((p, i) => distance(p, ring[(i + 1) % ring.length]!));
	const total = sum(lengths);
	const start = sum(lengths.slice(0, foot.index)) + foot.t * lengths[foot.index]!;
	const at = (way: Way, along: number): Point => {
		const position = start + way * along;
		let rest = ((position % total) + total) % total;
		let i = 0;
		while (rest > lengths[i]! && i < ring.length - 1) rest -= lengths[i++]!;
		const a = ring[i]!;
		const b = ring[(i + 1) % ring.length]!;
		const length = lengths[i]! || 1;
		const t = rest / length;
		return [
			a[0] + (b[0] - a[0]) * t - ((b[1] - a[1]) / length) * OFF_WALL,
			a[1] + (b[1] - a[1]) * t + ((b[0] - a[0]) / length) * OFF_WALL,
		];
	};
	const [onLeft, onRight]: [Point[], Point[]] = [[], []];
	const step = (way: Way, steps: number): Point => {
		const known = way === 1 ? onRight : onLeft;
		known[steps] ??= at(way, SAMPLE * steps);
		return known[steps];
	};
	return { total, at, step };
}

function entryOf(cell: Region, way: Way, wall: WallPlaces): Entry | undefined {
	const [minX, minY, maxX, maxY] = boundingBox(cell.outer);
	const isWithin = (steps: number): boolean => {
		if (steps < 0 || SAMPLE * steps >= wall.total) return false;
		const p = wall.step(way, steps);
		return p[0] >= minX && p[0] <= maxX && p[1] >= minY && p[1] <= maxY && regionContains(cell, p);
	};
	// No front is missed by looking at every so many steps only.
	for (let steps = 0; SAMPLE * steps < wall.total; steps += FRONT_STEPS) {
		if (!isWithin(steps)) continue;
		let first = steps;
		while (isWithin(first - 1)) first--;
		while (steps - first + 1 < FRONT_STEPS && isWithin(steps + 1)) steps++;
		if (steps - first + 1 < FRONT_STEPS) continue;
		const along = SAMPLE * first;
		return { way, along, point: wall.at(way, along) };
	}
	return undefined;
}

/** Zones going left, the farthest first, then zones going right, the nearest first. */
function inOrder(assigned: readonly Assignment[]): Assignment[] {
	const left = assigned.filter((a) => a.entry.way === -1).sort((a, b) => b.entry.along - a.entry.along);
	const right = assigned.filter((a) => a.entry.way === 1).sort((a, b) => a.entry.along - b.entry.along);
	return [...left, ...right];
}

/**
 * Zones in the order of their ports, from the leftmost as the pipes leave the wall to the rightmost: tails that go
 * the same way pass the nearer zones in front of the wall, so the farthest zone hangs outermost. The order with the
 * shortest tails comes first, then those that part the zones elsewhere. Empty when a zone does not reach the wall.
 */
export function zoneOrders(cells: readonly Region[], wall: WallPlaces): Assignment[][] {
	const entries = cells.map((cell) => [entryOf(cell, 1, wall), entryOf(cell, -1, wall)] as const);
	const assigned: Assignment[] = [];
	for (const [cell, [right, left]] of entries.entries()) {
		if (!right || !left) return [];
		assigned.push({ cell, entry: right.along <= left.along ? right : left });
	}
	const shortest = inOrder(assigned);
	if (cells.length < 2) return [shortest];
	// Every way of parting them: so many go right, in the order in which they come to the wall there, the rest go left.
	const total = (order: readonly Assignment[]): number => sum(order.map(({ entry }) => entry.along));
	const rightwards = entries
		.map(([right, left], cell) => ({ cell, right: right!, left: left! }))
		.sort((a, b) => a.right.along - b.right.along);
	const parted = [...rightwards, undefined].map((_, goRight) =>
		inOrder(rightwards.map(({ cell, right, left }, k) => ({ cell, entry: k < goRight ? right : left }))),
	);
	const same = (a: readonly Assignment[], b: readonly Assignment[]): boolean =>
		a.every(({ cell, entry }, i) => cell === b[i]!.cell && entry.way === b[i]!.entry.way);
	const others = parted.filter((order) => !same(order, shortest)).sort((a, b) => total(a) - total(b));
	return [shortest, ...others.slice(0, MOST_ORDERS - 1)];
}
