import type { Floor, Manifold } from "@oxturn/floor";
import { degrees, direction, distance, pointSegmentDistance2, type Region, ringsOf } from "@oxturn/geometry";
import { asDrawn } from "./asDrawn.ts";
import { AT_WALL } from "./ways/spaces.ts";

/** A facing that is farther from square than this is meant, degrees. */
const MOST_OFF = 12;
/** What is nearer to square needs no change, degrees. */
const LEAST_OFF = 0.2;
/** Shorter sides do not tell how a wall runs, mm. */
const SHORT = 20;

/** The way into a room from the wall at a place, degrees; undefined where no wall is near. */
function fromWall(walls: readonly Region[], { position }: Manifold): number | undefined {
	let nearest = AT_WALL ** 2;
	let facing: number | undefined;
	for (const ring of walls.flatMap(ringsOf))
		for (const [i, a] of ring.entries()) {
			const b = ring[(i + 1) % ring.length]!;
			if (distance(a, b) < SHORT) continue;
			const away = pointSegmentDistance2(position, a, b);
			if (away >= nearest) continue;
			nearest = away;
			const [x, y] = direction(a, b);
			facing = degrees(Math.atan2(x, -y));
		}
	return facing;
}

/**
 * The floor with manifolds square to the walls that they hang on, where their facing is a few degrees off: their ports
 * hang along the wall, and half of them would lie in it.
 */
export function squareToWalls(floor: Floor): Floor {
	if (floor.manifolds.length === 0) return floor;
	const walls = floor.rooms.map(({ region }) => asDrawn(region));
	const manifolds = floor.manifolds.map((manifold) => {
		const square = fromWall(walls, manifold) ?? manifold.facing;
		const off = Math.abs(((((square - manifold.facing) % 360) + 540) % 360) - 180);
		return off > LEAST_OFF && off < MOST_OFF ? { ...manifold, facing: square } : manifold;
	});
	return { ...floor, manifolds };
}
