import { distance, type Point, regionArea } from "@oxturn/geometry";
import { capacity, type Passage } from "./passages.ts";
import type { Space } from "./spaces.ts";

/** A space, the passage by which its tails come in, and the spaces that are reached through it. */
export interface Branch {
	readonly space: number;
	/** Undefined at the manifold. */
	readonly passage: Passage | undefined;
	readonly children: readonly Branch[];
}

export interface TreeOptions {
	readonly spaces: readonly Space[];
	readonly passages: readonly Passage[];
	readonly root: number;
	readonly manifold: Point;
	/** Loops that each space has of its own. */
	readonly loops: readonly number[];
	/** Centre to centre, mm. */
	readonly tailSpacing: number;
	/** From a jamb to the nearest centreline, mm. */
	readonly margin: number;
}

/** What a doorway costs beside its length, mm: every one has to be threaded through. */
const DOORWAY = 600;
/** What a crowded doorway costs, for each pipe more than fits, mm. */
const CROWDED = 3000;
const ROUNDS = 6;
/** Tails through a heated room of this size take less of it than of a small one, mm2. */
const SMALL = 6e6;
const THROUGH_SMALL = 2500;

interface Step {
	readonly cost: number;
	readonly passage: Passage | undefined;
	readonly at: Point;
}

/** Shortest ways from the manifold to every space, with a price on each passage. */
function shortestWays(options: TreeOptions, price: ReadonlyMap<string, number>): Map<number, Step> {
	const known = new Map<number, Step>([[options.root, { cost: 0, passage: undefined, at: options.manifold }]]);
	const done = new Set<number>();
	for (;;) {
		const next = [...known]
			.filter(([space]) => !done.has(space))
			.sort((a, b) => a[1].cost - b[1].cost || a[0] - b[0])[0];
		if (!next) return known;
		const [space, step] = next;
		done.add(space);
		const { room, region } = options.spaces[space]!;
		const through = space !== options.root && room.heated && regionArea(region) < SMALL ? THROUGH_SMALL : 0;
		for (const passage of options.passages) {
			if (passage.from !== space) continue;
			const cost =
				step.cost + distance(step.at, passage.middle) + DOORWAY + through + (price.get(passage.doorway.id) ?? 0);
			if (cost < (known.get(passage.to)?.cost ?? Infinity))
				known.set(passage.to, { cost, passage, at: passage.middle });
		}
	}
}

function branchAt(space: number, ways: ReadonlyMap<number, Step>, wanted: ReadonlySet<number>): Branch {
	const children = [...ways]
		.filter(([to, { passage }]) => passage?.from === space && wanted.has(to))
		.map(([to]) => branchAt(to, ways, wanted));
	return { space, passage: ways.get(space)?.passage, children };
}

/** Loops of a branch and of all that is reached through it. */
export const loopsBeyond = (branch: Branch, loops: readonly number[]): number =>
	(loops[branch.space] ?? 0) + branch.children.reduce((sum, child) => sum + loopsBeyond(child, loops), 0);

export function allBranches(branch: Branch): Branch[] {
	return [branch, ...branch.children.flatMap(allBranches)];
}

/** The way to every space that has loops: short, through few doorways, none of them crowded where that can be helped. */
export function growTree(options: TreeOptions): Branch {
	const price = new Map<string, number>();
	let best: { branch: Branch; over: number } | undefined;
	for (let round = 0; round < ROUNDS; round++) {
		const ways = shortestWays(options, price);
		const wanted = new Set<number>();
		for (const [space, count] of options.loops.entries())
			for (
				let at: number | undefined = count > 0 ? space : undefined;
				at !== undefined;
				at = ways.get(at)?.passage?.from
			)
				wanted.add(at);
		const branch = branchAt(options.root, ways, wanted);
		let over = 0;
		for (const each of allBranches(branch)) {
			if (!each.passage) continue;
			const excess = 2 * loopsBeyond(each, options.loops) - capacity(each.passage, options.tailSpacing, options.margin);
			if (excess <= 0) continue;
			over += excess;
			const { id } = each.passage.doorway;
			price.set(id, (price.get(id) ?? 0) + CROWDED * excess);
		}
		if (!best || over < best.over) best = { branch, over };
		if (over === 0) break;
	}
	return best!.branch;
}
