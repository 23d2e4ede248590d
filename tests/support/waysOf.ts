import type { Floor, Layout } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import { samplesOf } from "./checkLayout.ts";
import { floorLocator } from "./floorLocator.ts";

/** A pipe's way through a doorway, from one room into another; the doorway is undefined where it goes through a wall. */
export interface Pass {
	readonly doorway: string | undefined;
	readonly from: string;
	readonly to: string;
	/** Where it leaves the one and enters the other. */
	readonly out: Point;
	readonly into: Point;
}

/** What a loop's pipe goes through, from its flow port to its return port. */
export interface Way {
	readonly loop: string;
	/** The room in front of its ports. */
	readonly start: string | undefined;
	readonly passes: readonly Pass[];
	/** mm of pipe in each room, by its id. */
	readonly pipe: ReadonlyMap<string, number>;
}

/** The way of every loop, found by looking where its pipe is, every 10 mm. */
export function waysOf(floor: Floor, layout: Layout): Way[] {
	const { partAt } = floorLocator(floor);
	const doorways = new Set(floor.doorways.map(({ id }) => id));
	return layout.features.map(({ id, geometry }, i): Way => {
		const passes: Pass[] = [];
		const pipe = new Map<string, number>();
		let [room, doorway, start]: (string | undefined)[] = [];
		let out: Point = geometry.coordinates[0]!;
		let before = 0;
		for (const { at, along } of samplesOf(geometry.coordinates, i)) {
			const part = partAt(at);
			const stretch = along - before;
			before = along;
			if (part === undefined) continue;
			if (doorways.has(part)) {
				doorway = part;
				continue;
			}
			start ??= part;
			pipe.set(part, (pipe.get(part) ?? 0) + stretch);
			if (room !== undefined && part !== room) passes.push({ doorway, from: room, to: part, out, into: at });
			room = part;
			out = at;
			doorway = undefined;
		}
		return { loop: id, start, passes, pipe };
	});
}

/** mm of pipe that a loop spends outside the rooms that it heats. */
export const tailsOf = (way: Way, rooms: readonly string[]): number =>
	[...way.pipe].filter(([room]) => !rooms.includes(room)).reduce((sum, [, length]) => sum + length, 0);

/** How many pipes pass each doorway, by its id. */
export function pipesThrough(ways: readonly Way[]): Map<string, number> {
	const counts = new Map<string, number>();
	for (const { passes } of ways)
		for (const { doorway } of passes) if (doorway !== undefined) counts.set(doorway, (counts.get(doorway) ?? 0) + 1);
	return counts;
}

/**
 * The loops that pass a doorway away from their manifold, a name for each pipe, from the right to the left of who goes
 * through: the order in which ports are numbered by who looks at the wall.
 */
export function orderThrough(ways: readonly Way[], doorway: string): string[] {
	const pipes = ways.flatMap(({ loop, passes }) => {
		const through = passes.filter((pass) => pass.doorway === doorway);
		const away = through[0];
		// the return comes back the other way
		return through.map(({ from, out, into }) => ({
			loop,
			away: away!,
			at: (from === away!.from ? out : into) as Point,
		}));
	});
	const first = pipes[0]?.away;
	if (!first) return [];
	const [dx, dy] = [first.into[0] - first.out[0], first.into[1] - first.out[1]];
	const right = ([x, y]: Point): number => x * dy - y * dx;
	return pipes.sort((a, b) => right(b.at) - right(a.at)).map(({ loop }) => loop);
}

/** Where a place lies along a manifold's wall, mm to the right of who looks at it from the room. */
export function rightOf({ position, facing }: { readonly position: Point; readonly facing: number }, [x, y]: Point) {
	const heading = (facing * Math.PI) / 180;
	return (y - position[1]) * Math.cos(heading) - (x - position[0]) * Math.sin(heading);
}
