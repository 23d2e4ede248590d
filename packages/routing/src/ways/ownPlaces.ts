import { direction, distance, dot, type Path, type Point } from "@oxturn/geometry";
import { beside, type Lane } from "../tails/lanes.ts";
import { opposite } from "./crossRoom.ts";
import type { OwnPipes } from "./families.ts";
import { waysToCut } from "./followCut.ts";
import { waysAlong } from "./followWall.ts";
import type { Laying } from "./laying.ts";
import { placeBehind, type ShortCut } from "./shortCuts.ts";

/** A place for loops of the room's own. */
export interface OwnPlace extends OwnPipes {
	/** A place on its floor, where that lies behind tails that go over the room. */
	readonly inside: Point | undefined;
	/** Its pipes along the wall up to there, undefined where one does not fit; none where they begin as they come in. */
	readonly paths: readonly (Path | undefined)[];
}

/** Floor behind tails that go over a room begins this far from them, mm. */
const BEHIND = 150;
/** Chords of arcs are shorter than this, mm. */
const STRAIGHT_SIDE = 40;
/** Directions whose cosine is more than this are one. */
const SAME_WAY = 0.9999;

/** How the pipes of own loops that lie behind tails over the room come there: beside those, up to where they turn over. */
export function ownPlace(laying: Laying, own: OwnPipes, lay: (ways: Iterable<Path>) => Path | undefined): OwnPlace {
	const family = own.behind;
	if (!family) return { ...own, inside: undefined, paths: [] };
	if (family.shortCut) return placeAtCut(laying, own, family.shortCut, lay);
	const { space, doors, doorLanes } = laying.options;
	const isLeft = family.crossing?.wall === "left";
	const door = isLeft ? family.doors[0]! : family.doors.at(-1)!;
	const exits = laying.exits[door]!;
	const outermost = isLeft ? exits[0]! : exits.at(-1)!;
	const reachOut = doors[door]!.passage.halfDepth;
	const besideIt = (forward: number, aside: number): Point =>
		beside(outermost.at, outermost.axis, forward, isLeft ? -aside : aside);
	const count = own.to - own.from;
	const paths = Array.from({ length: count }, (_, i) => {
		const rank = isLeft ? count - i : i + 1;
		const exit: Lane = { ...outermost, at: besideIt(0, rank * doorLanes.pitch) };
		return lay(beforeTurn(waysAlong(laying, { family, index: own.from + i, exit, reachOut }), exit));
	});
	const over = distance(outermost.at, opposite(space.region, outermost, reachOut));
	return { ...own, inside: besideIt(-over / 2, BEHIND), paths };
}

/** The same where they lie behind tails that take a short cut. */
function placeAtCut(
	laying: Laying,
	own: OwnPipes,
	shortCut: ShortCut,
	lay: (ways: Iterable<Path>) => Path | undefined,
): OwnPlace {
	const count = own.to - own.from;
	const ways = (i: number): Iterable<Path> => {
		const toCut = waysToCut(laying, shortCut, own.from + i);
		return shortCut.goesOn ? toCut : beforeTurn(toCut, { axis: direction(shortCut.from, shortCut.to) });
	};
	const paths = Array.from({ length: count }, (_, i) => lay(ways(i)));
	return { ...own, inside: placeBehind(shortCut, BEHIND), paths };
}

/** Ways up to where they begin to turn to the line of their exit. */
function* beforeTurn(ways: Iterable<Path>, { axis }: Pick<Lane, "axis">): Generator<Path> {
	for (const path of ways) {
		const way = (i: number): Point => direction(path[i - 1]!, path[i]!);
		let i = path.length - 1;
		while (i > 0 && dot(way(i), axis) > SAME_WAY) i--;
		while (i > 0 && distance(path[i - 1]!, path[i]!) < STRAIGHT_SIDE) i--;
		if (i > 0) yield path.slice(0, i + 1);
	}
}
