import type { Room } from "@oxturn/floor";
import { distance, type Point, regionArea } from "@oxturn/geometry";
import { capacity, type Passage } from "./passages.ts";
import { loopsFor } from "./routeSpace.ts";
import type { Space } from "./spaces.ts";
import { allBranches, type Branch } from "./tree.ts";

/** The rooms that hang on a neighbour's loop: by the neighbour's space, the passages by which its loop goes on to them. */
export type SharedRooms = ReadonlyMap<number, readonly Passage[]>;

export interface SharedRoomsOptions {
	readonly tree: Branch;
	readonly spaces: readonly Space[];
	readonly passages: readonly Passage[];
	/** Loops that each space would have of its own. */
	readonly loops: readonly number[];
	/** Whether a loop may go on by a passage: false where that has been found to fail. */
	readonly isAllowed: (passage: Passage) => boolean;
	readonly patternOf: (room: Room) => string;
	readonly manifold: Point;
	/** m */
	readonly maxLoopLength: number;
	/** Centre to centre, mm. */
	readonly tailSpacing: number;
	/** From a jamb to the nearest centreline, mm. */
	readonly margin: number;
}

/** Whether one loop may heat both rooms: both let it, and it would be laid alike in either. */
function agree(a: Room, b: Room, patternOf: SharedRoomsOptions["patternOf"]): boolean {
	return (
		[a, b].every(({ heated, share }) => heated && share) &&
		a.spacing === b.spacing &&
		a.edgeDistance === b.edgeDistance &&
		patternOf(a) === patternOf(b)
	);
}

/**
 * Which rooms need no loop of their own, because a neighbour's can go on to them through a doorway. Only rooms behind
 * which no other tails lead on are given away, the smallest first, and rather to the room that their own tails would
 * come through. One loop has to do for all of them together.
 */
export function sharedRooms(options: SharedRoomsOptions): SharedRooms {
	const { spaces, loops } = options;
	const area = (space: number): number => regionArea(spaces[space]!.region);
	const branches = allBranches(options.tree);
	const entrances = new Map(branches.map(({ space, passage }) => [space, passage?.middle ?? options.manifold]));
	const hosts = new Map<number, Passage[]>();
	const guests = new Set<number>();
	const fits = (through: Passage): boolean => {
		const { room } = spaces[through.from]!;
		const together = [through, ...(hosts.get(through.from) ?? [])].reduce(
			(sum, { to }) => sum + area(to),
			area(through.from),
		);
		// The least that its tails can take, there and back.
		const tails = 2 * distance(options.manifold, entrances.get(through.from)!);
		return loopsFor(together, room, tails, options.maxLoopLength) === 1;
	};
	const leaves = branches
		.filter(({ children, passage }) => children.length === 0 && passage)
		.sort((a, b) => area(a.space) - area(b.space) || a.space - b.space);
	for (const { space, passage: ownWay } of leaves) {
		if (loops[space] !== 1 || hosts.has(space)) continue;
		const ways = options.passages
			.filter(
				(through) =>
					through.to === space &&
					entrances.has(through.from) &&
					loops[through.from] === 1 &&
					!guests.has(through.from) &&
					options.isAllowed(through) &&
					agree(spaces[space]!.room, spaces[through.from]!.room, options.patternOf) &&
					capacity(through, options.tailSpacing, options.margin) >= 2 &&
					fits(through),
			)
			.sort((a, b) => Number(b === ownWay) - Number(a === ownWay) || area(a.from) - area(b.from) || a.from - b.from);
		const [through] = ways;
		if (!through) continue;
		hosts.set(through.from, [...(hosts.get(through.from) ?? []), through]);
		guests.add(space);
	}
	return hosts;
}
