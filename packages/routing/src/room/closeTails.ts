import { type Path, type Point, type Pose, pathLength, type Region } from "@oxturn/geometry";
import { fingerprint } from "../fingerprint.ts";
import { endsOn, type Reach } from "../tails/alongWall.ts";
import type { PortPair } from "../tails/apron.ts";
import { besideTracks } from "../tails/besideTails.ts";
import { type ClearanceRules, clearOfPipes, staysOnFloor } from "../tails/clearance.ts";
import type { Side } from "../tails/lanes.ts";
import type { Tail } from "../tails/layTail.ts";
import { alongWall, tailOnWall, type WallTrack } from "../tails/layWallTail.ts";
import type { TailEnd } from "../tails/leads.ts";
import { tailPitch } from "../tails/pitch.ts";
import type { Assignment } from "../zones/entries.ts";
import type { RoomSetting } from "./roomSetting.ts";

/*
 * Tails of a zone close beside those of others: laid in place of tails on tracks where there is no room for those, or
 * looked for on either side of a zone that lies wedged between two bundles.
 */

/** Both pipes of a zone beside the tails on one side. */
export interface Between {
	readonly reach: Reach;
	/** Up to where they arrive. */
	readonly paths: readonly Path[];
}

/** How a pipe keeps beside other tails. */
interface Manner {
	/** How far off walls, as a share of the edge distance. */
	readonly edgeShare: number;
	/** How far it goes straight on before it turns: every length is tried, in bend radii. */
	readonly straightRadii: readonly number[];
	/** Up to which share of the apron it lies as close as it may there. */
	readonly closeTo: number;
}

/** In a tongue there is no more room; every way is dear to find, and one of these fits or none. */
const MANNERS: readonly Manner[] = [
	{ edgeShare: 1, straightRadii: [0.5, 1, 1.5, 2, 3], closeTo: 0.5 },
	{ edgeShare: 0.4, straightRadii: [0.5, 1.5], closeTo: 0.5 },
];
/** Where a corridor between tails begins far in the apron, pipes have to lie close up to there. */
const CLOSE_MANNERS: readonly Manner[] = [{ edgeShare: 1, straightRadii: [0.5, 1, 2, 3, 4, 5, 6, 7], closeTo: 0.85 }];

/** Where and how places beside other tails are looked for. */
interface Search {
	readonly manners: readonly Manner[];
	/** What the pipes lie on: those tails aside, they keep off its edge. */
	readonly floor: Region;
	/** Centre to centre of tails beyond the apron, mm. */
	readonly pitch: number;
	/** The farthest place, and how far a way has to lead at the least, mm. */
	readonly farthest: number;
	readonly least: number;
}

/** Ways of one manner. */
type Ways = () => Iterable<WallTrack>;

/** Ways beside the same tails, each found once: they are asked for again for every way to cut the room. */
export type BesideWays = (key: string, find: () => readonly Iterator<WallTrack>[]) => readonly Ways[];

export function besideWays(): BesideWays {
	const known = new Map<string, readonly Ways[]>();
	return (key, find) => {
		const ways = known.get(key) ?? find().map(remembered);
		known.set(key, ways);
		return ways;
	};
}

/** The ways of a pipe beside tails on one side, manner by manner, the likeliest first. */
function waysBeside(
	{ room, walls, rules, system, berth, besideWays, spend }: RoomSetting,
	port: Pose,
	side: Side,
	beside: readonly Path[],
	{ manners, floor, pitch }: Pick<Search, "manners" | "floor" | "pitch">,
): readonly Ways[] {
	const key = [port.at, port.heading, side, floor === walls, pitch, manners === MANNERS, fingerprint(beside)].join(" ");
	return besideWays(key, () =>
		manners.map(({ edgeShare, straightRadii, closeTo }) =>
			besideTracks({
				floor,
				port,
				side,
				berth: berth(beside, { pitch, closeTo }),
				edgeDistance: Math.max(edgeShare * room.edgeDistance, system.pipe.outerDiameter / 2 + 1),
				straights: straightRadii.map((radii) => radii * rules.minBendRadius),
				rules,
				onRounding: () => spend(ROUNDING),
			}),
		),
	);
}

/** What rounding a way beside tails counts for: as much as so many tries to join a field. */
const ROUNDING = 2;

/** How far beyond its end the outer tail of a zone keeps the inner one off, the first that it can be led on, mm. */
const PAST_ENTRY = [6000, 1000];
/** Where pipes leave the tails that they keep beside: every so many mm, and no farther than this. */
const BESIDE_STEP = 100;
const BESIDE_REACH = 4000;
/** The same where the tails of other rooms leave a corridor, mm. */
const CORRIDOR_REACH = 10_000;
/** Ways that are barred before this, in bend radii, lead nowhere. */
const LEAST_WAY = 3;

/** The places beside other tails that a pipe can be laid to clear of all; none where there is no way. */
function endsBeside(
	setting: RoomSetting,
	port: Pose,
	side: Side,
	beside: readonly Path[],
	others: readonly Path[],
	search: Search,
): readonly TailEnd[] {
	const { rules } = setting;
	for (const ways of waysBeside(setting, port, side, beside, search))
		for (const wall of ways()) {
			const ends = endsOn(
				wall,
				port.at,
				{ from: 2 * rules.minBendRadius, to: search.farthest, step: BESIDE_STEP },
				(path) => staysOnFloor(path, rules) && clearOfPipes(path, others, rules),
			);
			const last = ends.at(-1);
			if (last && pathLength(last.path) > search.least) return ends;
		}
	return [];
}

/** Places where both pipes of a zone may leave the tails on one side for its field. */
function reachBeside(
	setting: RoomSetting,
	pair: PortPair,
	side: Side,
	beside: readonly Path[],
	others: readonly Path[],
	search: Search,
): Reach | undefined {
	const [outer, inner] = side === "left" ? [pair.return, pair.flow] : [pair.flow, pair.return];
	const outers = endsBeside(setting, outer, side, beside, others, search);
	const last = outers.at(-1);
	const inners = last ? endsBeside(setting, inner, side, [...beside, last.path], others, search) : [];
	if (inners.length === 0) return undefined;
	return side === "left" ? { left: outers, right: inners } : { left: inners, right: outers };
}

/** What tails of the same room keep to beside each other. */
const inRoom = ({ floor, system, rules }: RoomSetting): Search => ({
	manners: MANNERS,
	floor,
	pitch: tailPitch(system),
	farthest: BESIDE_REACH,
	least: LEAST_WAY * rules.minBendRadius,
});

/** Places beside the tails of other zones on one side, or along the wall where there are none. */
export const besideReach = (
	setting: RoomSetting,
	pair: PortPair,
	side: Side,
	beside: readonly Path[],
	others: readonly Path[],
): Reach | undefined => reachBeside(setting, pair, side, beside, others, inRoom(setting));

/** Places along a corridor that the tails of other rooms leave, beside the one on a side: often it is no wider than a pair. */
export function corridorReach(
	setting: RoomSetting,
	pair: PortPair,
	side: Side,
	passing: Path,
	others: readonly Path[],
): Reach | undefined {
	const { walls, rules } = setting;
	for (const manners of [MANNERS, CLOSE_MANNERS]) {
		const search = { manners, floor: walls, pitch: rules.apart, farthest: CORRIDOR_REACH, least: rules.apronReach };
		const reach = reachBeside(setting, pair, side, [passing], others, search);
		if (reach) return reach;
	}
	return undefined;
}

/** Places from a little before the first that arrives on, and the way there; none where both do not. */
export function arrivingAt({ left, right }: Reach, arrives: (place: Point) => boolean): Between[] {
	const [l, r] = [left, right].map((ends) => ends.findIndex(({ pose }) => arrives(pose.at)));
	if (l! < 0 || r! < 0) return [];
	const around = (ends: readonly TailEnd[], at: number): readonly TailEnd[] => ends.slice(Math.max(0, at - 3), at + 5);
	return [{ reach: { left: around(left, l!), right: around(right, r!) }, paths: [left[l!]!.path, right[r!]!.path] }];
}

/** So far on, in bend radii, ways of one manner run alike, wherever they have turned. */
const ALIKE = 12;

/** Whether a way is clear up to where others of its manner run alike: what bars it farther on bars those too. */
function beginsClear(wall: WallTrack, port: Pose, others: readonly Path[], rules: ClearanceRules): boolean {
	const start = ALIKE * rules.minBendRadius;
	if ((wall.longest ?? Infinity) < start) return false;
	const path = alongWall(wall, port.at, start);
	return staysOnFloor(path, rules) && clearOfPipes(path, others, rules);
}

/** Both tails of a zone close beside those that are laid on its side already. */
export function layBeside(
	setting: RoomSetting,
	{ entry }: Assignment,
	pair: PortPair,
	beside: readonly Path[],
	others: readonly Path[],
	/** Ways of pipes of other zones: the first of them that can all be kept free are. */
	free: readonly (readonly Path[])[],
): Tail[] {
	const { rules } = setting;
	const [outer, inner] = entry.way === -1 ? [pair.return, pair.flow] : [pair.flow, pair.return];
	const side: Side = entry.way === -1 ? "left" : "right";
	/** The first way of a port on which a tail fits. */
	const firstOn = (manners: readonly Ways[], port: Pose, before: readonly Path[]): Tail | undefined => {
		for (const ways of manners)
			for (const wall of ways()) {
				const tail = tailOnWall(wall, { port, entry: entry.point, others: before, rules });
				if (tail) return tail;
				if (beginsClear(wall, port, before, rules)) break;
			}
		return undefined;
	};
	const search = inRoom(setting);
	const outerWays = waysBeside(setting, outer, side, beside, search);
	for (const ways of free) {
		const before = [...others, ...ways];
		const first = firstOn(outerWays, outer, before);
		if (!first) continue;
		const inners = waysBeside(setting, inner, side, [...beside, onward(first)], search);
		const second = firstOn(inners, inner, [...before, first.path]);
		if (second) return [first, second];
	}
	return [];
}

/** A tail led on far enough that the inner one does not turn in behind its end. */
const onward = (tail: Tail): Path =>
	(PAST_ENTRY.map((farther) => tail.continued(farther)).find((longer) => longer !== undefined) ?? tail).path;

/** What a generator gives, made once and given again. */
function remembered<Item>(source: Iterator<Item>): () => Iterable<Item> {
	const items: Item[] = [];
	return function* () {
		for (let i = 0; ; i++) {
			if (i === items.length) {
				const next = source.next();
				if (next.done) return;
				items.push(next.value);
			}
			yield items[i]!;
		}
	};
}
