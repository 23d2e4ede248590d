import {
	type Curve,
	curvesBetween,
	direction,
	distance,
	type Path,
	type Point,
	type Pose,
	pathLength,
	type Ring,
} from "@oxturn/geometry";
import { leastFirst } from "./heap.ts";

/*
 * Where a field's outline may be opened, and the leads from tails to those places: an arc, a straight and an arc of the
 * pipe's own radius.
 */

/** A tail laid so far: from its port to `pose`, where it may leave for the field. */
export interface TailEnd {
	readonly path: Path;
	readonly pose: Pose;
}

/** A place where an outline may be opened, and the way that it runs there. */
export interface Opening {
	readonly pose: Pose;
	/** Distance along the ring from its first point, mm. */
	readonly position: number;
	readonly edge: number;
}

/** Chords of arcs are shorter than this, mm; only on straight sides is the direction known. */
const STRAIGHT_SIDE = 32;
const MAX_TURNING = 1.45 * Math.PI;

/** Places every `step` mm on the straight sides of an outline, within `reach` mm of some ends. */
export function openingsOf(ring: Ring, ends: readonly TailEnd[], reach: number, step: number): Opening[] {
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
		if (dx * dx + dy * dy < reach * reach) return true;
	}
	return false;
}

/** A way from a tail's end to an opening. */
export interface Lead {
	readonly opening: Opening;
	readonly end: TailEnd;
	readonly curve: Curve;
	readonly cost: number;
	/** What it costs at least together with what it is paired with. */
	readonly promise: number;
}

/** All leads that there may be from some ends to some openings, before any is planned. */
export interface Chances {
	readonly ends: readonly TailEnd[];
	readonly openings: readonly Opening[];
	/** How the pipe arrives at every opening. */
	readonly targets: readonly Pose[];
	readonly radius: number;
	/** Length of every end's tail, mm. */
	readonly laid: readonly number[];
	/** What a lead costs at least, end by end. */
	readonly least: Float64Array;
}

const back = (pose: Pose): Pose => ({ at: pose.at, heading: pose.heading + Math.PI });

/** What a radian of turning adds to a lead's cost, in radii: it is longer to lay than it is long. */
const PER_TURN = 1.2;
/** Rounding makes no bound exceed what it bounds by more than this, mm. */
const ROUNDING = 1e-6;

/** The smallest angle between two headings, radians. */
function angleBetween(a: number, b: number): number {
	const apart = Math.abs(a - b);
	// A remainder takes long, and is hardly ever needed.
	const turn = apart < 2 * Math.PI ? apart : apart % (2 * Math.PI);
	return turn > Math.PI ? 2 * Math.PI - turn : turn;
}

/** The leads from some ends to some openings; in `reverse` the pipe arrives against the way that the outline runs. */
export function chancesOf(
	ends: readonly TailEnd[],
	openings: readonly Opening[],
	reverse: boolean,
	radius: number,
): Chances {
	const laid = ends.map(({ path }) => pathLength(path));
	const targets = openings.map(({ pose }) => (reverse ? back(pose) : pose));
	// Straight on, and as much turning as leads from one heading to the other.
	const least = new Float64Array(ends.length * openings.length);
	for (let e = 0, chance = 0; e < ends.length; e++) {
		const { pose } = ends[e]!;
		for (let o = 0; o < targets.length; o++, chance++) {
			const { at, heading } = targets[o]!;
			const turning = angleBetween(pose.heading, heading) * PER_TURN * radius;
			least[chance] = distance(pose.at, at) + turning + laid[e]! - ROUNDING;
		}
	}
	return { ends, openings, targets, radius, laid, least };
}

/** The two shortest ways from a tail to an opening; where neither turns before its straight, or after it, they may be one. */
function curvesTo(from: Pose, to: Pose, radius: number): Curve[] {
	const [first, second] = curvesBetween(from, to, radius);
	if (!first || !second) return first ? [first] : [];
	const isOne = second.length - first.length < ROUNDING && !turnsOtherwise(first.plan, second.plan);
	return isOne ? [first] : [first, second];
}

/** Whether two plans of equal length part where either of them turns. */
const turnsOtherwise = (a: Curve["plan"], b: Curve["plan"]): boolean =>
	(a.first > ROUNDING && a.firstSense !== b.firstSense) || (a.last > ROUNDING && a.lastSense !== b.lastSense);

/**
 * Possible leads in the order of what they promise, each pipe once: a tail may end anywhere on a straight that its lead
 * goes on along.
 */
export function* leadsInOrder(chances: Chances, added: Float64Array): Generator<Lead> {
	/** Those given before that promise no less than the next. */
	let equal: Lead[] = [];
	for (const lead of leadsByPromise(chances, added)) {
		if (equal.length > 0 && lead.promise - equal[0]!.promise > ROUNDING) equal = [];
		const isRepeated = equal.some(
			({ opening, end, cost }) => opening === lead.opening && end !== lead.end && Math.abs(cost - lead.cost) < ROUNDING,
		);
		if (isRepeated) continue;
		equal.push(lead);
		yield lead;
	}
}

/**
 * All possible leads in the order of what they promise: their own cost, and what is added at every opening. A lead is
 * planned when its turn may have come; one that promises nothing finite never comes.
 */
function* leadsByPromise(
	{ ends, openings, targets, radius, laid, least }: Chances,
	added: Float64Array,
): Generator<Lead> {
	/** Planned and not yet given, the dearest first. */
	const planned: Lead[] = [];
	const plan = (e: number, o: number): void => {
		for (const curve of curvesTo(ends[e]!.pose, targets[o]!, radius)) {
			if (curve.turning > MAX_TURNING) continue;
			const cost = curve.length + curve.turning * PER_TURN * radius + laid[e]!;
			insert(
				planned,
				{ opening: openings[o]!, end: ends[e]!, curve, cost, promise: cost + added[o]! },
				({ promise }) => promise,
			);
		}
	};
	const promises = new Float64Array(least.length);
	for (let e = 0, chance = 0; e < ends.length; e++)
		for (let o = 0; o < openings.length; o++, chance++) promises[chance] = least[chance]! + added[o]!;
	const next = leastFirst(promises);
	for (let chance = next(); chance >= 0 && promises[chance]! < Infinity; chance = next()) {
		while (planned.length > 0 && planned[planned.length - 1]!.promise <= promises[chance]!) yield planned.pop()!;
		plan(Math.floor(chance / openings.length), chance % openings.length);
	}
	while (planned.length > 0) yield planned.pop()!;
}

/** Puts an item in its place in a list whose dearest come first, and after those as dear. */
export function insert<Item>(list: Item[], item: Item, costOf: (item: Item) => number): void {
	const cost = costOf(item);
	let low = 0;
	let high = list.length;
	while (low < high) {
		const middle = (low + high) >> 1;
		if (costOf(list[middle]!) > cost) low = middle + 1;
		else high = middle;
	}
	list.splice(low, 0, item);
}
