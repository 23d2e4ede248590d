import {
	boundingBox,
	type Curve,
	curvesBetween,
	direction,
	distance,
	flattenCurve,
	type Path,
	type Point,
	type Pose,
	pathLength,
	type Ring,
} from "@oxturn/geometry";
import { boxesMeet, boxesOf, CHUNK, stretchesIn } from "./boxes.ts";
import { type ClearanceRules, clearOfItself, clearOfPiece, clearOfPipes, staysOnFloor } from "./clearance.ts";
import { leastFirst } from "./heap.ts";

/*
 * A field's outline is closed. Its loop opens it where the tails arrive, takes out a short stretch and leads the two
 * ends to the tails by arcs of the pipe's own radius. All openings nearby are tried, the shortest and straightest first.
 */

/** A tail laid so far: from its port to `pose`, where it may leave for the field. */
export interface TailEnd {
	readonly path: Path;
	readonly pose: Pose;
}

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

interface Opening {
	readonly pose: Pose;
	/** Distance along the ring from its first point, mm. */
	readonly position: number;
	readonly edge: number;
}

/** Chords of arcs are shorter than this, mm; only on straight sides is the direction known. */
const STRAIGHT_SIDE = 32;
/** Pairs of leads that are tried in full. */
const MAX_TRIES = 60;
/** Leads kept for each end. */
const MAX_LEADS = 60;
/** Leads looked at for each end: dearer ones hardly ever serve where these do not. */
const MAX_LOOKS = 300;
const MAX_TURNING = 1.45 * Math.PI;

function openingsOf(ring: Ring, ends: readonly TailEnd[], reach: number, step: number): Opening[] {
	const openings: Opening[] = [];
	let position = 0;
	for (let i = 0; i < ring.length; i++) {
		const a = ring[i]!;
		const b = ring[i + 1 === ring.length ? 0 : i + 1]!;
		const length = distance(a, b);
		if (length > STRAIGHT_SIDE && isNearSome(ends, a[0], a[1], reach + length)) {
			const heading = Math.atan2(b[1] - a[1], b[0] - a[0]);
			const count = Math.max(1, Math.ceil(length / step));
			const [first, last] = placesWithin(a, b, length / count, ends, reach);
			for (let k = Math.max(0, first); k <= Math.min(count, last); k++) {
				const t = k / count;
				const x = a[0] + (b[0] - a[0]) * t;
				const y = a[1] + (b[1] - a[1]) * t;
				if (isNearSome(ends, x, y, reach))
					openings.push({ pose: { at: [x, y], heading }, position: position + length * t, edge: i });
			}
		}
		position += length;
	}
	return openings;
}

/** The first and the last of the places every `step` mm along a side that may lie within `reach` of some ends. */
function placesWithin(a: Point, b: Point, step: number, ends: readonly TailEnd[], reach: number): [number, number] {
	const [ux, uy] = direction(a, b);
	let first = Infinity;
	let last = -Infinity;
	for (const { pose } of ends) {
		const dx = pose.at[0] - a[0];
		const dy = pose.at[1] - a[1];
		const aside = ux * dy - uy * dx;
		if (Math.abs(aside) >= reach) continue;
		const along = ux * dx + uy * dy;
		const half = Math.sqrt(reach * reach - aside * aside);
		first = Math.min(first, along - half);
		last = Math.max(last, along + half);
	}
	return [Math.floor(first / step), Math.ceil(last / step)];
}

function isNearSome(ends: readonly TailEnd[], x: number, y: number, reach: number): boolean {
	for (const { pose } of ends) {
		const dx = pose.at[0] - x;
		const dy = pose.at[1] - y;
		if (Math.sqrt(dx * dx + dy * dy) < reach) return true;
	}
	return false;
}

interface Lead {
	readonly opening: Opening;
	readonly end: TailEnd;
	readonly curve: Curve;
	readonly cost: number;
}

/** A lead that keeps clear of everything already placed. */
interface GoodLead extends Lead {
	readonly points: Path;
	/** Length of outline behind the opening that has to be taken out, mm. */
	readonly bars: number;
}

const back = (pose: Pose): Pose => ({ at: pose.at, heading: pose.heading + Math.PI });

/** What a radian of turning adds to a lead's cost, in radii: it is longer to lay than it is long. */
const PER_TURN = 1.2;
/** Rounding makes no bound exceed what it bounds by more than this, mm. */
const ROUNDING = 1e-6;

/** The smallest angle between two headings, radians. */
function angleBetween(a: number, b: number): number {
	const turn = Math.abs(a - b) % (2 * Math.PI);
	return Math.min(turn, 2 * Math.PI - turn);
}

/** Possible leads from some ends to some openings, in order of cost; a lead is planned when its turn may have come. */
function* leadsInOrder(
	ends: readonly TailEnd[],
	openings: readonly Opening[],
	reverse: boolean,
	radius: number,
): Generator<Lead> {
	const laid = ends.map(({ path }) => pathLength(path));
	const targets = reverse ? openings.map(({ pose }) => back(pose)) : openings.map(({ pose }) => pose);
	/** What every lead costs at least: straight on, and as much turning as leads from one heading to the other. */
	const least = new Float64Array(ends.length * openings.length);
	for (const [e, { pose }] of ends.entries())
		for (let o = 0; o < targets.length; o++) {
			const { at, heading } = targets[o]!;
			const turning = angleBetween(pose.heading, heading) * PER_TURN * radius;
			least[e * openings.length + o] = distance(pose.at, at) + turning + laid[e]! - ROUNDING;
		}
	/** Planned and not yet given, the dearest first. */
	const planned: Lead[] = [];
	const plan = (e: number, o: number): void => {
		for (const curve of curvesBetween(ends[e]!.pose, targets[o]!, radius).slice(0, 2)) {
			if (curve.turning > MAX_TURNING) continue;
			const cost = curve.length + curve.turning * PER_TURN * radius + laid[e]!;
			insert(planned, { opening: openings[o]!, end: ends[e]!, curve, cost });
		}
	};
	const next = leastFirst(least);
	for (let chance = next(); chance >= 0; chance = next()) {
		while (planned.length > 0 && planned[planned.length - 1]!.cost <= least[chance]!) yield planned.pop()!;
		plan(Math.floor(chance / openings.length), chance % openings.length);
	}
	while (planned.length > 0) yield planned.pop()!;
}

/** Puts an item in its place in a list whose dearest come first, and after those as dear. */
function insert<Item extends { readonly cost: number }>(list: Item[], item: Item): void {
	let low = 0;
	let high = list.length;
	while (low < high) {
		const middle = (low + high) >> 1;
		if (list[middle]!.cost > item.cost) low = middle + 1;
		else high = middle;
	}
	list.splice(low, 0, item);
}

/** The outline, its first point again at its end, with the distance along it at each of its points, mm. */
interface Measured {
	readonly closed: Path;
	readonly positions: Float64Array;
	readonly total: number;
}

function measured(ring: Ring): Measured {
	const closed = [...ring, ring[0]!];
	const positions = new Float64Array(closed.length);
	for (let i = 1; i < closed.length; i++) positions[i] = positions[i - 1]! + distance(closed[i - 1]!, closed[i]!);
	return { closed, positions, total: positions[ring.length]! };
}

/** Sides of the outline are looked at in pieces of this length, mm. */
const PIECE = 10;

/** The first and the last share of the segment a-b that lies in a box; the last is no more than the first where none does. */
function shareIn(a: Point, b: Point, box: Float64Array): readonly [from: number, to: number] {
	let from = 0;
	let to = 1;
	for (let axis = 0; axis < 2; axis++) {
		const start = a[axis]!;
		const step = b[axis]! - start;
		const low = box[axis]!;
		const high = box[axis + 2]!;
		if (Math.abs(step) < 1e-9) {
			if (start < low || start > high) return [1, 0];
			continue;
		}
		const t = (low - start) / step;
		const u = (high - start) / step;
		from = Math.max(from, Math.min(t, u));
		to = Math.min(to, Math.max(t, u));
	}
	return [from, to];
}

/** A lead that is held against the outline. */
interface HeldLead {
	readonly points: Path;
	readonly opening: Opening;
	readonly reverse: boolean;
	/** Whatever comes near to the lead comes into this, mm. */
	readonly box: Float64Array;
	/** Length of the outline, mm. */
	readonly total: number;
	/** Next to the opening, for so long, the lead may come near, mm. */
	readonly skip: number;
	readonly rules: ClearanceRules;
}

/**
 * How far behind the opening the stretch a-b of the outline is barred by a lead, mm, if farther than `known`, or else
 * `known`. It lies at `start` mm along the outline.
 */
function barredOn(a: Point, b: Point, start: number, lead: HeldLead, known: number): number {
	const { points, opening, reverse, box, total, skip, rules } = lead;
	let most = known;
	if ((a[0] < box[0]! && b[0] < box[0]!) || (a[0] > box[2]! && b[0] > box[2]!)) return most;
	if ((a[1] < box[1]! && b[1] < box[1]!) || (a[1] > box[3]! && b[1] > box[3]!)) return most;
	const [from, to] = shareIn(a, b, box);
	if (from >= to) return most;
	const at = (t: number): Point => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
	if (clearOfPiece(points, at(from), at(to), rules)) return most;
	const length = distance(a, b);
	const count = Math.max(1, Math.ceil(((to - from) * length) / PIECE));
	// The farthest behind first: where that is barred, nearer pieces need no look.
	for (let n = 0; n < count; n++) {
		const k = reverse ? count - 1 - n : n;
		const t = from + ((to - from) * k) / count;
		const u = from + ((to - from) * (k + 1)) / count;
		const position = start + (length * (t + u)) / 2;
		// Back from the opening, the way that the outline does not go.
		const behind = ((reverse ? position - opening.position : opening.position - position) + total) % total;
		const far = behind + ((u - t) * length) / 2;
		if (far <= most || total - behind <= skip) continue;
		if (!clearOfPiece(points, at(t), at(u), rules)) most = far;
	}
	return most;
}

/**
 * How much of the outline behind its opening a lead bars, mm: so much at least the opening takes out. More than
 * `longest` when it bars the outline elsewhere. Next to the opening, for `skip` mm, the lead may come near.
 */
function barred(
	points: Path,
	opening: Opening,
	reverse: boolean,
	{ closed, positions, total }: Measured,
	skip: number,
	longest: number,
	rules: ClearanceRules,
): number {
	const reach = rules.apart + 1;
	const [minX, minY, maxX, maxY] = boundingBox(points);
	const box = Float64Array.of(minX - reach, minY - reach, maxX + reach, maxY + reach);
	const lead: HeldLead = { points, opening, reverse, box, total, skip, rules };
	const boxes = boxesOf(closed);
	let most = 0;
	for (let i = 0; i + 1 < closed.length && most <= longest; i++) {
		if (i % CHUNK === 0 && !boxesMeet(box, 0, boxes, i / CHUNK + 1, 0)) {
			i += CHUNK - 1;
			continue;
		}
		const a = closed[i]!;
		const b = closed[i + 1]!;
		if (i !== opening.edge) most = barredOn(a, b, positions[i]!, lead, most);
		// Only behind the opening: ahead of it the lead goes on as this side.
		else if (reverse) most = barredOn(opening.pose.at, b, opening.position, lead, most);
		else most = barredOn(a, opening.pose.at, positions[i]!, lead, most);
	}
	return most;
}

/** Leads that keep clear of everything placed, in order of cost, found one by one. */
interface LeadSource {
	readonly good: GoodLead[];
	/** No lead still to come costs less; infinite at the end. */
	readonly least: () => number;
	/** Looks at the next lead; true when it is good. */
	readonly advance: () => boolean;
}

function leadSource(
	ends: readonly TailEnd[],
	openings: readonly Opening[],
	reverse: boolean,
	longest: number,
	outline: Measured,
	{ rules, others }: JoinLoopOptions,
): LeadSource {
	const skip = Math.PI * rules.minBendRadius + 60;
	const leads = leadsInOrder(ends, openings, reverse, rules.minBendRadius);
	const good: GoodLead[] = [];
	let next = leads.next();
	let looks = 0;
	return {
		good,
		least: () => (next.done || good.length >= MAX_LEADS || looks >= MAX_LOOKS ? Infinity : next.value.cost),
		advance: () => {
			if (next.done) return false;
			const lead = next.value;
			next = leads.next();
			looks++;
			const points = flattenCurve(lead.curve);
			if (!staysOnFloor(points, rules) || !clearOfPipes(points, others, rules)) return false;
			const near = [...withoutStart(lead.end.path, longest / 2), ...points.slice(1)];
			const bars = barred(near, lead.opening, reverse, outline, skip, longest, rules);
			if (bars > longest) return false;
			good.push({ ...lead, points, bars });
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
function* pairsInOrder(rights: LeadSource, lefts: LeadSource, total: number, longest: number): Generator<Pair> {
	/** Known and not yet given, the dearest first. */
	const waiting: Pair[] = [];
	const add = (right: GoodLead, left: GoodLead): void => {
		const removed = (right.opening.position - left.opening.position + total) % total;
		if (removed < Math.max(SHORTEST_OPENING, right.bars, left.bars) || removed > longest) return;
		if (right.opening.edge === left.opening.edge && right.opening.position < left.opening.position) return;
		insert(waiting, { right, left, removed, cost: right.cost + left.cost + removed });
	};
	for (;;) {
		const [nextRight, nextLeft] = [rights.least(), lefts.least()];
		const least = (side: LeadSource, next: number): number => side.good[0]?.cost ?? next;
		const bound = Math.min(nextRight + least(lefts, nextLeft), nextLeft + least(rights, nextRight)) + SHORTEST_OPENING;
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
	for (let k = 1; k <= ring.length; k++) {
		const i = (from.edge + k) % ring.length;
		points.push(ring[i]!);
		if (i === to.edge) break;
	}
	points.push(to.pose.at);
	return points.filter((p, i) => i === 0 || distance(p, points[i - 1]!) > 0.01);
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
	const clear = { ...options, others };
	const rights = leadSource(right, openings, false, longest, outline, clear);
	const lefts = leadSource(left, openings, true, longest, outline, clear);
	let tries = 0;
	for (const { right, left, removed } of pairsInOrder(rights, lefts, total, longest)) {
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
