import { direction, distance, dot, type Path, type Point } from "@oxturn/geometry";
import { beside, type Lane } from "../tails/lanes.ts";
import { opposite } from "./crossRoom.ts";
import type { OwnPipes } from "./families.ts";
import { waysAlong } from "./followWall.ts";
import type { Laying, LayTurnsOptions } from "./laying.ts";

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
export function ownPlace(
	laying: Laying,
	options: LayTurnsOptions,
	own: OwnPipes,
	lay: (ways: Iterable<Path>) => Path | undefined,
): OwnPlace {
	if (!own.behind) return { ...own, inside: undefined, paths: [] };
	const family = own.behind;
	const { exits } = laying;
	const isLeft = family.crossing?.wall === "left";
	const door = isLeft ? family.doors[0]! : family.doors.at(-1)!;
	const outermost = isLeft ? exits[door]![0]! : exits[door]!.at(-1)!;
	const { halfDepth } = options.doors[door]!.passage;
	const aside = isLeft ? -1 : 1;
	const { pitch } = options.doorLanes;
	const half = distance(outermost.at, opposite(options.space.region, outermost, halfDepth)) / 2;
	const count = own.to - own.from;
	const paths = Array.from({ length: count }, (_, i) => {
		const rank = isLeft ? count - i : i + 1;
		const exit: Lane = { ...outermost, at: beside(outermost.at, outermost.axis, 0, aside * rank * pitch) };
		return lay(beforeTurn(waysAlong(laying, options, family, own.from + i, exit, halfDepth), exit));
	});
	return { ...own, inside: beside(outermost.at, outermost.axis, -half, aside * BEHIND), paths };
}

/** Ways up to where they begin to turn to the line of their exit. */
function* beforeTurn(ways: Iterable<Path>, { axis }: Lane): Generator<Path> {
	for (const path of ways) {
		const way = (i: number): Point => direction(path[i - 1]!, path[i]!);
		let i = path.length - 1;
		while (i > 0 && dot(way(i), axis) > SAME_WAY) i--;
		while (i > 0 && distance(path[i - 1]!, path[i]!) < STRAIGHT_SIDE) i--;
		if (i > 0) yield path.slice(0, i + 1);
	}
}
