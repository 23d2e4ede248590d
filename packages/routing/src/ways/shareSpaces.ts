import type { Manifold } from "@oxturn/floor";
import { direction, dot, intersect, leftOf, type Point, type Region, ringsOf, scale } from "@oxturn/geometry";
import { wallDirections } from "../field/wallDirections.ts";
import { FAR, stripBeside } from "../tails/lanes.ts";
import { adoptScraps } from "../zones/partition.ts";
import type { Passage } from "./passages.ts";
import type { Space } from "./spaces.ts";
import { sourcesOf } from "./territories.ts";

/** One side of a cut halfway between two places, square to the wall that leads most nearly from one to the other. */
function nearerTo(here: Point, there: Point, walls: readonly number[]): Region {
	const middle = scale([here[0] + there[0], here[1] + there[1]], 0.5);
	const straight = direction(here, there);
	const square = walls
		.flatMap((angle): Point[] =>
			[0, 0.5, 1, 1.5].map((turn) => [Math.cos(angle + turn * Math.PI), Math.sin(angle + turn * Math.PI)]),
		)
		.sort((a, b) => dot(b, straight) - dot(a, straight))[0];
	return stripBeside({ at: middle, axis: leftOf(square ?? straight), bends: [] }, "left", FAR, FAR, FAR);
}

/** Where the tails of each manifold come into a space on their way to what is nearest to that manifold, or hang in it. */
function entriesOf(spaces: readonly Space[], passages: readonly Passage[], manifolds: readonly Manifold[]): Point[][] {
	const entries: Point[][] = spaces.map(() => []);
	const sources = sourcesOf(manifolds, spaces, passages);
	for (const { ways } of sources) {
		const passed = new Set<number>();
		for (const [space, { length }] of ways) {
			if (!spaces[space]!.room.heated) continue;
			if (sources.some((other) => (other.ways.get(space)?.length ?? Infinity) < length)) continue;
			for (let at: number | undefined = space; at !== undefined; at = ways.get(at)?.from) passed.add(at);
		}
		for (const space of passed) entries[space]!.push(ways.get(space)!.at);
	}
	return entries;
}

/**
 * Divides a space through which tails of several manifolds have to go between them, each to have the floor nearest to
 * where its tails come in. A space that cannot be divided into one piece each stays whole, and so do those that are
 * `undivided`. Gives the pieces of every space.
 */
export function shareSpaces(
	spaces: readonly Space[],
	passages: readonly Passage[],
	manifolds: readonly Manifold[],
	undivided: ReadonlySet<number>,
): Space[][] {
	if (manifolds.length < 2) return spaces.map((space) => [space]);
	const entries = entriesOf(spaces, passages, manifolds);
	return spaces.map((space, index) => {
		const places = entries[index]!;
		if (places.length < 2 || undivided.has(index)) return [space];
		const walls = wallDirections(ringsOf(space.region), 1);
		const cells = places.map((here) =>
			places
				.filter((there) => there !== here)
				.reduce<Region[]>((cell, there) => intersect(cell, [nearerTo(here, there, walls)]), [space.region]),
		);
		return adoptScraps(cells)?.map((region) => ({ room: space.room, region })) ?? [space];
	});
}
