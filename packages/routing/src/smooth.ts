import { cross, offset, type Region, ringsOf, simplifyRing, subtract, union } from "@oxturn/geometry";

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

/** Outlines with more corners than this may have been traced or measured, not drawn. */
const MANY_CORNERS = 80;
/** They have been where so few of the corners, as a share, tell how the walls run. */
const TELLING = 0.5;
/** So much of the floor along the walls is given up for fewer corners, mm. */
const UNEVEN = 2;

/** On traced walls at least this share of the corners turn the other way than the one before; on drawn curves none does. */
const TURNING_BACK = 0.2;

/** Share of the corners of a floor that turn the other way than the one before. */
function turningBack(floor: Region): number {
	let count = 0;
	for (const ring of ringsOf(floor)) {
		const turns = ring.map((at, i) => {
			const before = ring[(i + ring.length - 1) % ring.length]!;
			return Math.sign(cross(subtract(at, before), subtract(ring[(i + 1) % ring.length]!, at)));
		});
		count += turns.filter((turn, i) => turn !== turns[(i + ring.length - 1) % ring.length]).length;
	}
	return count / corners([floor]);
}

/** A floor with fewer corners where it has very many, nowhere outside of what it was. */
export function lessRough(floor: Region): Region {
	if (corners([floor]) <= MANY_CORNERS || turningBack(floor) < TURNING_BACK) return floor;
	const [lean, ...others] = smooth([floor], UNEVEN);
	const isRough = lean && others.length === 0 && corners([lean]) < TELLING * corners([floor]);
	return isRough ? lean : floor;
}
