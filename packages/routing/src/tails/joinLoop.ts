import {
	boundingBox,
	type Curve,
	curvesBetween,
	distance,
	flattenCurve,
	type Path,
	type Point,
	type Pose,
	pathLength,
	type Ring,
} from "@oxturn/geometry";
import { type ClearanceRules, clearOfItself, clearOfPipes, staysOnFloor, stretchesIn } from "./clearance.ts";

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
const MAX_TURNING = 1.45 * Math.PI;

function openingsOf(ring: Ring, ends: readonly TailEnd[], reach: number, step: number): Opening[] {
	const openings: Opening[] = [];
	let position = 0;
	for (let i = 0; i < ring.length; i++) {
		const a = ring[i]!;
		const b = ring[(i + 1) % ring.length]!;
		const length = distance(a, b);
		if (length > STRAIGHT_SIDE) {
			const heading = Math.atan2(b[1] - a[1], b[0] - a[0]);
			const count = Math.max(1, Math.ceil(length / step));
			for (let k = 0; k <= count; k++) {
				const t = k / count;
				const at: Point = [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
				if (ends.some((end) => distance(end.pose.at, at) < reach))
					openings.push({ pose: { at, heading }, position: position + length * t, edge: i });
			}
		}
		position += length;
	}
	return openings;
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
}

const back = (pose: Pose): Pose => ({ at: pose.at, heading: pose.heading + Math.PI });

/** The stretch of outline that stays whatever the other end of the opening is, less what a lead may come near. */
function certainPart(ring: Ring, opening: Opening, reverse: boolean, skip: number, longest: number): Path {
	const n = ring.length;
	const points: Point[] = [];
	let walked = 0;
	let total = 0;
	for (let i = 0; i < n; i++) total += distance(ring[i]!, ring[(i + 1) % n]!);
	let previous = opening.pose.at;
	for (let k = 0; k < n; k++) {
		const point = reverse ? ring[(opening.edge - k + n) % n]! : ring[(opening.edge + 1 + k) % n]!;
		walked += distance(previous, point);
		previous = point;
		if (walked > skip && walked < total - longest) points.push(point);
	}
	return points;
}

function leadsTo(
	ends: readonly TailEnd[],
	openings: readonly Opening[],
	reverse: boolean,
	longest: number,
	options: JoinLoopOptions,
): GoodLead[] {
	const { rules, ring } = options;
	const skip = Math.PI * rules.minBendRadius + 60;
	const leads: Lead[] = [];
	for (const end of ends) {
		const laid = pathLength(end.path);
		for (const opening of openings) {
			const target = reverse ? back(opening.pose) : opening.pose;
			for (const curve of curvesBetween(end.pose, target, rules.minBendRadius).slice(0, 2)) {
				if (curve.turning > MAX_TURNING) continue;
				leads.push({
					opening,
					end,
					curve,
					cost: curve.length + curve.turning * 1.2 * rules.minBendRadius + laid,
				});
			}
		}
	}
	leads.sort((a, b) => a.cost - b.cost);
	const good: GoodLead[] = [];
	for (const lead of leads) {
		if (good.length >= MAX_LEADS) break;
		const points = flattenCurve(lead.curve);
		if (!staysOnFloor(points, rules) || !clearOfPipes(points, options.others, rules)) continue;
		if (clearOfPipes(points, [certainPart(ring, lead.opening, reverse, skip, longest)], rules))
			good.push({ ...lead, points });
	}
	return good;
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

/** Ends whose tails keep clear of the field all the way; only near its end may a tail meet what will be opened. */
function clearEnds(ends: readonly TailEnd[], ring: Ring, longest: number, rules: ClearanceRules): TailEnd[] {
	const closed = [...ring, ring[0]!];
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
	const total = pathLength([...ring, ring[0]!]);
	const step = Math.max(40, spacing / 2);
	const longest = Math.max(6 * spacing, 8 * rules.minBendRadius);
	const ends = [...options.right, ...options.left].map((end) => end.pose.at);
	const [minX, minY, maxX, maxY] = boundingBox(ends);
	// No lead strays farther from its end than the opening it goes to, and round by its turns.
	const margin = options.reach + 4 * rules.minBendRadius + rules.apart;
	const others = stretchesIn(options.others, [minX - margin, minY - margin, maxX + margin, maxY + margin]);
	const right = clearEnds(options.right, ring, longest, rules);
	const left = clearEnds(options.left, ring, longest, rules);
	const openings = openingsOf(ring, [...right, ...left], options.reach, step);
	const rights = leadsTo(right, openings, false, longest, { ...options, others });
	if (rights.length === 0) return undefined;
	const lefts = leadsTo(left, openings, true, longest, { ...options, others });
	const pairs: { right: GoodLead; left: GoodLead; removed: number; cost: number }[] = [];
	for (const right of rights)
		for (const left of lefts) {
			const removed = (right.opening.position - left.opening.position + total) % total;
			if (
				removed < 20 ||
				removed > longest ||
				(right.opening.edge === left.opening.edge && right.opening.position < left.opening.position)
			)
				continue;
			pairs.push({ right, left, removed, cost: right.cost + left.cost + removed });
		}
	pairs.sort((a, b) => a.cost - b.cost);
	let tries = 0;
	for (const { right, left, removed } of pairs) {
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
