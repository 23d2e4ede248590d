import { cross, type Region, ringsOf, subtract } from "@oxturn/geometry";
import { cornerCount } from "./cornerCount.ts";
import { smooth } from "./smooth.ts";

/** Outlines with more corners than this may have been traced or measured, not drawn. */
const MANY_CORNERS = 80;
/** On traced walls at least this share of the corners turn the other way than the one before; on drawn curves none does. */
const TURNING_BACK = 0.2;
/** So much of the floor along the walls is given up for fewer corners, mm. */
const UNEVEN = 2;
/** An outline was traced where no more than this share of its corners is needed to tell how the walls run. */
const TELLING = 0.5;

/**
 * A traced or measured outline as it might have been drawn: with few corners, and nowhere outside of what it was, so that
 * pipes follow the walls and not the points. A drawn one stays as it is.
 */
export function asDrawn(floor: Region): Region {
	if (cornerCount([floor]) <= MANY_CORNERS || turningBack(floor) < TURNING_BACK) return floor;
	const [lean, ...others] = smooth([floor], UNEVEN);
	const wasTraced = lean && others.length === 0 && cornerCount([lean]) < TELLING * cornerCount([floor]);
	return wasTraced ? lean : floor;
}

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
	return count / cornerCount([floor]);
}
