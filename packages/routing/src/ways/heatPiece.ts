import type { PatternName, Room } from "@oxturn/floor";
import { type Path, type Point, pathLength, type Region, regionArea, ringsOf } from "@oxturn/geometry";
import type { FilledField } from "../field/fillField.ts";
import { wallDirections } from "../field/wallDirections.ts";
import type { RoutedLoop } from "../room/routeZones.ts";
import { cutIntoBands } from "../zones/partition.ts";
import type { RouteWaysOptions } from "./routedWays.ts";
import type { RoutedSpace, SpaceContext } from "./routeSpace.ts";
import { comesBy, pieceFields, runsOnTheWay } from "./runsOnTheWay.ts";
import { sharedPattern } from "./sharedRooms.ts";
import { awayFrom } from "./spaces.ts";

/*
 * Which loop heats a piece of floor that it passes: the one that suits it best, or two that have pipe for a part each.
 */

/** A loop that comes out as long as the limit suits a piece so much less than one with pipe to spare. */
const FULL = 0.1;
/** A loop that heats a piece with no more cost than this does it well. */
const GOOD = 0.15;
/** One that costs more than this is rather parted between two, where these do it better. */
const POOR = 0.5;
/** A piece that is parted between two loops is cut across so many of its walls' directions, and no part is less than this. */
const MOST_CUTS = 2;
const LEAST_PART = 0.25;

export interface LoopOf {
	readonly space: number;
	readonly loop: RoutedLoop;
}

export const loopsOf = (spaces: readonly RoutedSpace[]): LoopOf[] =>
	spaces.flatMap(({ space, loops }) => loops.map((loop) => ({ space, loop })));

/** A floor as its spaces are routed. */
export interface Heating {
	readonly spaces: readonly RoutedSpace[];
	readonly context: SpaceContext;
	readonly options: RouteWaysOptions;
}

/** Whether a loop may make runs on the floor of another room: at that room's spacing, but in a pattern that suits both. */
function agrees({ space }: LoopOf, room: Room, { spaces, patternOf, apart }: RouteWaysOptions): boolean {
	const own = spaces[space]!.room;
	return !own.keptApart && !apart.has(own.id) && sharedPattern([own, room], patternOf) !== undefined;
}

/** Loops that come by a piece of floor, and could make runs on it as far as they have pipe left. */
export const comingBy = (piece: Region, room: Room, { spaces, context, options }: Heating): LoopOf[] =>
	loopsOf(spaces).filter((each) => agrees(each, room, options) && comesBy(each.loop.path, piece, context.rules));

/** A space's piece of floor, or a part of it beside `rest`. */
interface Part {
	readonly space: number;
	readonly piece: Region;
	readonly cell: Region;
	readonly rest: readonly Region[];
}

/** A loop with the runs that it makes on a part. */
interface Host {
	readonly space: number;
	readonly port: number;
	readonly path: Path;
	/** m */
	readonly length: number;
	/** What it is short of, the lower the better. */
	readonly cost: number;
}

/** The fields of a part, by the pattern that a loop is laid in; `near` are the loops that come by, the shortest first. */
function fieldsOf(
	{ space, piece, cell, rest }: Part,
	near: readonly LoopOf[],
	{ spaces, context, options }: Heating,
): (pattern: PatternName) => readonly FilledField[] {
	const { system } = options.floor;
	const [shortest] = near;
	const known = new Map<PatternName, readonly FilledField[]>();
	return (pattern) => {
		const fields =
			known.get(pattern) ??
			pieceFields({
				room: options.spaces[space]!.room,
				piece,
				cell,
				rest,
				pattern,
				gate: nearestPoint(shortest!.loop.path, cell),
				pipes: loopsOf(spaces).map(({ loop }) => loop.path),
				longest: 1000 * (system.maxLoopLength - shortest!.loop.length),
				rules: context.rules,
				system,
			});
		known.set(pattern, fields);
		return fields;
	};
}

/** The loop that heats a part best: of those with pipe to spare, the first that does it well. */
function hostFor(part: Part, heating: Heating, taken: ReadonlySet<number>): Host | undefined {
	const { spaces, context, options } = heating;
	const { room } = options.spaces[part.space]!;
	const { maxLoopLength } = options.floor.system;
	const near = comingBy(part.cell, room, heating)
		.filter(({ loop }) => !taken.has(loop.port))
		.sort((a, b) => a.loop.length - b.loop.length || a.loop.port - b.loop.port);
	const fields = fieldsOf(part, near, heating);
	let best: Host | undefined;
	for (const { space, loop } of near) {
		const host = options.spaces[space]!.room;
		const runs = runsOnTheWay({
			cell: part.cell,
			fields: fields(sharedPattern([host, room], options.patternOf)!),
			spacing: room.spacing,
			loop: loop.path,
			others: loopsOf(spaces).flatMap((each) => (each.loop.port === loop.port ? [] : [each.loop.path])),
			rules: context.rules,
			maxLength: 1000 * maxLoopLength,
		});
		if (!runs || options.faults(host, [{ ...loop, path: runs.path }]) > 0) continue;
		const length = pathLength(runs.path) / 1000;
		const cost = runs.cost + (FULL * length) / maxLoopLength;
		if (!best || cost < best.cost) best = { space, port: loop.port, path: runs.path, length, cost };
		if (runs.cost < GOOD) break;
	}
	return best;
}

/** The point of a path that lies nearest to a region. */
const nearestPoint = (path: Path, region: Region): Point =>
	path.reduce((nearest, p) => (awayFrom(region, p) < awayFrom(region, nearest) ? p : nearest));

/** The spaces once a loop makes runs on a part. */
const withRuns = (spaces: readonly RoutedSpace[], { space, cell }: Part, host: Host): RoutedSpace[] =>
	spaces.map((each) =>
		each.space === host.space
			? {
					...each,
					loops: each.loops.map((loop) =>
						loop.port === host.port ? { ...loop, path: host.path, length: host.length } : loop,
					),
					onTheWay: [...each.onTheWay, { space, area: regionArea(cell), port: host.port }],
				}
			: each,
	);

/** The spaces once every part is heated, each by another loop; undefined where one is not. */
function heatParts(
	parts: readonly Part[],
	heating: Heating,
): { readonly spaces: readonly RoutedSpace[]; readonly cost: number } | undefined {
	let { spaces } = heating;
	let cost = 0;
	const taken = new Set<number>();
	for (const part of parts) {
		const host = hostFor(part, { ...heating, spaces }, taken);
		if (!host) return undefined;
		taken.add(host.port);
		cost += host.cost;
		spaces = withRuns(spaces, part, host);
	}
	return { spaces, cost };
}

/** How much of a piece that takes so much pipe, m, the two loops with most of it to spare can heat; undefined where it is too much. */
export function partedBetween(spare: readonly number[], pipe: number): readonly [number, number] | undefined {
	const [most = 0, next = 0] = [...spare].sort((a, b) => b - a);
	return most + next >= pipe && next >= LEAST_PART * pipe ? [most / (most + next), next / (most + next)] : undefined;
}

/** Ways to part a piece between the two loops that have most pipe to spare. */
function partings(space: number, piece: Region, heating: Heating): Part[][] {
	const { maxLoopLength } = heating.options.floor.system;
	const { room } = heating.options.spaces[space]!;
	const spare = comingBy(piece, room, heating).map(({ loop }) => maxLoopLength - loop.length);
	const shares = partedBetween(spare, 0);
	if (!shares) return [];
	return wallDirections(ringsOf(piece), MOST_CUTS).flatMap((direction) =>
		[shares, [...shares].reverse()].flatMap((each): Part[][] => {
			const cells = cutIntoBands(piece, direction, each);
			return cells
				? [cells.map((cell) => ({ space, piece, cell, rest: cells.filter((other) => other !== cell) }))]
				: [];
		}),
	);
}

/** The spaces once a piece of one is heated by a loop that comes by, or by two; undefined where none can. */
export function heatPiece(space: number, piece: Region, heating: Heating): readonly RoutedSpace[] | undefined {
	const whole = heatParts([{ space, piece, cell: piece, rest: [] }], heating);
	if (whole && whole.cost < POOR) return whole.spaces;
	const parted = partings(space, piece, heating).flatMap((parts) => heatParts(parts, heating) ?? []);
	return [...(whole ? [whole] : []), ...parted].sort((a, b) => a.cost - b.cost)[0]?.spaces;
}
