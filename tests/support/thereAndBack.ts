import type { Point } from "@oxturn/geometry";
import type { Way } from "./waysOf.ts";

/**
 * From a manifold to the middle of the last door on a loop's way, from door to door, and back again, mm. `shortest` is
 * asked once for every two places.
 */
export function thereAndBack(shortest: (from: Point, to: Point) => number): (way: Way, manifold: Point) => number {
	const known = new Map<string, number>();
	return ({ passes }, manifold) => {
		const doors = passes
			.slice(0, passes.length / 2)
			.map(({ out, into }): Point => [(out[0] + into[0]) / 2, (out[1] + into[1]) / 2]);
		let [length, at] = [0, manifold];
		for (const door of doors) {
			const key = `${at} ${door}`;
			const way = known.get(key) ?? shortest(at, door);
			known.set(key, way);
			length += way;
			at = door;
		}
		return 2 * length;
	};
}
