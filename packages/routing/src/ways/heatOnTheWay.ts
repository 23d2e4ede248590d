import type { Room } from "@oxturn/floor";
import { type Path, pathLength, type Region, regionArea } from "@oxturn/geometry";
import type { RoutedLoop } from "../room/routeZones.ts";
import { sum } from "../sum.ts";
import type { OwnLoops } from "./laidWays.ts";
import { coldArea } from "./ownFloor.ts";
import { coldPieces, type PieceOnTheWay, piecesOf, type RoutedSpace, spentOn } from "./routeSpace.ts";
import type { RoutedPlan, RoutedWays, RouteWaysOptions } from "./routeWays.ts";
import { comesBy, runsOnTheWay } from "./runsOnTheWay.ts";
import { sharedPattern } from "./sharedRooms.ts";

/*
 * Tails that go across a hall cut it in pieces, and each would take a loop. A small piece is rather heated by the loop
 * of a room that comes by: it makes a few runs there on its way.
 */

/** A piece of floor with a loop of its own that another loop may do without trouble. */
interface Piece {
	readonly space: number;
	readonly slot: number;
	/** Pipe on it, m. */
	readonly pipe: number;
	/** Ports of the loops that come by. */
	readonly hosts: readonly number[];
	/** Port of its own loop. */
	readonly port: number;
}

/** How often pieces are given away anew, without one that no loop could be led to. */
const MOST_ROUNDS = 3;
/** A room keeps a loop of its own, and so a valve, unless that would hold no more than this share of the limit. */
const LITTLE = 1 / 8;
/** A room may be left colder by this share of its floor, or as cold as this in all: so may those that share a loop. */
const COLDER = 0.01;
const COLD = 0.05;
/** A loop that comes out as long as the limit suits a piece so much less than one with pipe to spare. */
const FULL = 0.1;
/** A spacing differs where it is more than this off, mm. */
const SAME = 0.5;

interface LoopOf {
	readonly space: number;
	readonly loop: RoutedLoop;
}

const loopsOf = ({ spaces }: RoutedWays): LoopOf[] =>
	spaces.flatMap(({ space, loops }) => loops.map((loop) => ({ space, loop })));

/** Whether a loop may make runs on the floor of another room: it is laid alike there. */
function agrees({ space, loop }: LoopOf, room: Room, { spaces, patternOf, apart }: RouteWaysOptions): boolean {
	const own = spaces[space]!.room;
	return (
		!apart.has(own.id) &&
		Math.abs(loop.spacing - room.spacing) < SAME &&
		sharedPattern([own, room], patternOf) !== undefined
	);
}

/** Loops that could heat a piece of floor as well without being too long. */
function hostsOf(
	piece: Region,
	room: Room,
	pipe: number,
	all: readonly LoopOf[],
	options: RouteWaysOptions,
	plan: RoutedPlan,
): LoopOf[] {
	const { maxLoopLength } = options.floor.system;
	return all.filter(
		(each) =>
			each.loop.length + pipe <= maxLoopLength &&
			agrees(each, room, options) &&
			comesBy(each.loop.path, piece, plan.context.rules),
	);
}

/** Pieces of spaces that tails pass, each with one loop, that others could heat; the smallest first. */
function piecesIn(plan: RoutedPlan, options: RouteWaysOptions): Piece[] {
	const all = loopsOf(plan);
	const loopsIn = (space: number): number => all.filter((each) => each.space === space).length;
	const found = plan.laid.spaces.flatMap((laid): Piece[] => {
		const { room } = options.spaces[laid.space]!;
		if (laid.crossing.length === 0 || !room.heated || options.apart.has(room.id)) return [];
		const most = loopsIn(laid.space) > 1 ? Infinity : LITTLE * options.floor.system.maxLoopLength;
		const pieces = piecesOf(plan.context, laid);
		return laid.slots.flatMap((slot, i): Piece[] => {
			const piece = pieces[i];
			const own = all.find(({ loop }) => loop.port === slot.pipes[0]?.port);
			if (!piece || !own || slot.pipes.length !== 2) return [];
			const pipe = own.loop.length - spentOn(slot) / 1000;
			if (pipe > most) return [];
			const others = all.filter((each) => each !== own);
			const hosts = hostsOf(piece, room, pipe, others, options, plan).map(({ loop }) => loop.port);
			return hosts.length > 0 ? [{ space: laid.space, slot: i, pipe, hosts, port: own.loop.port }] : [];
		});
	});
	return found.sort((a, b) => a.pipe - b.pipe || a.port - b.port);
}

/** Pieces that are given away together: every loop has pipe left for those that it takes, and none is given away itself. */
function givenAway(pieces: readonly Piece[], plan: RoutedPlan, options: RouteWaysOptions): Piece[] {
	const { maxLoopLength } = options.floor.system;
	const spare = new Map(loopsOf(plan).map(({ loop }) => [loop.port, maxLoopLength - loop.length]));
	const left = new Map(plan.spaces.map(({ space, loops }) => [space, loops.length]));
	const hosts = new Set<number>();
	const given: Piece[] = [];
	for (const piece of pieces) {
		const isLast = left.get(piece.space) === 1;
		if (hosts.has(piece.port) || (isLast && piece.pipe > LITTLE * maxLoopLength)) continue;
		const host = piece.hosts
			.filter((port) => (spare.get(port) ?? 0) >= piece.pipe)
			.sort((a, b) => spare.get(b)! - spare.get(a)!)[0];
		if (host === undefined) continue;
		hosts.add(host);
		spare.set(host, spare.get(host)! - piece.pipe);
		spare.delete(piece.port);
		left.set(piece.space, left.get(piece.space)! - 1);
		given.push(piece);
	}
	return given;
}

/** The loops of some spaces without those of the pieces that are given away. */
function loopsWithout(given: readonly Piece[], of: ReadonlySet<number>, plan: RoutedPlan): Map<number, OwnLoops> {
	const own = new Map<number, OwnLoops>();
	for (const { space, slots } of plan.laid.spaces) {
		if (!of.has(space)) continue;
		const pieces = given.filter((piece) => piece.space === space);
		own.set(
			space,
			slots.map(({ pipes }, slot) => (pieces.some((piece) => piece.slot === slot) ? 0 : pipes.length / 2)),
		);
	}
	return own;
}

/** Where a piece stays cold, as far as that is known. */
interface Refused {
	readonly space: number;
	readonly slot: number | undefined;
}

interface Host {
	readonly space: number;
	readonly port: number;
	/** With the runs that it makes on the piece; m. */
	readonly path: Path;
	readonly length: number;
	/** What it is short of, the lower the better. */
	readonly cost: number;
}

/** The loop that heats a piece best on its way. */
function hostFor(
	piece: Region,
	room: Room,
	spaces: readonly RoutedSpace[],
	plan: RoutedPlan,
	options: RouteWaysOptions,
): Host | undefined {
	const all = loopsOf({ ...plan, spaces });
	const { rules } = plan.context;
	const { system } = options.floor;
	const found = hostsOf(piece, room, 0, all, options, plan).flatMap(({ space, loop }): Host[] => {
		const pattern = sharedPattern([options.spaces[space]!.room, room], options.patternOf)!;
		const others = all.filter((each) => each.loop !== loop).map((each) => each.loop.path);
		const runs = runsOnTheWay({ room, piece, pattern, loop: loop.path, others, rules, system });
		const isSound = runs && options.faults(options.spaces[space]!.room, [{ ...loop, path: runs.path }]) === 0;
		if (!runs || !isSound) return [];
		const length = pathLength(runs.path) / 1000;
		return [
			{ space, port: loop.port, path: runs.path, length, cost: runs.cost + (FULL * length) / system.maxLoopLength },
		];
	});
	return found.sort((a, b) => a.cost - b.cost || a.port - b.port)[0];
}

/** The space of a loop that heats a piece of another on its way. */
const withRuns = (routed: RoutedSpace, { port, path, length }: Host, piece: PieceOnTheWay): RoutedSpace => ({
	...routed,
	loops: routed.loops.map((loop) => (loop.port === port ? { ...loop, path, length } : loop)),
	onTheWay: [...routed.onTheWay, piece],
});

/** Heats all that stays cold without the loops of given pieces by loops that come by; or the piece for which there is none. */
function heatPieces(plan: RoutedPlan, given: readonly Piece[], options: RouteWaysOptions): RoutedSpace[] | Refused {
	let { spaces } = plan;
	for (const laid of plan.laid.spaces) {
		const { space } = laid;
		if (!given.some((piece) => piece.space === space)) continue;
		const { room } = options.spaces[space]!;
		for (const [slot, piece] of coldPieces(plan.context, laid)) {
			const host = hostFor(piece, room, spaces, plan, options);
			if (!host) return { space, slot };
			const heated = { space, area: regionArea(piece), port: host.port };
			spaces = spaces.map((each) => (each.space === host.space ? withRuns(each, host, heated) : each));
		}
	}
	return [...spaces];
}

/** A space that is colder than before, lacks loops that it had or has its spacing opened farther; undefined where none is. */
function worseOff(
	routed: readonly RoutedSpace[],
	before: RoutedWays,
	{ spaces }: RouteWaysOptions,
): number | undefined {
	const pipesIn = (those: readonly RoutedSpace[]): Path[] =>
		those.flatMap(({ loops }) => loops.map(({ path }) => path));
	const [now, then] = [pipesIn(routed), pipesIn(before.spaces)];
	const widest = ({ routed: pieces }: RoutedSpace): number => Math.max(0, ...pieces.map(({ room }) => room.spacing));
	const shortIn = ({ routed: pieces }: RoutedSpace): number =>
		sum(pieces.map(({ room }) => room.missing + room.broken + room.tooLong + room.leftOut));
	return routed.find((each) => {
		const { room, region } = spaces[each.space]!;
		if (!room.heated) return false;
		const old = before.spaces.find(({ space }) => space === each.space)!;
		const area = regionArea(region);
		const cold = coldArea([region], now, room.spacing) / area;
		const isCold = cold > COLD && cold > coldArea([region], then, room.spacing) / area + COLDER;
		return isCold || widest(each) > Math.max(room.spacing, widest(old)) + SAME || shortIn(each) > shortIn(old);
	})?.space;
}

/** The same floor with fewer loops, where pieces of rooms can be heated by loops that come by; undefined where none can. */
export function heatOnTheWay(plan: RoutedPlan, options: RouteWaysOptions): RoutedWays | undefined {
	let possible = piecesIn(plan, options);
	const changed = new Set<number>();
	for (let round = 0; round < MOST_ROUNDS; round++) {
		const given = givenAway(possible, plan, options);
		if (given.length === 0) return undefined;
		for (const { space } of given) changed.add(space);
		const next = plan.withLoops(loopsWithout(given, changed, plan));
		if (!next) return undefined;
		const spaces = heatPieces(next, given, options);
		const worse = Array.isArray(spaces) ? worseOff(spaces, plan, options) : undefined;
		if (Array.isArray(spaces) && worse === undefined) return { ...next, spaces };
		const refused = refusedOf(given, Array.isArray(spaces) ? { space: worse!, slot: undefined } : spaces);
		if (!refused) return undefined;
		possible = possible.filter((piece) => piece !== refused);
	}
	return undefined;
}

/** The piece that could not be given away: the largest of its space where it is not known which. */
const refusedOf = (given: readonly Piece[], { space, slot }: Refused): Piece | undefined => {
	const pieces = given.filter((piece) => piece.space === space);
	return pieces.find((piece) => piece.slot === slot) ?? pieces.at(-1);
};
