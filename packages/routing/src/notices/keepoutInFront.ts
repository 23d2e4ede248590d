import type { Floor, Keepout, Manifold, Room, System } from "@oxturn/floor";
import { type Point, radians } from "@oxturn/geometry";
import { AHEAD, AT_WALL, awayFrom, depthIn } from "../ways/spaces.ts";

/** Pipes need so much floor in front of their ports to turn to either side, in bend radii. */
const TO_TURN = 2;
/** Places in front of a manifold are looked at so far apart, mm. */
const STEP = 10;

/** A keep-out that stands in the way of a manifold's pipes. */
export interface KeepoutInTheWay {
	readonly manifold: Manifold;
	readonly keepout: Keepout;
}

/** The keep-out that stands in front of a manifold, nearer than its pipes can turn; undefined where there is none. */
function keepoutBefore(
	{ position, facing }: Manifold,
	keepouts: readonly Keepout[],
	{ pipe }: System,
): Keepout | undefined {
	const angle = radians(facing);
	for (let along = 0; along <= Math.max(AHEAD, TO_TURN * pipe.minBendRadius); along += STEP) {
		const place: Point = [position[0] + along * Math.cos(angle), position[1] + along * Math.sin(angle)];
		const found = keepouts.find(({ region }) => depthIn(region, place) > 0);
		if (found) return found;
	}
	return undefined;
}

/**
 * The first manifold at a room's walls whose pipes a keep-out bars, and that keep-out; undefined where pipes can leave
 * every one.
 */
export function keepoutInFront({ manifolds, keepouts, system }: Floor, room: Room): KeepoutInTheWay | undefined {
	for (const manifold of manifolds) {
		if (awayFrom(room.region, manifold.position) > AT_WALL) continue;
		const keepout = keepoutBefore(manifold, keepouts, system);
		if (keepout) return { manifold, keepout };
	}
	return undefined;
}
