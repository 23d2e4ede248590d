import type { Manifold } from "@oxturn/floor";
import { direction, intersect, leftOf, type Point, type Region, scale } from "@oxturn/geometry";
import { stripBeside } from "../tails/lanes.ts";
import { adoptScraps } from "../zones/partition.ts";
import type { Space } from "./spaces.ts";
import { rootOf } from "./territories.ts";

/** Farther than any floor, mm. */
const FAR = 1e6;

/** All that lies nearer to one place than to another. */
function nearerTo(here: Point, there: Point): Region {
	const middle = scale([here[0] + there[0], here[1] + there[1]], 0.5);
	return stripBeside({ at: middle, axis: leftOf(direction(here, there)), bends: [] }, "left", FAR, FAR, FAR);
}

/**
 * Divides a space in which several manifolds hang between them, each to have the floor nearest to it. A space that
 * cannot be divided into one piece each stays whole.
 */
export function shareSpaces(spaces: readonly Space[], manifolds: readonly Manifold[]): Space[] {
	const roots = manifolds.map((manifold) => rootOf(manifold, spaces));
	return spaces.flatMap((space, index) => {
		const places = manifolds.filter((_, i) => roots[i] === index).map(({ position }) => position);
		if (places.length < 2) return [space];
		const cells = places.map((here) =>
			places
				.filter((there) => there !== here)
				.reduce<Region[]>((cell, there) => intersect(cell, [nearerTo(here, there)]), [space.region]),
		);
		return adoptScraps(cells)?.map((region) => ({ room: space.room, region })) ?? [space];
	});
}
