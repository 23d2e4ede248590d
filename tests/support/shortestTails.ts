import type { Floor } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import { floorLocator } from "./floorLocator.ts";
import { thereAndBack } from "./thereAndBack.ts";
import type { Way } from "./waysOf.ts";

/** A line of sight is looked at every so many mm. */
const STEP = 50;

const distance = ([ax, ay]: Point, [bx, by]: Point): number => Math.hypot(bx - ax, by - ay);

/**
 * How short the tails of a loop could be at best, mm: from the manifold to the last door on its way and back, from door
 * to door, round the corners of rooms, doorways and keep-outs, without thickness or bends.
 */
export function shortestTails(floor: Floor): (way: Way, manifold: Point) => number {
	const { isFloor } = floorLocator(floor);
	const corners = [
		...floor.rooms.flatMap(({ region }) => [region.outer, ...region.holes]),
		...[...floor.doorways, ...floor.keepouts].map(({ region }) => region.outer),
	].flat();

	const sees = (a: Point, b: Point): boolean => {
		const steps = Math.ceil(distance(a, b) / STEP);
		return Array.from({ length: steps + 1 }, (_, i) => i / Math.max(1, steps)).every((t) =>
			isFloor([a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])], 0),
		);
	};

	const shortest = (from: Point, to: Point): number => {
		if (sees(from, to)) return distance(from, to);
		const best = new Map<Point, number>([[from, 0]]);
		const open = new Set<Point>([from, to, ...corners]);
		for (;;) {
			const next = [...open].filter((place) => best.has(place)).sort((a, b) => best.get(a)! - best.get(b)!)[0];
			if (!next) return Infinity;
			if (next === to) return best.get(to)!;
			open.delete(next);
			for (const place of open) {
				const length = best.get(next)! + distance(next, place);
				if (length < (best.get(place) ?? Infinity) && sees(next, place)) best.set(place, length);
			}
		}
	};

	return thereAndBack(shortest);
}
