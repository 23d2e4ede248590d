import type { Manifold } from "@oxturn/floor";
import { distance, type Point, radians } from "@oxturn/geometry";
import { sum } from "../sum.ts";
import type { Passage } from "./passages.ts";
import { AHEAD, AT_WALL, awayFrom, type Space } from "./spaces.ts";

/** What one manifold serves. */
export interface Territory {
	readonly manifold: Manifold;
	/** The space that it hangs in. */
	readonly root: number;
	/** What its tails reach, with that space. */
	readonly spaces: ReadonlySet<number>;
	/** Whether it has ports for the space that it hangs in: loops of a small one may be all that it takes. */
	readonly servesRoot: boolean;
}

/** The space that a manifold's pipes leave into; undefined where it hangs in none. */
export function rootOf(manifold: Manifold, spaces: readonly Space[]): number | undefined {
	const angle = radians(manifold.facing);
	const [x, y] = manifold.position;
	const ahead: Point = [x + AHEAD * Math.cos(angle), y + AHEAD * Math.sin(angle)];
	return spaces
		.map(({ region }, index) => ({
			index,
			inFront: awayFrom(region, ahead),
			away: awayFrom(region, manifold.position),
		}))
		.filter(({ inFront, away }) => inFront === 0 && away <= AT_WALL)
		.sort((a, b) => a.away - b.away || a.index - b.index)[0]?.index;
}

/** How a space is reached from a manifold. */
export interface Reached {
	/** mm, through doorways. */
	readonly length: number;
	/** Where its pipes come in. */
	readonly at: Point;
	/** The space before it; undefined for the one that the manifold hangs in. */
	readonly from: number | undefined;
}

/** The shortest ways from a place; spaces that no doorway leads to are left out. */
export function waysFrom(at: Point, root: number, passages: readonly Passage[]): Map<number, Reached> {
	const found = new Map<number, Reached>([[root, { length: 0, at, from: undefined }]]);
	const done = new Set<number>();
	for (;;) {
		const next = [...found]
			.filter(([space]) => !done.has(space))
			.sort((a, b) => a[1].length - b[1].length || a[0] - b[0])[0];
		if (!next) return found;
		const [space, reached] = next;
		done.add(space);
		for (const { from, to, middle } of passages) {
			const length = reached.length + distance(reached.at, middle);
			if (from === space && length < (found.get(to)?.length ?? Infinity)) found.set(to, { length, at: middle, from });
		}
	}
}

/** A manifold, the space that it hangs in and its ways to all others. */
export interface Source {
	readonly manifold: Manifold;
	readonly root: number;
	readonly ways: ReadonlyMap<number, Reached>;
}

/** Manifolds that hang in no space are left out. */
export const sourcesOf = (
	manifolds: readonly Manifold[],
	spaces: readonly Space[],
	passages: readonly Passage[],
): Source[] =>
	manifolds.flatMap((manifold) => {
		const root = rootOf(manifold, spaces);
		return root === undefined ? [] : [{ manifold, root, ways: waysFrom(manifold.position, root, passages) }];
	});

/**
 * Gives every space to the manifold from which it is reached with least pipe. `loops` tells how many each space needs;
 * a manifold with as many ports as are taken passes its farthest spaces on to the next that has some left.
 */
export function territoriesOf(
	manifolds: readonly Manifold[],
	spaces: readonly Space[],
	passages: readonly Passage[],
	loops: readonly number[],
): Territory[] {
	const sources = sourcesOf(manifolds, spaces, passages);
	const taken = sources.map(() => new Set<number>());
	const used = sources.map(() => 0);
	const choices = spaces
		.flatMap((_, space) =>
			sources.flatMap(({ ways }, source) => {
				const reached = ways.get(space);
				return reached ? [{ space, source, length: reached.length }] : [];
			}),
		)
		.sort((a, b) => a.length - b.length || a.space - b.space || a.source - b.source);
	const placed = new Set<number>();
	const hasPorts = (space: number, source: number): boolean =>
		used[source]! + loops[space]! <= (sources[source]!.manifold.ports ?? Infinity);
	for (const { space, source } of choices) {
		if (placed.has(space) || !hasPorts(space, source)) continue;
		used[source]! += loops[space]!;
		taken[source]!.add(space);
		placed.add(space);
	}
	const connected = sources.map(({ root }, i) => connectedTo(root, taken[i]!, passages));
	for (const [i, own] of connected.entries())
		used[i] = sum([...own].map((space) => (taken[i]!.has(space) ? loops[space]! : 0)));
	// What another territory cuts off from its manifold goes to whichever it can be reached from, as long as that has ports left.
	for (let hasMoved = true; hasMoved; ) {
		hasMoved = false;
		for (const { space, source } of choices) {
			if (!placed.has(space) || connected.some((own) => own.has(space)) || !hasPorts(space, source)) continue;
			const own = connected[source]!;
			if (!passages.some(({ from, to }) => to === space && own.has(from))) continue;
			own.add(space);
			used[source]! += loops[space]!;
			hasMoved = true;
		}
	}
	return sources.map(({ manifold, root }, i) => ({
		manifold,
		root,
		spaces: connected[i]!,
		servesRoot: taken[i]!.has(root),
	}));
}

/** Those of some spaces that can be reached from one of them without leaving them. */
function connectedTo(root: number, spaces: ReadonlySet<number>, passages: readonly Passage[]): Set<number> {
	const found = new Set([root]);
	for (const space of found) for (const { from, to } of passages) if (from === space && spaces.has(to)) found.add(to);
	return found;
}
