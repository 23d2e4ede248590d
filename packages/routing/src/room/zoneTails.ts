import { distance, nearestOnRing, type Path } from "@oxturn/geometry";
import type { Reach, WallSetting } from "../tails/alongWall.ts";
import type { PortPair } from "../tails/apron.ts";
import { layTail, type Tail } from "../tails/layTail.ts";
import { tailOnWall } from "../tails/layWallTail.ts";
import { tailPitch } from "../tails/pitch.ts";
import { type Track, type TrackSource, trackSource } from "../tails/tracks.ts";
import type { Assignment } from "../zones/entries.ts";
import { arrivingAt, besideReach, corridorReach, layBeside } from "./closeTails.ts";
import { straightTails, straightWays, type Tails, tailsAlong } from "./ownTails.ts";
import type { RoomSetting } from "./roomSetting.ts";

/*
 * The tails of all zones of a room: in which order they are laid, and beside what each of them lies.
 */

/** Zones that begin this near to the manifold are reached from their ports without a tail, mm. */
const AT_PORTS = 80;
/** For zones that begin this near, both are tried. */
const NEAR_MANIFOLD = 600;

/** The tracks along the walls of a room, the first as near as its edge distance and the manifold allow. */
export function tracksOf({
	room,
	floor,
	entrance,
	system,
}: Pick<RoomSetting, "room" | "floor" | "entrance" | "system">): TrackSource {
	const { minBendRadius } = system.pipe;
	const depth = nearestOnRing(floor.outer, entrance.at).distance;
	const first = Math.max(room.edgeDistance, depth + minBendRadius + 2);
	return trackSource(floor, entrance.at, first, tailPitch(system), minBendRadius);
}

/** What tails along the walls of a room keep to. */
export const wallSetting = (setting: Omit<WallSetting, "edgeDistance"> & Pick<RoomSetting, "room">): WallSetting => ({
	...setting,
	edgeDistance: setting.room.edgeDistance,
});

/**
 * Pipes of other zones go straight on from their ports for so long, in bend radii, before a tail crosses in front of
 * them; for less where it does not fit otherwise.
 */
const KEPT_FREE = [5, 3, 2, 1, 0];

/** Tails fan out where the last of them turns farther from the manifold than this share of the apron. */
const DEEP = 0.8;

/** Both tails of a zone along the tracks, the one nearer to the wall first; fewer where they do not fit. */
function layOnTracks(
	setting: RoomSetting,
	{ entry }: Assignment,
	pair: PortPair,
	tracks: readonly (Track | undefined)[],
	others: readonly Path[],
	isFan: boolean,
): Tail[] {
	const { rules } = setting;
	const both: Tail[] = [];
	for (const [k, port] of (entry.way === -1 ? [pair.return, pair.flow] : [pair.flow, pair.return]).entries()) {
		const track = tracks[k];
		const before = [...others, ...both.map((tail) => tail.path)];
		const tail = track && layTail({ port, track, way: entry.way, entry: entry.point, others: before, rules, isFan });
		if (tail) both.push(tail);
	}
	return both;
}

/** The same along the wall and the tails that pass in front of it, where no track leads on. */
function layAlongWall(
	setting: RoomSetting,
	{ entry }: Assignment,
	pair: PortPair,
	rank: number,
	others: readonly Path[],
): Tail[] {
	const both: Tail[] = [];
	for (const way of setting.wallWays(pair, entry.way === -1 ? "left" : "right", { straight: 0, rank })) {
		const before = [...others, ...both.map(({ path }) => path)];
		const onto = way && { port: way.port, entry: entry.point, others: before, rules: setting.rules };
		const tail = onto && tailOnWall(way.wall, onto);
		if (tail) both.push(tail);
	}
	return both;
}

/** As many tracks as go one way at the most; none where all zones lie at the manifold. */
function tracksFor(setting: RoomSetting, order: readonly Assignment[]): readonly Track[] {
	const goingLeft = order.filter(({ entry }) => entry.way === -1).length;
	const needed = order.some(({ entry }) => entry.along >= AT_PORTS) && order.length > 1;
	return needed ? setting.tracks(2 * Math.max(goingLeft, order.length - goingLeft)) : [];
}

/** How far a track passes from where pipes come in, mm. */
const depthOf = ({ ring }: Track, { entrance }: RoomSetting): number => nearestOnRing(ring, entrance.at).distance;

/** Whether so many tails go one way that the last would turn off at the end of the apron. */
export function needsFan(setting: RoomSetting, order: readonly Assignment[], ports: readonly PortPair[]): boolean {
	const inmost = tracksFor(setting, order).at(-1);
	const areClose = ports.some((pair) => distance(pair.flow.at, pair.return.at) < setting.rules.apart);
	return areClose && inmost !== undefined && depthOf(inmost, setting) > DEEP * setting.rules.apronReach;
}

export interface LayTailsOptions {
	/** Whether pipes keep close beside each other where tracks do not lead on. */
	readonly isClose: boolean;
	/** Whether they turn off by slants. */
	readonly isFan: boolean;
	/** Where more zones than this stay without tails, the others need none either. */
	readonly mostMissing: number;
}

/** Tails of a room's zones while they are laid, zones in the order of their ports. */
interface Laying extends LayTailsOptions {
	readonly setting: RoomSetting;
	readonly order: readonly Assignment[];
	readonly ports: readonly PortPair[];
	readonly tracks: readonly Track[];
	/** How far in front of the manifold the last track and a bend are passed, mm. */
	readonly behindAll: number;
	/** Zones that are reached straight from their ports, and those whose tails are still to be laid. */
	readonly straight: ReadonlySet<number>;
	readonly pending: Set<number>;
	/** Pipes that are there already. */
	readonly laid: Path[];
	readonly tails: (Tails | undefined)[];
}

/** How many zones on its side have their ports farther out than a zone's. */
const rankOf = ({ order }: Laying, i: number): number => (order[i]!.entry.way === -1 ? i : order.length - 1 - i);

/** The zones with tails along the walls in the order that these are laid in. */
function outermostFirst(laying: Laying): number[] {
	const { order, isFan, pending } = laying;
	// A fan grows from its outermost pipe inwards.
	const turnOf = (i: number): number => (isFan ? rankOf(laying, i) : Math.min(i, order.length - 1 - i));
	return [...pending].sort((a, b) => turnOf(a) - turnOf(b));
}

/** Places between the tails of the zones whose ports lie on either side of zone i's. */
function betweenOthers({ setting, ports, tails, laid }: Laying, i: number): Tails["between"] {
	const reachOn = (side: "left" | "right"): Reach[] => {
		const beside = tails.flatMap((own, k) => ((side === "left" ? k < i : k > i) ? (own?.paths ?? []) : []));
		const passing = beside.length === 0 ? setting.entrance.between[side] : undefined;
		const near = besideReach(setting, ports[i]!, side, beside, laid);
		const far = passing && corridorReach(setting, ports[i]!, side, passing, laid);
		return [near, far].filter((reach) => reach !== undefined);
	};
	let found: readonly Reach[] | undefined;
	return (arrives) => {
		found ??= (["left", "right"] as const).flatMap(reachOn);
		return found.flatMap((reach) => arrivingAt(reach, arrives));
	};
}

/** Both tails of zone i along the walls, the outer one first; fewer where they do not fit. */
function layAlong(laying: Laying, i: number): Tail[] {
	const { setting, order, ports, tracks, behindAll, straight, pending, laid, tails, isClose, isFan } = laying;
	const [zone, pair, rank] = [order[i]!, ports[i]!, rankOf(laying, i)];
	const waysOf = (zones: ReadonlySet<number>, depth: number): Path[] =>
		[...zones].flatMap((k) => straightWays(ports[k]!, depth, setting.rules));
	const depthFor = (radii: number): number => radii * setting.rules.minBendRadius;
	const waysFree = (radii: number): Path[] => [
		...waysOf(straight, depthFor(radii)),
		...waysOf(pending, depthFor(radii)),
	];
	const beside = order.flatMap((other, k) => (other.entry.way === zone.entry.way ? (tails[k]?.paths ?? []) : []));
	const layClose = (kept: readonly number[]): Tail[] =>
		layBeside(setting, zone, pair, beside, laid, kept.map(waysFree));
	let both: Tail[] = isClose && beside.length > 0 ? layClose(KEPT_FREE) : [];
	for (const [k, radii] of KEPT_FREE.entries()) {
		if (both.length === 2) break;
		const depth = depthFor(radii);
		// Bundles on either side leave the zone between them a way.
		const middle = waysOf(straight, k === 0 ? Math.max(depth, behindAll) : depth);
		const own = [tracks[2 * rank], tracks[2 * rank + 1]];
		both = layOnTracks(setting, zone, pair, own, [...laid, ...middle, ...waysOf(pending, depth)], isFan);
		if (both.length < 2 && isClose && beside.length === 0) both = layClose([radii]);
	}
	return both.length < 2 ? layAlongWall(setting, zone, pair, rank, laid) : both;
}

/**
 * Lays both tails of every zone, the nearest zones of either side last; undefined for zones whose tails do not fit, and
 * as a whole where those are too many.
 */
export function layTails(
	setting: RoomSetting,
	order: readonly Assignment[],
	ports: readonly PortPair[],
	{ isClose, isFan, mostMissing }: LayTailsOptions,
): (Tails | undefined)[] | undefined {
	const { rules } = setting;
	const tracks = tracksFor(setting, order);
	const inmost = tracks.at(-1);
	const [straight, pending] = [new Set<number>(), new Set<number>()];
	for (const [i, { entry }] of order.entries())
		(order.length === 1 || entry.along < AT_PORTS ? straight : pending).add(i);
	const laying: Laying = {
		isClose,
		isFan,
		mostMissing,
		setting,
		order,
		ports,
		tracks,
		behindAll: inmost ? depthOf(inmost, setting) + rules.minBendRadius : 0,
		straight,
		pending,
		laid: [...setting.others],
		tails: order.map(() => undefined),
	};
	const straightTo = (i: number): Tails => straightTails(ports[i]!, rules, betweenOthers(laying, i));
	for (const i of straight) laying.tails[i] = straightTo(i);
	let missing = 0;
	for (const i of outermostFirst(laying)) {
		const { entry } = order[i]!;
		pending.delete(i);
		const [outer, inner] = layAlong(laying, i);
		const direct = entry.along < NEAR_MANIFOLD ? straightTo(i) : undefined;
		laying.tails[i] = outer && inner ? tailsAlong(outer, inner, entry.way, direct?.reaches ?? []) : direct;
		if (outer && inner) laying.laid.push(outer.path, inner.path);
		if (!laying.tails[i] && ++missing > mostMissing) return undefined;
	}
	return laying.tails;
}
