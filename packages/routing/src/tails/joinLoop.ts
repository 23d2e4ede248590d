import { boundingBox, distance, flattenCurve, type Path, type Point, pathLength, type Ring } from "@oxturn/geometry";
import { stretchesIn } from "../boxes.ts";
import { barred, type Measured, measured } from "./barred.ts";
import { type ClearanceRules, clearOfItself, clearOfPipes, staysOnFloor } from "./clearance.ts";
import {
	type Chances,
	chancesOf,
	insert,
	type Lead,
	leadsInOrder,
	type Opening,
	openingsOf,
	type TailEnd,
} from "./leads.ts";
import { leastPartners, type OpeningRange } from "./partners.ts";

/*
 * A field's outline is closed. Its loop opens it where the tails arrive, takes out a short stretch and leads the two
 * ends to the tails by arcs of the pipe's own radius. All openings nearby are tried, the shortest and straightest first.
 */

export interface JoinLoopOptions {
	/** The field's rounded outline, anticlockwise. */
	readonly ring: Ring;
	/** Places where the tail on the right, seen on the way to the field, may end. */
	readonly right: readonly TailEnd[];
	/** The same for the tail on the left. */
	readonly left: readonly TailEnd[];
	/** Pipes already placed. */
	readonly others: readonly Path[];
	readonly spacing: number;
	readonly rules: ClearanceRules;
	/** How far from the tails' ends the outline may be opened, mm. */
	readonly reach: number;
}

/** The whole pipe from the right tail's port round the field to the left tail's port. */
export interface JoinedLoop {
	readonly path: Path;
	/** Length of outline taken out, mm. */
	readonly removed: number;
}

/** Pairs of leads that are tried in full. */
const MAX_TRIES = 60;
/** Leads kept for each end. */
const MAX_LEADS = 60;
/** Leads looked at, in all and for each place where the tail may end: dearer ones hardly ever serve where these do not. */
const MAX_LOOKS = 300;
const MAX_LOOKS_EACH = 16;

/** A lead that keeps clear of everything already placed. */
interface GoodLead extends Lead {
	readonly points: Path;
	/** Length of outline behind the opening that has to be taken out, mm. */
	readonly bars: number;
}

/** Leads that keep clear of everything placed, in order of what they promise, found one by one. */
interface LeadSource {
	readonly good: GoodLead[];
	/** No lead still to come promises less; infinite at the end. */
	readonly least: () => number;
	/** Looks at the next lead; true when it is good. */
	readonly advance: () => boolean;
}

function leadSource(
	chances: Chances,
	partners: Float64Array,
	reverse: boolean,
	longest: number,
	outline: Measured,
	{ rules, others }: Pick<JoinLoopOptions, "rules" | "others">,
): LeadSource {
	const skip = Math.PI * rules.minBendRadius + 60;
	const leads = leadsInOrder(chances, partners);
	const good: GoodLead[] = [];
	const mostLooks = Math.min(MAX_LOOKS, MAX_LOOKS_EACH * chances.ends.length);
	let next = leads.next();
	let looks = 0;
	return {
		good,
		least: () => (next.done || good.length >= MAX_LEADS || looks >= mostLooks ? Infinity : next.value.promise),
		advance: () => {
			if (next.done) return false;
			const { opening, end, curve, cost, promise } = next.value;
			next = leads.next();
			looks++;
			const points = flattenCurve(curve);
			if (!staysOnFloor(points, rules) || !clearOfPipes(points, others, rules)) return false;
			const near = [...withoutStart(end.path, longest / 2), ...points.slice(1)];
			const bars = barred(near, opening, reverse, outline, skip, longest, rules);
			if (bars > longest) return false;
			good.push({ opening, end, curve, cost, promise, points, bars });
			return true;
		},
	};
}

interface Pair {
	readonly right: GoodLead;
	readonly left: GoodLead;
	readonly removed: number;
	readonly cost: number;
}

/** Shortest stretch of outline that is taken out, mm. */
const SHORTEST_OPENING = 20;

/** Pairs of leads that open the outline far enough and not too far, in order of cost. */
function* pairsInOrder(
	rights: LeadSource,
	lefts: LeadSource,
	{ shortest, longest, total }: OpeningRange,
): Generator<Pair> {
	/** Known and not yet given, the dearest first. */
	const waiting: Pair[] = [];
	const add = (right: GoodLead, left: GoodLead): void => {
		const removed = (right.opening.position - left.opening.position + total) % total;
		if (removed < Math.max(shortest, right.bars, left.bars) || removed > longest) return;
		if (right.opening.edge === left.opening.edge && right.opening.position < left.opening.position) return;
		insert(waiting, { right, left, removed, cost: right.cost + left.cost + removed }, ({ cost }) => cost);
	};
	for (;;) {
		const [nextRight, nextLeft] = [rights.least(), lefts.least()];
		// A pair still to come has a lead still to come, which promises no more than the pair costs.
		const bound = Math.min(nextRight, nextLeft);
		while (waiting.length > 0 && waiting[waiting.length - 1]!.cost <= bound) yield waiting.pop()!;
		if (bound === Infinity) return;
		if (nextRight <= nextLeft) {
			if (rights.advance()) for (const left of lefts.good) add(rights.good.at(-1)!, left);
		} else if (lefts.advance()) for (const right of rights.good) add(right, lefts.good.at(-1)!);
	}
}

/** The part of the ring that is kept, from one opening on anticlockwise to another. */
function keptPart(ring: Ring, from: Opening, to: Opening): Point[] {
	const points: Point[] = [from.pose.at];
	let last = from.pose.at;
	const add = (p: Point): void => {
		if (distance(p, last) > 0.01) points.push(p);
		last = p;
	};
	for (let k = 1; k <= ring.length; k++) {
		const i = (from.edge + k) % ring.length;
		add(ring[i]!);
		if (i === to.edge) break;
	}
	add(to.pose.at);
	return points;
}

/** A tail without its last `cut` mm; empty when it is shorter. */
function withoutEnd(path: Path, cut: number): Path {
	let rest = cut;
	let last = path.length - 1;
	while (last > 0 && rest > 0) rest -= distance(path[last]!, path[--last]!);
	return path.slice(0, last + 1);
}

/** The last `length` mm of a path, from a point of it on; all of it when it is shorter. */
function withoutStart(path: Path, length: number): Path {
	let rest = length;
	let first = path.length - 1;
	while (first > 0 && rest > 0) rest -= distance(path[first]!, path[--first]!);
	return path.slice(first);
}

/** Ends whose tails keep clear of the field all the way; only near its end may a tail meet what will be opened. */
function clearEnds(ends: readonly TailEnd[], { closed }: Measured, longest: number, rules: ClearanceRules): TailEnd[] {
	return ends.filter(({ path }) => clearOfPipes(withoutEnd(path, longest / 2), [closed], rules));
}

/** Whether two leads keep clear of each other and of each other's tails. */
function apart(right: GoodLead, left: GoodLead, rules: ClearanceRules): boolean {
	return (
		clearOfPipes(right.points, [left.points, left.end.path], rules) &&
		clearOfPipes(left.points, [right.end.path], rules)
	);
}

/** Undefined when no opening within reach can be joined without breaking a rule. */
export function joinLoop(options: JoinLoopOptions): JoinedLoop | undefined {
	const { ring, spacing, rules } = options;
	const outline = measured(ring);
	const { total } = outline;
	const step = Math.max(40, spacing / 2);
	const longest = Math.max(6 * spacing, 8 * rules.minBendRadius);
	const ends = [...options.right, ...options.left].map((end) => end.pose.at);
	const [minX, minY, maxX, maxY] = boundingBox(ends);
	// No lead strays farther from its end than the opening it goes to, and round by its turns.
	const margin = options.reach + 4 * rules.minBendRadius + rules.apart;
	const others = stretchesIn(options.others, [minX - margin, minY - margin, maxX + margin, maxY + margin]);
	const right = clearEnds(options.right, outline, longest, rules);
	const left = clearEnds(options.left, outline, longest, rules);
	const openings = openingsOf(ring, [...right, ...left], options.reach, step);
	const range: OpeningRange = { shortest: SHORTEST_OPENING, longest, total };
	const toRight = chancesOf(right, openings, false, rules.minBendRadius);
	const toLeft = chancesOf(left, openings, true, rules.minBendRadius);
	const clear = { rules, others };
	const rights = leadSource(toRight, leastPartners(openings, toLeft, "behind", range), false, longest, outline, clear);
	const lefts = leadSource(toLeft, leastPartners(openings, toRight, "ahead", range), true, longest, outline, clear);
	let tries = 0;
	for (const { right, left, removed } of pairsInOrder(rights, lefts, range)) {
		if (!apart(right, left, rules)) continue;
		if (++tries > MAX_TRIES) break;
		const kept = keptPart(ring, right.opening, left.opening);
		const path = [
			...right.end.path.slice(0, -1),
			...right.points,
			...kept.slice(1, -1),
			...[...left.points].reverse(),
			...[...left.end.path].reverse().slice(1),
		];
		const length = pathLength(path);
		const head = pathLength(right.end.path) + right.curve.length + 1;
		const tail = length - pathLength(left.end.path) - left.curve.length - 1;
		if (clearOfItself(path, head, tail, rules)) return { path, removed };
	}
	return undefined;
}
