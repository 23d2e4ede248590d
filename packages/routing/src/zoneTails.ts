import { nearestOnRing, type Path, type Point, type Pose } from "@oxturn/geometry";
import type { RoomSetting } from "./roomSetting.ts";
import { type Reach, type WallSetting, wallTailsOf } from "./tails/alongWall.ts";
import type { PortPair } from "./tails/apron.ts";
import { type ClearanceRules, staysOnFloor } from "./tails/clearance.ts";
import type { TailEnd } from "./tails/joinLoop.ts";
import { layTail, type Tail } from "./tails/layTail.ts";
import { layWallTail } from "./tails/layWallTail.ts";
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
	/** The same with both continued along the wall until they arrive; as they are where they do not. */
	readonly continued: (arrives: (place: Point) => boolean) => Tails;
}

/** Tails are continued in such steps, mm, and no farther than this. */
const ONWARD_STEP = 160;
const FARTHEST = 10_000;

const direct = (port: Pose): TailEnd => ({ path: [port.at, port.at], pose: port });

/** The pipe straight on from its port, cut off at several depths: between two bundles it cannot turn at once. */
function straightOn(port: Pose, rules: ClearanceRules): TailEnd[] {
	const ends: TailEnd[] = [];
	for (let depth = STUB_STEP; depth <= STUB_REACH; depth += STUB_STEP) {
		const at: Point = [port.at[0] + depth * Math.cos(port.heading), port.at[1] + depth * Math.sin(port.heading)];
		const path = [port.at, at];
		if (!staysOnFloor(path, rules)) break;
		ends.push({ path, pose: { at, heading: port.heading } });
	}
	return ends;
}

/** Straight from the ports. */
function straightTails(pair: PortPair, rules: ClearanceRules): Tails {
	const tails: Tails = {
		reaches: [
			{ left: [direct(pair.return)], right: [direct(pair.flow)] },
			{ left: straightOn(pair.return, rules), right: straightOn(pair.flow, rules) },
		],
		paths: [],
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

/** Straight on from the ports of zones that begin at the manifold: bundles on either side leave their pipes a way. */
function corridorOf(
	{ rules, entrance }: RoomSetting,
	order: readonly Assignment[],
	ports: readonly PortPair[],
	tracks: readonly Track[],
): Path[] {
	const last = tracks.at(-1);
	if (!last) return [];
	const depth = nearestOnRing(last.ring, entrance.at).distance + rules.minBendRadius;
	return order.flatMap(({ entry }, i) => {
		if (entry.along >= AT_PORTS) return [];
		const { flow, return: back } = ports[i]!;
		return [flow, back].map(
			({ at: [x, y], heading }): Path => [
				[x, y],
				[x + depth * Math.cos(heading), y + depth * Math.sin(heading)],
			],
		);
	});
}

/** Lays both tails of every zone, the nearest zones of either side last; undefined for zones whose tails do not fit. */
export function layTails(
	setting: RoomSetting,
	order: readonly Assignment[],
	ports: readonly PortPair[],
): (Tails | undefined)[] {
	const { rules } = setting;
	const n = order.length;
	const goingLeft = order.filter(({ entry }) => entry.way === -1).length;
	const count = 2 * Math.max(goingLeft, n - goingLeft);
	const needed = order.some(({ entry }) => entry.along >= AT_PORTS) && n > 1;
	const tracks = needed ? setting.tracks(count) : [];
	const laid: Path[] = [...setting.others, ...corridorOf(setting, order, ports, tracks)];
	const tails: (Tails | undefined)[] = order.map(() => undefined);
	const outermostFirst = order.map((_, i) => i).sort((a, b) => Math.min(a, n - 1 - a) - Math.min(b, n - 1 - b));
	for (const i of outermostFirst) {
		const { entry } = order[i]!;
		const pair = ports[i]!;
		const straight = straightTails(pair, rules);
		if (n === 1 || entry.along < AT_PORTS) {
			tails[i] = straight;
			continue;
		}
		const rank = entry.way === -1 ? i : n - 1 - i;
		const both: Tail[] = [];
		for (const [k, port] of (entry.way === -1 ? [pair.return, pair.flow] : [pair.flow, pair.return]).entries()) {
			const track = tracks[2 * rank + k];
			const others = [...laid, ...both.map((tail) => tail.path)];
			const tail = track && layTail({ port, track, way: entry.way, entry: entry.point, others, rules });
			if (tail) both.push(tail);
		}
		if (both.length < 2) {
			both.length = 0;
			for (const wall of wallTailsOf(wallSetting(setting), pair, entry.way === -1 ? "left" : "right", rank)) {
				const others = [...laid, ...both.map(({ path }) => path)];
				const tail = layWallTail({ ...wall, entry: entry.point, others, rules });
				if (tail) both.push(tail);
			}
		}
		const [outer, inner] = both;
		if (!outer || !inner) {
			if (entry.along < NEAR_MANIFOLD) tails[i] = straight;
			continue;
		}
		laid.push(outer.path, inner.path);
		tails[i] = tailsAlong(outer, inner, entry.way, entry.along < NEAR_MANIFOLD ? straight.reaches : []);
	}
	return tails;
}
