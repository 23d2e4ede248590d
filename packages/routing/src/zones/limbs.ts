import {
	difference,
	distance,
	inwardCorners,
	largestFirst,
	nearestOnRing,
	type Point,
	type Region,
	regionArea,
	ringsOf,
	rotate,
} from "@oxturn/geometry";
import { sum } from "../sum.ts";
import { adoptScraps, beyond, cutIntoBands } from "./partition.ts";

/*
 * Rooms with limbs, like a U or a cross: a straight line beyond which lie several parts cuts one of them off where a
 * person would, at its root or farther out.
 */

/** A part of a region that lies beyond a line, and is parted there from others that do. */
interface Limb {
	/** Of the line, radians; the limb lies to its left. */
	readonly direction: number;
	/** Of the line at its root, in the frame turned by -direction, mm. */
	readonly root: number;
	/** Its farthest point. */
	readonly tip: Point;
}

/** A limb at its root. */
interface WholeLimb extends Limb {
	readonly area: number;
	/** Length of the cut at its root, mm. */
	readonly cut: number;
}

/** Lines are laid so far off inward corners, mm. */
const OFF_CORNER = 1;
/** On regions with more inward corners, lines lie at so many even heights. */
const MOST_LINES = 12;
/** A limb smaller than this share of what a zone should have is no zone. */
const SMALLEST = 0.7;
/** A single part is a limb where it is no wider than this share of what lies before it. */
const NECK = 0.75;
/** Halvings of a limb's length until its area is met. */
const HALVINGS = 14;
const SAME = 0.5;

const heightIn = (p: Point, direction: number): number => rotate(p, Math.cos(-direction), Math.sin(-direction))[1];

/** Heights of lines along a direction at which limbs may have their roots. */
function rootsAlong(region: Region, direction: number): number[] {
	const corners = ringsOf(region).flatMap((ring) => inwardCorners(ring));
	const heights = new Set(corners.map((p) => Math.round(heightIn(p, direction)) + OFF_CORNER));
	if (heights.size <= MOST_LINES) return [...heights];
	const all = region.outer.map((p) => heightIn(p, direction));
	const [low, high] = [Math.min(...all), Math.max(...all)];
	return Array.from({ length: MOST_LINES }, (_, k) => low + ((high - low) * (k + 1)) / (MOST_LINES + 1));
}

/** Length of a region's rim along a line at a height, mm: where it was cut off there. */
function cutAt({ outer }: Region, direction: number, height: number): number {
	const isOnLine = outer.map((p) => Math.abs(heightIn(p, direction) - height) < SAME);
	return outer.reduce((sum, p, i) => {
		const next = (i + 1) % outer.length;
		return isOnLine[i] && isOnLine[next] ? sum + distance(p, outer[next]!) : sum;
	}, 0);
}

/** Whether a part beyond a line is much narrower there than what lies before it. */
function isNeck(region: Region, { direction, root, cut }: WholeLimb): boolean {
	const before = root - 2 * OFF_CORNER;
	const whole = beyond(region, direction, before).reduce((sum, piece) => sum + cutAt(piece, direction, before), 0);
	return cut < NECK * whole;
}

/** The limbs of a region beyond lines along a direction: at least several, or a single narrow one. */
function limbsAlong(region: Region, direction: number, fewest: "several" | "single"): WholeLimb[] {
	return rootsAlong(region, direction).flatMap((root): WholeLimb[] => {
		const pieces = beyond(region, direction, root);
		const limbs = pieces.map((piece): WholeLimb => {
			const heights = piece.outer.map((p) => heightIn(p, direction));
			const tip = piece.outer[heights.indexOf(Math.max(...heights))]!;
			return { direction, root, tip, area: regionArea(piece), cut: cutAt(piece, direction, root) };
		});
		if (limbs.length > 1) return limbs;
		return fewest === "single" ? limbs.filter((limb) => isNeck(region, limb)) : [];
	});
}

/** The part of a limb beyond a line at a height. */
const partOf = (region: Region, { direction, tip }: Limb, height: number): Region | undefined =>
	beyond(region, direction, height).find(({ outer }) => nearestOnRing(outer, tip).distance < SAME);

/** A limb, or as much of it from its tip on as has the area. */
function cutOff(region: Region, limb: Limb, area: number): Region | undefined {
	let found = partOf(region, limb, limb.root);
	if (!found || regionArea(found) <= area) return found;
	let [low, high] = [limb.root, heightIn(limb.tip, limb.direction)];
	for (let k = 0; k < HALVINGS; k++) {
		const middle = (low + high) / 2;
		const part = partOf(region, limb, middle);
		if (part && regionArea(part) > area) low = middle;
		else {
			high = middle;
			found = part ?? found;
		}
	}
	return found;
}

/** Limbs to be cut off one after another, each of the area or a little less, by the shortest cuts. */
function limbsOf(floor: Region, directions: readonly number[], area: number, most: number): Limb[] {
	const limbs: Limb[] = [];
	let rest = floor;
	while (limbs.length < most) {
		const [next] = directions
			.flatMap((direction) => [direction, direction + Math.PI])
			// Where one of two legs is cut off, the other one is still a leg.
			.flatMap((direction) => limbsAlong(rest, direction, limbs.length > 0 ? "single" : "several"))
			.filter((limb) => limb.area >= SMALLEST * area)
			.sort((a, b) => a.cut - b.cut);
		const part = next && cutOff(rest, next, area);
		const [left] = part ? largestFirst(difference([rest], [part])) : [];
		if (!next || !left) break;
		limbs.push(next);
		rest = left;
	}
	return limbs;
}

/** Cells for limbs cut off one after another, and bands across a direction for what is left. */
export interface LimbPlan {
	readonly limbs: readonly Limb[];
	readonly direction: number;
}

/** Ways of cutting a floor into `count` zones that begin with its limbs; none where it has no limbs. */
export function limbPlans(floor: Region, directions: readonly number[], count: number): LimbPlan[] {
	const limbs = limbsOf(floor, directions, regionArea(floor) / count, count - 1);
	return limbs.flatMap((_, last) => {
		const own = limbs.slice(0, last + 1);
		// One zone that is left over lies across no direction.
		const across = own.length === count - 1 ? directions.slice(0, 1) : directions;
		return across.map((direction) => ({ limbs: own, direction }));
	});
}

/** The cells of such a plan, whose areas have the given shares as far as the limbs allow. */
export function cutByLimbs(
	floor: Region,
	{ limbs, direction }: LimbPlan,
	shares: readonly number[],
): Region[] | undefined {
	const whole = regionArea(floor);
	const cells: Region[][] = [];
	let rest = floor;
	for (const [i, limb] of limbs.entries()) {
		const part = cutOff(rest, limb, shares[i]! * whole);
		const [left, ...scraps] = part ? largestFirst(difference([rest], [part])) : [];
		if (!part || !left) return undefined;
		cells.push([part, ...scraps]);
		rest = left;
	}
	const others = shares.slice(limbs.length);
	const total = sum(others);
	const bands =
		others.length === 1
			? [rest]
			: cutIntoBands(
					rest,
					direction,
					others.map((share) => share / total),
				);
	return bands && adoptScraps([...cells, ...bands.map((band) => [band])]);
}
