import { distance, nearestOnRing, type Path, type Point, type Pose } from "@oxturn/geometry";
import { arrivingAt, type Between, besideReach, corridorReach, layBeside } from "./closeTails.ts";
import type { RoomSetting } from "./roomSetting.ts";
import { type Reach, type WallSetting, wallTailsOf } from "./tails/alongWall.ts";
import type { PortPair } from "./tails/apron.ts";
import { type ClearanceRules, staysOnFloor } from "./tails/clearance.ts";
import { layTail, type Tail } from "./tails/layTail.ts";
import { layWallTail } from "./tails/layWallTail.ts";
import type { TailEnd } from "./tails/leads.ts";
import { tailPitch } from "./tails/pitch.ts";
import { type Track, type TrackSource, trackSource, type Way } from "./tails/tracks.ts";
import type { Assignment } from "./zones/entries.ts";

/** Zones that begin this near to the manifold are reached from their ports without a tail, mm. */
const AT_PORTS = 80;
/** How far pipes go straight on from their ports before they turn to a field, in such steps, mm. */
const STUB_REACH = 1200;
const STUB_STEP = 60;
/** For zones that begin this near, both are tried. */
const NEAR_MANIFOLD = 600;

/** The two tails of a zone. */
export interface Tails {
	/** The nearest places first; the next are tried when these do not serve. */
	readonly reaches: readonly Reach[];
	readonly paths: readonly Path[];
	/** For a zone at the manifold: tails along those that pass on either side of it, up to where they arrive. */
	readonly between: (arrives: (place: Point) => boolean) => readonly Between[];
	/** The same with both continued along the wall until they arrive; as they are where they do not. */
	readonly continued: (arrives: (place: Point) => boolean) => Tails;
}

/** Tails are continued in such steps, mm, and no farther than this. */
const ONWARD_STEP = 160;
const FARTHEST = 10_000;

const atPort = (port: Pose): TailEnd => ({ path: [port.at, port.at], pose: port });

/** The pipe straight on from its port, cut off at several depths: between two bundles it cannot turn at once. */
function straightOn({ at: from, heading }: Pose, rules: ClearanceRules): TailEnd[] {
	const cos = Math.cos(heading);
	const sin = Math.sin(heading);
	const ends: TailEnd[] = [];
	for (let depth = STUB_STEP; depth <= STUB_REACH; depth += STUB_STEP) {
		const at: Point = [from[0] + depth * cos, from[1] + depth * sin];
		ends.push({ path: [from, at], pose: { at, heading } });
	}
	// Mostly the longest stays on the floor, and so do all that are shorter.
	return ends.slice(0, ends.findLastIndex(({ path }) => staysOnFloor(path, rules)) + 1);
}

/** Places straight on from the ports, found when they are asked for: mostly the pipes turn at once. */
function straightReach(pair: PortPair, rules: ClearanceRules): Reach {
	let left: readonly TailEnd[] | undefined;
	let right: readonly TailEnd[] | undefined;
	return {
		get left() {
			left ??= straightOn(pair.return, rules);
			return left;
		},
		get right() {
			right ??= straightOn(pair.flow, rules);
			return right;
		},
	};
}

/** Straight from the ports. */
function straightTails(pair: PortPair, rules: ClearanceRules, between: Tails["between"]): Tails {
	const tails: Tails = {
		reaches: [{ left: [atPort(pair.return)], right: [atPort(pair.flow)] }, straightReach(pair, rules)],
		paths: [],
		between,
		continued: () => tails,
	};
	return tails;
}

/** Two tails along a wall, the outer one nearer to it; places without tails may serve first. */
function tailsAlong(outer: Tail, inner: Tail, way: Way, first: readonly Reach[]): Tails {
	const reach = (ends: (tail: Tail) => readonly TailEnd[]): Reach =>
		way === -1 ? { left: ends(outer), right: ends(inner) } : { left: ends(inner), right: ends(outer) };
	const until = (tail: Tail, arrives: (place: Point) => boolean): Tail => {
		for (let farther = 0; farther <= FARTHEST; farther += ONWARD_STEP)
			if (arrives(tail.placeAt(farther))) return farther === 0 ? tail : (tail.continued(farther) ?? tail);
		return tail;
	};
	const tails: Tails = {
		reaches: [...first, reach((tail) => tail.ends), reach((tail) => tail.later)],
		paths: [outer.path, inner.path],
		between: () => [],
		continued: (arrives) => {
			const [nextOuter, nextInner] = [until(outer, arrives), until(inner, arrives)];
			return nextOuter === outer && nextInner === inner ? tails : tailsAlong(nextOuter, nextInner, way, first);
		},
	};
	return tails;
}

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

/** The ways straight on from a pair of ports, `depth` mm long, or as far as the floor reaches. */
function straightWays(pair: PortPair, depth: number, rules: ClearanceRules): Path[] {
	return [pair.flow, pair.return].flatMap((port) => {
		const end = straightOn(port, rules).findLast(({ path: [from, to] }) => distance(from!, to!) <= depth);
		return end ? [end.path] : [];
	});
}

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
	for (const wall of wallTailsOf(wallSetting(setting), pair, entry.way === -1 ? "left" : "right", rank)) {
		const before = [...others, ...both.map(({ path }) => path)];
		const tail = layWallTail({ ...wall, entry: entry.point, others: before, rules: setting.rules });
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
}

/**
 * Lays both tails of every zone, the nearest zones of either side last; undefined for zones whose tails do not fit.
 */
export function layTails(
	setting: RoomSetting,
	order: readonly Assignment[],
	ports: readonly PortPair[],
	{ isClose, isFan }: LayTailsOptions,
): (Tails | undefined)[] {
	const { rules } = setting;
	const n = order.length;
	const tracks = tracksFor(setting, order);
	const inmost = tracks.at(-1);
	const behindAll = inmost ? depthOf(inmost, setting) + rules.minBendRadius : 0;
	const laid: Path[] = [...setting.others];
	const tails: (Tails | undefined)[] = order.map(() => undefined);
	/** Zones that are reached straight from their ports, and those whose tails are still to be laid. */
	const [straight, pending] = [new Set<number>(), new Set<number>()];
	for (const [i, { entry }] of order.entries()) (n === 1 || entry.along < AT_PORTS ? straight : pending).add(i);
	/** Between the tails of the zones whose ports lie on either side. */
	const between = (i: number): Tails["between"] => {
		let found: readonly Reach[] | undefined;
		return (arrives) => {
			found ??= (["left", "right"] as const).flatMap((side) => {
				const beside = tails.flatMap((own, k) => ((side === "left" ? k < i : k > i) ? (own?.paths ?? []) : []));
				const passing = beside.length === 0 ? setting.entrance.between[side] : undefined;
				const near = besideReach(setting, ports[i]!, side, beside, laid);
				const far = passing && corridorReach(setting, ports[i]!, side, passing, laid);
				return [near, far].filter((reach) => reach !== undefined);
			});
			return found.flatMap((reach) => arrivingAt(reach, arrives));
		};
	};
	for (const i of straight) tails[i] = straightTails(ports[i]!, rules, between(i));
	const waysOf = (zones: ReadonlySet<number>, depth: number): Path[] =>
		[...zones].flatMap((i) => straightWays(ports[i]!, depth, rules));
	const rankOf = (i: number): number => (order[i]!.entry.way === -1 ? i : n - 1 - i);
	// A fan grows from its outermost pipe inwards.
	const turnOf = (i: number): number => (isFan ? rankOf(i) : Math.min(i, n - 1 - i));
	const outermostFirst = [...pending].sort((a, b) => turnOf(a) - turnOf(b));
	for (const i of outermostFirst) {
		const { entry } = order[i]!;
		const pair = ports[i]!;
		pending.delete(i);
		const rank = rankOf(i);
		const own = [tracks[2 * rank], tracks[2 * rank + 1]];
		let both: Tail[] = [];
		const waysFree = (radii: number): Path[] => {
			const depth = radii * rules.minBendRadius;
			return [...waysOf(straight, depth), ...waysOf(pending, depth)];
		};
		const beside = order.flatMap((other, k) => (other.entry.way === entry.way ? (tails[k]?.paths ?? []) : []));
		const layClose = (kept: readonly number[]): Tail[] =>
			layBeside(setting, order[i]!, pair, beside, laid, kept.map(waysFree));
		if (isClose && beside.length > 0) both = layClose(KEPT_FREE);
		for (const [k, radii] of KEPT_FREE.entries()) {
			if (both.length === 2) break;
			const depth = radii * rules.minBendRadius;
			// Bundles on either side leave the zone between them a way.
			const middle = waysOf(straight, k === 0 ? Math.max(depth, behindAll) : depth);
			both = layOnTracks(setting, order[i]!, pair, own, [...laid, ...middle, ...waysOf(pending, depth)], isFan);
			if (both.length < 2 && isClose && beside.length === 0) both = layClose([radii]);
		}
		if (both.length < 2) both = layAlongWall(setting, order[i]!, pair, rank, laid);
		const [outer, inner] = both;
		const direct = entry.along < NEAR_MANIFOLD ? straightTails(pair, rules, between(i)) : undefined;
		if (!outer || !inner) {
			tails[i] = direct;
			continue;
		}
		laid.push(outer.path, inner.path);
		tails[i] = tailsAlong(outer, inner, entry.way, direct?.reaches ?? []);
	}
	return tails;
}
