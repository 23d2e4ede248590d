import { offset, type Region, simplifyRing, union } from "@oxturn/geometry";
import { cornerCount } from "./cornerCount.ts";

/** Takes steps and arcs of at most `tolerance` mm out of a rim without ever leaving the floor; a rim without any stays. */
export function smooth(floor: readonly Region[], tolerance: number): readonly Region[] {
	const simplified = (regions: readonly Region[]): Region[] =>
		regions.map(({ outer, holes }) => ({
			outer: simplifyRing(outer, tolerance),
			holes: holes.map((hole) => simplifyRing(hole, tolerance)),
		}));
	if (cornerCount(simplified(floor)) === cornerCount(floor)) return floor;
	return union(simplified(offset(floor, -tolerance)));
}
