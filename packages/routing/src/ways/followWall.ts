import type { Path } from "@oxturn/geometry";
import { ahead, positionOf, type Track, type Way } from "../tails/tracks.ts";
import { type Crossing, crossRoom, opposite } from "./crossRoom.ts";
import { waysByCut } from "./followCut.ts";
import type { Laying, PipeToLay } from "./laying.ts";
import { type Peel, peelsOf, wallSections } from "./wallSections.ts";

/** Those of the bundle that leave it before a place on the wall, as positions along it. */
function peelsBefore(peels: readonly Peel[], rim: Track, start: number, place: number, way: Way): Peel[] {
	const far = ahead(rim, start, place, way);
	return peels
		.filter(({ at }) => ahead(rim, start, at, way) < far)
		.map((peel) => ({ ...peel, next: ahead(rim, start, peel.next, way) < far ? peel.next : place }));
}

/** What lies between a pipe and the wall that it follows: how many others, and where those leave. */
function besideOf(
	{ rim, frame, families, exits, options }: Laying,
	{ family, index, exit, reachOut }: PipeToLay,
	{ wall, isOver }: Crossing,
): { readonly peels: readonly Peel[]; readonly rank: number } {
	const isLeft = wall === "left";
	const last = family.from + family.count - 1;
	if (!isOver) return { peels: peelsOf(rim, family, exits), rank: isLeft ? index - family.from : last - index };
	const place = positionOf(rim, opposite(options.space.region, exit, reachOut));
	const along = peelsOf(rim, isLeft ? families.all[0]! : families.all.at(-1)!, exits, place);
	return {
		peels: peelsBefore(along, rim, positionOf(rim, frame.entry), place, isLeft ? -1 : 1),
		rank: isLeft ? index : options.lanes.length - 1 - index,
	};
}

/** Ways of a pipe along its wall to its exit, the likeliest first; none where its family follows no wall. */
export function waysAlong(laying: Laying, pipe: PipeToLay): Iterable<Path> {
	const { rim, frame, inside, laneOf, options } = laying;
	const { crossing, shortCut } = pipe.family;
	if (!crossing) return [];
	if (shortCut) return waysByCut(laying, shortCut, crossing, pipe);
	const { minBendRadius } = options.system.pipe;
	const { nearest, reachIn } = frame;
	return crossRoom({
		space: options.space.region,
		inside,
		entrance: laneOf(pipe.index),
		exit: pipe.exit,
		crossing,
		sections: wallSections({
			wall: rim,
			way: crossing.wall === "left" ? -1 : 1,
			...besideOf(laying, pipe, crossing),
			pitch: options.doorLanes.pitch,
			nearest,
			minBendRadius,
			start: positionOf(rim, frame.entry),
			end: positionOf(rim, crossing.isOver ? opposite(options.space.region, pipe.exit, pipe.reachOut) : pipe.exit.at),
			closer: crossing.across ? 0 : frame.closer,
		}),
		reachIn,
		reachOut: pipe.reachOut,
		nearest,
		minBendRadius,
	});
}
