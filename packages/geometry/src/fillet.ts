import type { Point, Ring } from "./types.ts";
import { add, cross, direction, distance, leftOf, scale, turnBetween } from "./vector.ts";

export interface FilletOptions {
	/** No arc is tighter than this, mm. */
	readonly minRadius: number;
	/** Radius wanted where the sides allow it, mm. @default minRadius */
	readonly radius?: number;
	/** Largest gap between an arc and its chords, mm. @default 0.4 */
	readonly tolerance?: number;
}

/** A rounded ring, or the indices of sides that are too short for their two corners, ascending, none next to another. */
export type FilletResult = { readonly ring: Ring } | { readonly conflicts: readonly number[] };

/** Turns this small are left as they are, radians: a pipe does not feel them. */
const NO_TURN = 0.002;
const HALF_TURN_SLACK = 0.03;
/** Sides this near to a conflict along the ring are reported only when that is mended. */
const NEIGHBOURS = 2;
/** Radii are made smaller so many times until all sides hold theirs. */
const MOST_PASSES = 8;

interface Corner {
	readonly at: Point;
	readonly incoming: Point;
	readonly outgoing: Point;
	readonly turn: number;
	/** Tangent length per mm of radius. */
	readonly reach: number;
}

/** Points of an arc round `centre`, from angle `start` through `sweep`, both ends included. */
export function arcPoints(centre: Point, radius: number, start: number, sweep: number, tolerance: number): Point[] {
	const step = 2 * Math.acos(Math.max(0.5, 1 - tolerance / radius));
	const count = Math.max(1, Math.ceil(Math.abs(sweep) / step - 1e-9));
	const at = (angle: number): Point => [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)];
	const points = new Array<Point>(count + 1);
	points[0] = at(start);
	// From point to point the radius turns by the same angle; the ends are exact, since other arcs begin there.
	const cos = Math.cos(sweep / count);
	const sin = Math.sin(sweep / count);
	let x = points[0][0] - centre[0];
	let y = points[0][1] - centre[1];
	for (let k = 1; k < count; k++) {
		const turned = x * cos - y * sin;
		y = x * sin + y * cos;
		x = turned;
		points[k] = [centre[0] + x, centre[1] + y];
	}
	points[count] = at(start + sweep);
	return points;
}

function cornersOf(ring: Ring): Corner[] {
	const n = ring.length;
	return ring.map((at, i) => {
		const incoming = direction(ring[(i + n - 1) % n]!, at);
		const outgoing = direction(at, ring[(i + 1) % n]!);
		const turn = turnBetween(incoming, outgoing);
		return { at, incoming, outgoing, turn, reach: Math.abs(turn) < NO_TURN ? 0 : Math.tan(Math.abs(turn) / 2) };
	});
}

/** Two corners of one sense that reverse the direction over a side shorter than the pipe can turn on. */
interface SwellingReturn {
	readonly gap: number;
	readonly reachIn: number;
	readonly reachOut: number;
	readonly points: () => readonly Point[];
}

/*
 * The sides bulge so that the turn itself keeps the radius r although the runs are nearer than 2 r:
 * cos(phi) = (gap / 2 + r) / (2 r), outwards by phi, back through pi + 2 phi, outwards again by phi.
 * The turn touches the line of the short side, so it stays within the figure's own end.
 */
function swellingReturn(a: Corner, b: Corner, radius: number, tolerance: number): SwellingReturn | undefined {
	const sense = Math.sign(a.turn);
	if (sense === 0 || Math.sign(b.turn) !== sense) return undefined;
	if (Math.abs(Math.abs(a.turn + b.turn) - Math.PI) > HALF_TURN_SLACK) return undefined;
	const along = a.incoming;
	const side = scale(leftOf(along), -sense);
	const base = distance(a.at, b.at);
	const gap = base * Math.abs(cross(along, direction(a.at, b.at)));
	if (gap >= 2 * radius || gap <= 0) return undefined;
	const cosPhi = (gap / 2 + radius) / (2 * radius);
	const phi = Math.acos(cosPhi);
	const middle: Point = scale(add(a.at, b.at), 0.5);
	const centre = add(middle, scale(along, (-radius * base) / gap));
	const back = 2 * radius * Math.sin(phi);
	const foot = add(centre, scale(along, -back));
	const outer = gap / 2 + radius;
	const first = add(foot, scale(side, outer));
	const last = add(foot, scale(side, -outer));
	const towards = Math.atan2(-side[1], -side[0]);
	const away = towards + Math.PI;
	const start = add(first, [radius * Math.cos(towards), radius * Math.sin(towards)]);
	const end = add(last, [radius * Math.cos(away), radius * Math.sin(away)]);
	const points = (): Point[] => [
		...arcPoints(first, radius, towards, -sense * phi, tolerance),
		...arcPoints(centre, radius, away - sense * phi, sense * (Math.PI + 2 * phi), tolerance).slice(1),
		...arcPoints(last, radius, away + sense * phi, -sense * phi, tolerance).slice(1),
	];
	const reachIn = (a.at[0] - start[0]) * along[0] + (a.at[1] - start[1]) * along[1];
	const reachOut = (b.at[0] - end[0]) * along[0] + (b.at[1] - end[1]) * along[1];
	return { gap, reachIn, reachOut, points };
}

function roundCorner(corner: Corner, radius: number, tolerance: number): Point[] {
	if (corner.reach === 0) return [corner.at];
	const sense = Math.sign(corner.turn);
	const start = add(corner.at, scale(corner.incoming, -radius * corner.reach));
	const normal = leftOf(corner.incoming);
	const centre = add(start, scale(normal, sense * radius));
	const angle = Math.atan2(-sense * normal[1], -sense * normal[0]);
	return arcPoints(centre, radius, angle, corner.turn, tolerance);
}

/** Half turns over sides too short for two corners of the least radius, and what they take of the sides beside them. */
interface Returns {
	/** By the corner that a return begins at. */
	readonly at: readonly (SwellingReturn | undefined)[];
	/** By corner: mm taken of the side before it, and of the side after it. */
	readonly before: readonly (number | undefined)[];
	readonly after: readonly (number | undefined)[];
}

function returnsIn(corners: readonly Corner[], lengths: readonly number[], radius: number, tolerance: number): Returns {
	const n = corners.length;
	const at: (SwellingReturn | undefined)[] = new Array(n).fill(undefined);
	const before: (number | undefined)[] = new Array(n).fill(undefined);
	const after: (number | undefined)[] = new Array(n).fill(undefined);
	for (let i = 0; i < n; i++) {
		const a = corners[i]!;
		const b = corners[(i + 1) % n]!;
		if ((a.reach + b.reach) * radius <= lengths[i]! + 1e-6 || after[i] !== undefined) continue;
		const swelling = swellingReturn(a, b, radius, tolerance);
		if (!swelling) continue;
		at[i] = swelling;
		before[i] = swelling.reachIn;
		after[(i + 1) % n] = swelling.reachOut;
	}
	return { at, before, after };
}

/**
 * Makes the radii of corners smaller, down to the least, until every side holds its two. Returns the sides that cannot,
 * those next to another left out: what is done about one may help those beside it.
 */
function fitRadii(
	radii: number[],
	least: number,
	corners: readonly Corner[],
	lengths: readonly number[],
	returns: Returns,
): number[] {
	const n = corners.length;
	const needBefore = (i: number): number => returns.before[i] ?? radii[i]! * corners[i]!.reach;
	const needAfter = (i: number): number => returns.after[i] ?? radii[i]! * corners[i]!.reach;
	const isLoose = (i: number): boolean =>
		returns.before[i] === undefined && returns.after[i] === undefined && radii[i]! > least;
	for (let pass = 0; pass < MOST_PASSES; pass++) {
		let changed = false;
		const conflicts: number[] = [];
		const isBesideConflict = (i: number): boolean =>
			conflicts.length > 0 && (i - conflicts.at(-1)! <= NEIGHBOURS || conflicts[0]! + n - i <= NEIGHBOURS);
		for (let i = 0; i < n; i++) {
			if (returns.at[i]) continue;
			const j = (i + 1) % n;
			const over = needAfter(i) + needBefore(j) - lengths[i]!;
			if (over <= 1e-6) continue;
			const loose = [i, j].filter(isLoose);
			const slack = loose.reduce((sum, k) => sum + (radii[k]! - least) * corners[k]!.reach, 0);
			if (slack < over - 1e-6) {
				if (!isBesideConflict(i)) conflicts.push(i);
				continue;
			}
			for (const k of loose) radii[k] = radii[k]! - ((radii[k]! - least) * over) / slack;
			changed = true;
		}
		if (conflicts.length > 0 || !changed) return conflicts;
	}
	return [];
}

/**
 * Rounds every corner of a closed ring with an arc tangent to both sides, as near to `radius` as the sides allow and
 * never below `minRadius`. Half turns between runs nearer than twice `minRadius` become swelling returns. Sides that
 * cannot hold their two corners are reported, for the caller to mend the ring.
 */
export function fillet(ring: Ring, options: FilletOptions): FilletResult {
	const { minRadius, tolerance = 0.4 } = options;
	const corners = cornersOf(ring);
	const n = corners.length;
	const lengths = corners.map((corner, i) => distance(corner.at, corners[(i + 1) % n]!.at));
	const returns = returnsIn(corners, lengths, minRadius, tolerance);
	const radii = corners.map(() => Math.max(options.radius ?? minRadius, minRadius));
	const conflicts = fitRadii(radii, minRadius, corners, lengths, returns);
	if (conflicts.length > 0) return { conflicts };
	const out: Point[] = [];
	for (let i = 0; i < n; i++) {
		const swelling = returns.at[i];
		if (!swelling && returns.after[i] !== undefined) continue;
		for (const point of swelling ? swelling.points() : roundCorner(corners[i]!, radii[i]!, tolerance)) out.push(point);
	}
	return { ring: out };
}
