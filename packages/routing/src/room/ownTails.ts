import { distance, type Path, type Point, type Pose } from "@oxturn/geometry";
import type { Reach } from "../tails/alongWall.ts";
import type { PortPair } from "../tails/apron.ts";
import { type ClearanceRules, staysOnFloor } from "../tails/clearance.ts";
import type { Tail } from "../tails/layTail.ts";
import type { TailEnd } from "../tails/leads.ts";
import type { Way } from "../tails/tracks.ts";
import type { Between } from "./closeTails.ts";

/*
 * The two tails of one zone, and the places where they may be left for its field: straight on from its ports, or along a
 * wall.
 */

/** How far pipes go straight on from their ports before they turn to a field, in such steps, mm. */
const STUB_REACH = 1200;
const STUB_STEP = 60;

/** Places that are found when they are asked for. */
export interface LazyReach {
	readonly left: () => Reach["left"];
	readonly right: () => Reach["right"];
}

/** Places that have been found. */
export const foundReach = ({ left, right }: Reach): LazyReach => ({ left: () => left, right: () => right });

/** The two tails of a zone. */
export interface Tails {
	/** The nearest places first; the next are looked for and tried when these do not serve. */
	readonly reaches: readonly LazyReach[];
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

/** Places straight on from the ports: mostly the pipes turn at once, and these are never asked for. */
function straightReach(pair: PortPair, rules: ClearanceRules): LazyReach {
	let left: readonly TailEnd[] | undefined;
	let right: readonly TailEnd[] | undefined;
	return {
		left: () => {
			left ??= straightOn(pair.return, rules);
			return left;
		},
		right: () => {
			right ??= straightOn(pair.flow, rules);
			return right;
		},
	};
}

/** Straight from the ports. */
export function straightTails(pair: PortPair, rules: ClearanceRules, between: Tails["between"]): Tails {
	const atPorts = foundReach({ left: [atPort(pair.return)], right: [atPort(pair.flow)] });
	const tails: Tails = {
		reaches: [atPorts, straightReach(pair, rules)],
		paths: [],
		between,
		continued: () => tails,
	};
	return tails;
}

/** Two tails along a wall, the outer one nearer to it; places without tails may serve first. */
export function tailsAlong(outer: Tail, inner: Tail, way: Way, first: readonly LazyReach[]): Tails {
	const reach = (ends: (tail: Tail) => readonly TailEnd[]): LazyReach =>
		foundReach(way === -1 ? { left: ends(outer), right: ends(inner) } : { left: ends(inner), right: ends(outer) });
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

/** The ways straight on from a pair of ports, `depth` mm long, or as far as the floor reaches. */
export function straightWays(pair: PortPair, depth: number, rules: ClearanceRules): Path[] {
	return [pair.flow, pair.return].flatMap((port) => {
		const end = straightOn(port, rules).findLast(({ path: [from, to] }) => distance(from!, to!) <= depth);
		return end ? [end.path] : [];
	});
}
