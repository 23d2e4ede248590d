import { type Path, type Point, type Pose, pathLength } from "@oxturn/geometry";
import { fingerprint } from "./fingerprint.ts";
import type { RoomSetting } from "./roomSetting.ts";
import { endsOn, type Reach } from "./tails/alongWall.ts";
import type { PortPair } from "./tails/apron.ts";
import { besideTracks } from "./tails/besideTails.ts";
import { type ClearanceRules, clearOfPipes, staysOnFloor } from "./tails/clearance.ts";
import type { Side } from "./tails/lanes.ts";
import type { Tail } from "./tails/layTail.ts";
import { alongWall, tailOnWall, type WallTrack } from "./tails/layWallTail.ts";
import type { TailEnd } from "./tails/leads.ts";
import { tailPitch } from "./tails/pitch.ts";
import type { Assignment } from "./zones/entries.ts";

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

/**
 * Pipes keep this far off walls beside other tails, as shares of the edge distance, and go straight on so far before they
 * turn, in bend radii. In a tongue there is no more room; every way is dear to find, and one of these fits or none.
 */
const MANNERS = [
	{ edgeShare: 1, straightRadii: [0.5, 1, 1.5, 2, 3] },
	{ edgeShare: 0.4, straightRadii: [0.5, 1.5] },
];

/** The ways of a pipe beside tails on one side, manner by manner, the likeliest first. */
function waysBeside(
	{ floor, room, rules, system }: RoomSetting,
	port: Pose,
	side: Side,
	beside: readonly Path[],
): Generator<WallTrack>[] {
	return MANNERS.map(({ edgeShare, straightRadii }) =>
		besideTracks({
			floor,
			port,
			side,
			beside,
			edgeDistance: Math.max(edgeShare * room.edgeDistance, system.pipe.outerDiameter / 2 + 1),
			straights: straightRadii.map((radii) => radii * rules.minBendRadius),
			pitch: tailPitch(system),
			rules,
		}),
	);
}

/** How far beyond its end the outer tail of a zone keeps the inner one off, the first that it can be led on, mm. */
const PAST_ENTRY = [6000, 1000];
/** Where pipes leave the tails that they keep beside: every so many mm, and no farther than this. */
const BESIDE_STEP = 100;
const BESIDE_REACH = 4000;
/** Ways that are barred before this, in bend radii, lead nowhere. */
const LEAST_WAY = 3;

/** The places beside other tails that a pipe can be laid to clear of all; none where there is no way. */
function endsBeside(
	setting: RoomSetting,
	port: Pose,
	side: Side,
	beside: readonly Path[],
	others: readonly Path[],
): readonly TailEnd[] {
	const { rules } = setting;
	for (const ways of waysBeside(setting, port, side, beside))
		for (const wall of ways) {
			const ends = endsOn(
				wall,
				port.at,
				{ from: 2 * rules.minBendRadius, to: BESIDE_REACH, step: BESIDE_STEP },
				(path) => staysOnFloor(path, rules) && clearOfPipes(path, others, rules),
			);
			const last = ends.at(-1);
			if (last && pathLength(last.path) > LEAST_WAY * rules.minBendRadius) return ends;
		}
	return [];
}

/** Places beside the tails on one side where both pipes of a zone may leave for its field. */
export function besideReach(
	setting: RoomSetting,
	pair: PortPair,
	side: Side,
	beside: readonly Path[],
	others: readonly Path[],
): Reach | undefined {
	const [outer, inner] = side === "left" ? [pair.return, pair.flow] : [pair.flow, pair.return];
	const outers = endsBeside(setting, outer, side, beside, others);
	const last = outers.at(-1);
	const inners = last ? endsBeside(setting, inner, side, [...beside, last.path], others) : [];
	if (inners.length === 0) return undefined;
	return side === "left" ? { left: outers, right: inners } : { left: inners, right: outers };
}

/** Places from a little before the first that arrives on, and the way there; none where both do not. */
export function arrivingAt({ left, right }: Reach, arrives: (place: Point) => boolean): Between[] {
	const [l, r] = [left, right].map((ends) => ends.findIndex(({ pose }) => arrives(pose.at)));
	if (l! < 0 || r! < 0) return [];
	const around = (ends: readonly TailEnd[], at: number): readonly TailEnd[] => ends.slice(Math.max(0, at - 3), at + 5);
	return [{ reach: { left: around(left, l!), right: around(right, r!) }, paths: [left[l!]!.path, right[r!]!.path] }];
}

/** Ways of one manner. */
type Ways = () => Iterable<WallTrack>;

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
	const outerWays = waysBeside(setting, outer, side, beside).map(remembered);
	/** By the outer pipe's path: often it is the same whatever is kept free. */
	const innerWays = new Map<string, readonly Ways[]>();
	for (const ways of free) {
		const before = [...others, ...ways];
		const first = firstOn(outerWays, outer, before);
		if (!first) continue;
		const key = fingerprint([first.path]);
		const inners = innerWays.get(key) ?? waysBeside(setting, inner, side, [...beside, onward(first)]).map(remembered);
		innerWays.set(key, inners);
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
