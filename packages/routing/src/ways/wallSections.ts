import { cross, type Point, subtract } from "@oxturn/geometry";
import type { Lane } from "../tails/lanes.ts";
import { ahead, positionOf, type Track, type Way } from "../tails/tracks.ts";
import { type Family, fromWall } from "./families.ts";

/** A stretch of wall that a tail follows at one distance. */
export interface WallSection {
	/** Position on the wall where it ends; undefined for the last, which ends at the tail's own door. */
	readonly until: number | undefined;
	/** From the wall to the centreline, mm. */
	readonly distance: number;
}

/** Pipes that leave a bundle for their door, those that lie nearest to the wall. */
export interface Peel {
	readonly pipes: number;
	/** Where the last of them turns off, and where those of the next door do, as positions on the wall. */
	readonly at: number;
	readonly next: number;
}

export interface WallSectionsOptions {
	readonly wall: Track;
	readonly way: Way;
	/** In order along the wall. */
	readonly peels: readonly Peel[];
	/** Pipes of the bundle between this one and the wall at the outset. */
	readonly rank: number;
	/** Centre to centre, mm. */
	readonly pitch: number;
	/** From the wall to the pipe nearest to it, mm. */
	readonly nearest: number;
	readonly minBendRadius: number;
	/** Where it comes to the wall and where it leaves that, as positions on it. */
	readonly start: number;
	readonly end: number;
	/** How much nearer to the wall it lies from the first corner on, mm. */
	readonly closer: number;
}

/** A bundle closes up to the wall only where it goes on for this long: straight runs are worth more than a strip of floor, mm. */
const GOES_ON = 1300;
/** A corner this near is the place to close up, mm. */
const CORNER_NEAR = 1600;

/** How far it is to a wall's next corner, and whether the room lies inside it. */
function nextCorner(
	{ ring, positions, length }: Track,
	from: number,
	way: Way,
): { readonly away: number; readonly isConvex: boolean } {
	let best = { away: length, isConvex: true };
	for (const [i, position] of positions.entries()) {
		const away = ahead({ ring, positions, length }, from, position, way);
		if (away >= best.away) continue;
		const at = (k: number): Point => ring[(k + ring.length) % ring.length]!;
		best = { away, isConvex: cross(subtract(at(i), at(i - 1)), subtract(at(i + 1), at(i))) > 0 };
	}
	return best;
}

/**
 * The stretches of wall that one pipe of a bundle follows. Where pipes have turned off into their doors, the others
 * close up to the wall, one after the other so that they keep apart, or all at a corner that comes soon.
 */
export function wallSections(options: WallSectionsOptions): WallSection[] {
	const { wall, way, pitch, minBendRadius } = options;
	const distanceOf = (rank: number): number => options.nearest + rank * pitch;
	const sections: WallSection[] = [];
	let rank = options.rank;
	let gone = 0;
	for (const { pipes, at, next } of options.peels) {
		gone += pipes;
		if (gone > options.rank) break;
		const goesOn = ahead(wall, at, next, way);
		const step = pitch * (1 + options.rank - gone) + minBendRadius;
		const corner = nextCorner(wall, at, way);
		const closes = goesOn > GOES_ON && (corner.isConvex || corner.away > step + 3 * minBendRadius);
		if (!closes) continue;
		const isCorner = corner.isConvex && corner.away < Math.min(CORNER_NEAR, goesOn);
		sections.push({ until: at + way * (isCorner ? corner.away : step), distance: distanceOf(rank) });
		rank = options.rank - gone;
	}
	return closerFromCorner([...sections, { until: undefined, distance: distanceOf(rank) }], options);
}

/** The same stretches, nearer to the wall from its first corner on: before that pipes have to turn off from the ports. */
function closerFromCorner(sections: readonly WallSection[], options: WallSectionsOptions): WallSection[] {
	const { wall, way, start, end, closer } = options;
	if (closer === 0) return [...sections];
	const corner = nextCorner(wall, start, way);
	if (!corner.isConvex || corner.away > ahead(wall, start, end, way)) return [...sections];
	const isBefore = (place: number | undefined): boolean =>
		place !== undefined && ahead(wall, start, place, way) <= corner.away;
	return sections.flatMap(({ until, distance }, i): WallSection[] => {
		const nearer = { until, distance: distance - closer };
		if (isBefore(until)) return [{ until, distance }];
		return i > 0 && !isBefore(sections[i - 1]!.until)
			? [nearer]
			: [{ until: start + way * corner.away, distance }, nearer];
	});
}

/** Where the pipes of each door leave the bundle that follows a wall, in order along it; the last where nothing follows. */
export function peelsOf(rim: Track, family: Family, exits: readonly (readonly Lane[])[], next?: number): Peel[] {
	const isLeft = family.crossing?.wall === "left";
	const lanes = fromWall(family).map((door) => (isLeft ? exits[door]! : [...exits[door]!].reverse()));
	return lanes.flatMap((own, i) => {
		const to = lanes[i + 1] ? positionOf(rim, lanes[i + 1]![0]!.at) : next;
		return to === undefined ? [] : [{ pipes: own.length, at: positionOf(rim, own.at(-1)!.at), next: to }];
	});
}
