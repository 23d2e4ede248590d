import type { Path } from "@oxturn/geometry";
import type { Lane } from "../tails/lanes.ts";
import { ahead, positionOf, type Track, type Way } from "../tails/tracks.ts";
import { type Crossing, crossRoom, opposite } from "./crossRoom.ts";
import { type Family, fromWall } from "./families.ts";
import type { Laying, LayTurnsOptions } from "./laying.ts";
import { type Peel, wallSections } from "./wallSections.ts";

/** Where the pipes of each door leave the bundle that follows a wall, in order along it; the last where nothing follows. */
function peelsOf(rim: Track, family: Family, exits: readonly (readonly Lane[])[], next?: number): Peel[] {
	const isLeft = family.crossing?.wall === "left";
	const lanes = fromWall(family).map((door) => (isLeft ? exits[door]! : [...exits[door]!].reverse()));
	return lanes.flatMap((own, i) => {
		const to = lanes[i + 1] ? positionOf(rim, lanes[i + 1]![0]!.at) : next;
		return to === undefined ? [] : [{ pipes: own.length, at: positionOf(rim, own.at(-1)!.at), next: to }];
	});
}

/** Those of the bundle that leave it before a place on the wall, as positions along it. */
function peelsBefore(peels: readonly Peel[], rim: Track, start: number, place: number, way: Way): Peel[] {
	const far = ahead(rim, start, place, way);
	return peels
		.filter(({ at }) => ahead(rim, start, at, way) < far)
		.map((peel) => ({ ...peel, next: ahead(rim, start, peel.next, way) < far ? peel.next : place }));
}

/** The wall that a pipe follows, with the peels of its bundle and how many pipes lie between. */
interface Following {
	readonly peels: readonly Peel[];
	readonly rank: number;
}

/** What lies between a pipe of a family and the wall that it follows. */
function followingOf(
	{ rim, frame, families, exits }: Laying,
	{ lanes, space }: LayTurnsOptions,
	family: Family,
	crossing: Crossing,
	pipe: number,
	exit: Lane,
	reachOut: number,
): Following {
	const isLeft = crossing.wall === "left";
	if (!crossing.isOver)
		return {
			peels: peelsOf(rim, family, exits),
			rank: isLeft ? pipe - family.from : family.from + family.count - 1 - pipe,
		};
	const place = positionOf(rim, opposite(space.region, exit, reachOut));
	const beside = isLeft ? families.all[0]! : families.all.at(-1)!;
	return {
		peels: peelsBefore(peelsOf(rim, beside, exits, place), rim, positionOf(rim, frame.entry), place, isLeft ? -1 : 1),
		rank: isLeft ? pipe : lanes.length - 1 - pipe,
	};
}

/** Ways of a pipe of a family that follows a wall to its exit, the likeliest first. */
export function waysAlong(
	laying: Laying,
	options: LayTurnsOptions,
	family: Family,
	pipe: number,
	exit: Lane,
	reachOut: number,
): Iterable<Path> {
	const { rim, frame, inside, laneOf } = laying;
	const crossing = family.crossing!;
	const { minBendRadius } = options.system.pipe;
	const { nearest, reachIn } = frame;
	const sections = wallSections({
		wall: rim,
		way: crossing.wall === "left" ? -1 : 1,
		...followingOf(laying, options, family, crossing, pipe, exit, reachOut),
		pitch: options.doorLanes.pitch,
		nearest,
		minBendRadius,
	});
	const space = options.space.region;
	return crossRoom({
		...{ space, inside, entrance: laneOf(pipe), exit, crossing, sections, reachIn, reachOut, nearest, minBendRadius },
	});
}
