import { add, direction, distance, dot, type Path, type Point, scale } from "@oxturn/geometry";
import type { Lane } from "../tails/lanes.ts";
import { ahead, positionOf, type Way } from "../tails/tracks.ts";
import { type Crossing, crossRoom } from "./crossRoom.ts";
import { wallLanes } from "./exitLanes.ts";
import { type Family, fromWall } from "./families.ts";
import type { FollowedFloor, Laying, PipeToLay } from "./laying.ts";
import { endOf, type ShortCut } from "./shortCuts.ts";
import { type Peel, peelsOf, type WallSection, wallSections } from "./wallSections.ts";

/*
 * A tail that takes a short cut follows the wall of what that leaves of the room: the cut is a wall like any other. Where
 * it turns back, it is the way along the wall up to the end of the cut, and from the cut on one straight across the room.
 */

/** Directions whose cosine is more than this are one. */
const SAME_WAY = 0.9999;
/** Bundles close up so far before the corner at which others leave them, mm. */
const BEFORE = 1;

const wayOf = ({ side }: ShortCut): Way => (side === "left" ? -1 : 1);

const restOf = ({ rests }: Laying, shortCut: ShortCut): FollowedFloor => rests.get(shortCut)!;

/** Pipes that follow the wall and turn off before a short cut. */
function peelsBefore({ rim, frame, families, exits }: Laying, shortCut: ShortCut, rest: FollowedFloor): Peel[] {
	const isLeft = shortCut.side === "left";
	const along = isLeft ? families.all[0]! : families.all.at(-1)!;
	const fromEntry = (p: Point): number => ahead(rim, positionOf(rim, frame.entry), positionOf(rim, p), wayOf(shortCut));
	const lanes = fromWall(along)
		.map((door) => (isLeft ? exits[door]! : [...exits[door]!].reverse()))
		.filter((own) => fromEntry(own.at(-1)!.at) < fromEntry(shortCut.from));
	const cut = positionOf(rest.rim, shortCut.from);
	return lanes.map((own, i) => ({
		pipes: own.length,
		at: positionOf(rest.rim, own.at(-1)!.at),
		next: lanes[i + 1] ? positionOf(rest.rim, lanes[i + 1]![0]!.at) : cut,
	}));
}

/** The sections of the wall that a pipe of a family follows up to a short cut, and on along the cut up to its end. */
function sectionsToEnd(laying: Laying, shortCut: ShortCut, index: number): readonly WallSection[] {
	const { frame, options } = laying;
	const rest = restOf(laying, shortCut);
	return wallSections({
		wall: rest.rim,
		way: wayOf(shortCut),
		peels: peelsBefore(laying, shortCut, rest),
		rank: shortCut.side === "left" ? index : options.lanes.length - 1 - index,
		pitch: options.doorLanes.pitch,
		nearest: frame.nearest,
		minBendRadius: options.system.pipe.minBendRadius,
		start: positionOf(rest.rim, frame.entry),
		end: positionOf(rest.rim, shortCut.to),
		closer: frame.closer,
	});
}

/** Ways of a pipe along its wall and a short cut up to the end of that. */
function* waysToEnd(laying: Laying, shortCut: ShortCut, index: number): Generator<Path> {
	const { frame, laneOf, options } = laying;
	const sections = sectionsToEnd(laying, shortCut, index);
	const exit: Lane = {
		at: endOf(shortCut, sections.at(-1)!.distance),
		axis: direction(shortCut.from, shortCut.to),
		bends: [],
	};
	const rest = restOf(laying, shortCut);
	yield* crossRoom({
		space: rest.region,
		inside: rest.inside,
		entrance: laneOf(index),
		exit,
		crossing: { wall: shortCut.side, across: undefined, isOver: false },
		sections,
		reachIn: frame.reachIn,
		reachOut: 0,
		nearest: frame.nearest,
		minBendRadius: options.system.pipe.minBendRadius,
	});
}

/** A way up to the end of a short cut without what lies straight on the cut; undefined where it bends there. */
function upTo(path: Path, { from, to }: ShortCut): Path | undefined {
	const axis = direction(from, to);
	const end = path.at(-1)!;
	let i = path.length - 1;
	while (i > 0 && dot(direction(path[i - 1]!, path[i]!), axis) > SAME_WAY) i--;
	if (i === path.length - 1) return undefined;
	const length = distance(from, to);
	if (distance(path[i]!, end) < length) return path.slice(0, i + 1);
	return [...path.slice(0, i + 1), add(end, scale(axis, -length))];
}

/** Ways of a pipe up to where a short cut begins. */
export function* waysToCut(laying: Laying, shortCut: ShortCut, index: number): Generator<Path> {
	for (const path of waysToEnd(laying, shortCut, index)) {
		const before = upTo(path, shortCut);
		if (before) yield before;
	}
}

/** Back along the wall that a short cut comes to. */
function* waysBack(laying: Laying, shortCut: ShortCut, crossing: Crossing, pipe: PipeToLay): Generator<Path> {
	const { rim, frame, inside, exits, options } = laying;
	const { family, index, exit, reachOut } = pipe;
	const { minBendRadius } = options.system.pipe;
	const isLeft = crossing.wall === "left";
	for (const before of waysToCut(laying, shortCut, index)) {
		const entrance: Lane = { at: before.at(-1)!, axis: direction(shortCut.from, shortCut.to), bends: [] };
		const ways = crossRoom({
			space: options.space.region,
			inside,
			entrance,
			exit,
			crossing,
			sections: wallSections({
				wall: rim,
				way: isLeft ? -1 : 1,
				peels: peelsOf(rim, family, exits),
				rank: isLeft ? index - family.from : family.from + family.count - 1 - index,
				pitch: options.doorLanes.pitch,
				nearest: frame.nearest,
				minBendRadius,
				start: positionOf(rim, shortCut.to),
				end: positionOf(rim, exit.at),
				closer: 0,
			}),
			reachIn: 0,
			reachOut,
			nearest: frame.nearest,
			minBendRadius,
		});
		for (const way of ways) yield [...before.slice(0, -1), ...way];
	}
}

/** Those that leave a bundle for what a short cut cuts off, or back along the wall at its end, before one goes on. */
function peelAtCut({ options, exits }: Laying, family: Family, shortCut: ShortCut, rest: FollowedFloor): Peel {
	const isLeft = shortCut.side === "left";
	const way = wayOf(shortCut);
	const leftBy = positionOf(rest.rim, shortCut.goesOn ? shortCut.to : shortCut.from);
	const first = exits[fromWall(family)[0]!]!;
	return {
		pipes: isLeft ? family.from : options.lanes.length - family.from - family.count,
		at: leftBy - way * BEFORE,
		next: positionOf(rest.rim, (isLeft ? first[0] : first.at(-1))!.at),
	};
}

/** Lanes in the doorways to which families go on beyond a short cut, by door: at its end pipes may go straight on through one. */
export function exitsBeyondCuts(laying: Laying): ReadonlyMap<number, Lane[]> {
	const { families, options } = laying;
	const lanes = new Map<number, Lane[]>();
	for (const family of families.all) {
		const { shortCut, crossing, from, count } = family;
		if (!shortCut || !crossing || crossing.across) continue;
		let index = crossing.wall === "left" ? from : from + count - 1;
		for (const door of fromWall(family)) {
			const { passage, pipes } = options.doors[door]!;
			const wall = {
				space: restOf(laying, shortCut).region,
				passage,
				count: pipes,
				wall: crossing.wall,
				wallDistance: sectionsToEnd(laying, shortCut, index).at(-1)!.distance,
				minBendRadius: options.system.pipe.minBendRadius,
				isFarJamb: options.farJambs.has(door),
			};
			lanes.set(door, wallLanes(wall, options.doorLanes));
			index += crossing.wall === "left" ? pipes : -pipes;
		}
	}
	return lanes;
}

/** On along the wall beyond a short cut. */
function waysOn(laying: Laying, shortCut: ShortCut, crossing: Crossing, pipe: PipeToLay): Iterable<Path> {
	const { frame, laneOf, exits, options } = laying;
	const { family, index, exit, reachOut } = pipe;
	const { minBendRadius } = options.system.pipe;
	const rest = restOf(laying, shortCut);
	const before = peelsBefore(laying, shortCut, rest);
	const atCut = peelAtCut(laying, family, shortCut, rest);
	const gone = before.reduce((sum, { pipes }) => sum + pipes, 0);
	return crossRoom({
		space: rest.region,
		inside: rest.inside,
		entrance: laneOf(index),
		exit,
		crossing,
		sections: wallSections({
			wall: rest.rim,
			way: wayOf(shortCut),
			peels: [...before, { ...atCut, pipes: atCut.pipes - gone }, ...peelsOf(rest.rim, family, exits)],
			rank: shortCut.side === "left" ? index : options.lanes.length - 1 - index,
			pitch: options.doorLanes.pitch,
			nearest: frame.nearest,
			minBendRadius,
			start: positionOf(rest.rim, frame.entry),
			end: positionOf(rest.rim, exit.at),
			closer: frame.closer,
		}),
		reachIn: frame.reachIn,
		reachOut,
		nearest: frame.nearest,
		minBendRadius,
	});
}

/** Ways of a pipe by a short cut to its exit, the likeliest first. */
export const waysByCut = (laying: Laying, shortCut: ShortCut, crossing: Crossing, pipe: PipeToLay): Iterable<Path> =>
	crossing.across ? waysBack(laying, shortCut, crossing, pipe) : waysOn(laying, shortCut, crossing, pipe);
