import type { Floor, Manifold } from "@oxturn/floor";
import { degrees, direction, distance, pointSegmentDistance2, type Region, ringsOf } from "@oxturn/geometry";
import { asDrawn } from "./asDrawn.ts";
import { AT_WALL } from "./ways/spaces.ts";

/** A facing that is farther from square than this is meant, degrees: it may be square to something that is not drawn. */
const MOST_OFF = 60;
/** One that is farther off than this is told of, degrees. */
const MOST_UNTOLD = 12;
/** What is nearer to square needs no change, degrees. */
const LEAST_OFF = 0.2;
/** Shorter sides do not tell how a wall runs, mm. */
const SHORT = 20;

/** Degrees between two facings. */
const between = (a: number, b: number): number => Math.abs(((((a - b) % 360) + 540) % 360) - 180);

/** The way into a room from the wall that a manifold hangs on, degrees: of walls near it, the one that its facing is nearest to. */
function fromWall(walls: readonly Region[], { position, facing }: Manifold): number | undefined {
	let square: number | undefined;
	for (const ring of walls.flatMap(ringsOf))
		for (const [i, a] of ring.entries()) {
			const b = ring[(i + 1) % ring.length]!;
			if (distance(a, b) < SHORT || pointSegmentDistance2(position, a, b) >= AT_WALL ** 2) continue;
			const [x, y] = direction(a, b);
			const inward = degrees(Math.atan2(x, -y));
			if (square === undefined || between(inward, facing) < between(square, facing)) square = inward;
		}
	return square;
}

/** A floor whose manifolds are square to their walls, and which of them were far off, as they are now and as they were given. */
export interface Squared {
	readonly floor: Floor;
	readonly turned: readonly { readonly manifold: Manifold; readonly given: number }[];
}

/** A manifold square to its wall, unless its facing is meant. */
function squared(walls: readonly Region[], manifold: Manifold): Manifold {
	const square = fromWall(walls, manifold) ?? manifold.facing;
	const off = between(square, manifold.facing);
	return off > LEAST_OFF && off < MOST_OFF ? { ...manifold, facing: square } : manifold;
}

/**
 * The floor with manifolds square to the walls that they hang on, where their facing is not: their ports hang along the
 * wall, and half of them would lie in it.
 */
export function squareToWalls(floor: Floor): Squared {
	if (floor.manifolds.length === 0) return { floor, turned: [] };
	const walls = floor.rooms.map(({ region }) => asDrawn(region));
	const manifolds = floor.manifolds.map((manifold) => squared(walls, manifold));
	const asGiven = manifolds.map((manifold, i) => ({ manifold, given: floor.manifolds[i]!.facing }));
	const turned = asGiven.filter(({ manifold, given }) => between(manifold.facing, given) >= MOST_UNTOLD);
	return { floor: { ...floor, manifolds }, turned };
}
