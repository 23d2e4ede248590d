import { offset, type Region, ringsOf, simplifyRing, union } from "@oxturn/geometry";

const corners = (regions: readonly Region[]): number =>
	regions.flatMap((region) => ringsOf(region)).reduce((sum, ring) => sum + ring.length, 0);

/** Takes small steps and arcs out of a rim without ever leaving the floor, mm; a rim without any stays as it is. */
export function smooth(floor: readonly Region[], tolerance: number): readonly Region[] {
	const simplified = (regions: readonly Region[]): Region[] =>
		regions.map(({ outer, holes }) => ({
			outer: simplifyRing(outer, tolerance),
			holes: holes.map((hole) => simplifyRing(hole, tolerance)),
		}));
	if (corners(simplified(floor)) === corners(floor)) return floor;
	return union(simplified(offset(floor, -tolerance)));
}

/** Outlines with more corners than this were traced or measured, not drawn. */
const MANY_CORNERS = 250;
/** So much of the floor along the walls is given up for fewer corners, mm. */
const UNEVEN = 2;

/** A floor with fewer corners where it has very many, nowhere outside of what it was. */
export function lessRough(floor: Region): Region {
	if (corners([floor]) <= MANY_CORNERS) return floor;
	const [lean, ...others] = smooth([floor], UNEVEN);
	return lean && others.length === 0 ? lean : floor;
}
