import {
	add,
	cross,
	difference,
	direction,
	distance,
	dot,
	largestFirst,
	leftOf,
	nearestOnRing,
	offset,
	openedWithin,
	type Point,
	pathLength,
	type Region,
	type Ring,
	regionArea,
	scale,
	signedArea,
	subtract,
	turnBetween,
	union,
} from "@oxturn/geometry";
import { closedPath } from "../boxes.ts";
import { keepsClear } from "./keepsClear.ts";
import { bridgesOnce, ringCutOpen, ringsBridged } from "./rings.ts";
import { roundOutline } from "./roundOutline.ts";
import type { Field } from "./serpentine.ts";

/*
 * The counterflow spiral. The lanes of its tree are rings between nested contours at 0-1, 2-3, ... pitches from the
 * rim. Every ring is cut open beside one of its corners and joined there to the next ring inwards:
 *
 *     B |####|    |####      a ring's last side A arrives from the right and is cut back so far that one gap is
 *       |####|    |####      left before its first side B; from the cut the lane goes on inwards, in line with B
 *       |####|____|####|___  of the next ring. In a rectangle this costs no bend.
 *       |####  cut ########  A
 */

export interface SpiralOptions {
	/** Where the pipe's centreline may lie. */
	readonly floor: readonly Region[];
	/** Centre to centre, mm; fitted so that the core closes. */
	readonly spacing: number;
	readonly minBendRadius: number;
	/** Rings are opened at the corner nearest to this place. */
	readonly gate: Point;
	/** No two stretches of pipe come nearer than this, mm. */
	readonly apart: number;
	/** How far a pipe may swell out of `floor` at its rim, mm. */
	readonly rim: number;
}

/** Which side of a corner is cut: the one arriving anticlockwise or the one leaving. */
export type Hand = "arriving" | "leaving";

/** Overlap that makes neighbouring pieces merge, mm. */
const WELD = 0.05;
/** What a bridge is widened by on either side to see what it meets, mm. */
const HAIR = WELD / 2;
/** Corners flatter than this are no place to open a ring, radians. */
const FLAT = 0.5;
const MAX_DEPTH = 40;

/** A pitch need not be fitted closer than this, mm. */
const INRADIUS_TOLERANCE = 3;

/**
 * Depth at which a mitred inward offset would vanish if no side vanished before, mm: there the area A - P d + c d^2 is
 * nothing, or at its least.
 */
function vanishingDepth({ outer }: Region): number {
	let around = 0;
	let corners = 0;
	for (let i = 0; i < outer.length; i++) {
		const at = outer[i]!;
		const after = outer[(i + 1) % outer.length]!;
		around += distance(at, after);
		const turn = turnBetween(subtract(at, outer.at(i - 1)!), subtract(after, at));
		corners += Math.tan(turn / 2);
	}
	const area = Math.abs(signedArea(outer));
	if (corners <= 0) return area / around;
	return (around - Math.sqrt(Math.max(0, around * around - 4 * corners * area))) / (2 * corners);
}

/** How deep the contours of a region go, to within a tolerance, mm. A guess and two looks are enough where no side vanishes. */
function inradius(region: Region): number {
	let low = 0;
	let high = Math.sqrt(regionArea(region) / Math.PI) + 1;
	let within: Region[] = [region];
	const look = (depth: number): void => {
		const found = offset(within, low - depth);
		if (found.length === 0) high = depth;
		else {
			low = depth;
			within = found;
		}
	};
	for (let k = 0; high - low > INRADIUS_TOLERANCE; k++) {
		const guess = k % 2 === 0 ? low + vanishingDepth(rootOf(within)!) - INRADIUS_TOLERANCE / 2 : (low + high) / 2;
		const isNew = guess > low + 0.1 && guess < high - 0.1;
		look(isNew ? guess : (low + high) / 2);
		if (isNew && low === guess && guess + INRADIUS_TOLERANCE < high) look(guess + INRADIUS_TOLERANCE);
	}
	return low;
}

/**
 * Pitches with which the rings of a contour close at its core, the best first: half a pitch is left in the middle, as
 * lane or as gap by turns.
 */
function fittingPitches(radius: number, spacing: number): number[] {
	const rings = Math.max(0, Math.round(radius / spacing - 0.5));
	return [rings, rings + 1, rings - 1]
		.filter((count) => count >= 0)
		.map((count) => radius / (count + 0.5))
		.filter((pitch, i) => i === 0 || (pitch > 0.85 * spacing && pitch < 1.15 * spacing))
		.sort((a, b) => closeness(a, spacing) - closeness(b, spacing));
}

/** Wide gaps leave cold floor; closer pipe is only dearer. */
const closeness = (pitch: number, spacing: number): number =>
	pitch > 1.1 * spacing ? 1 + pitch / spacing : Math.abs(pitch / spacing - 1);

interface Corner {
	readonly at: Point;
	/** Unit vectors along the side that is cut, away from the corner, and along the other one. */
	readonly cutSide: Point;
	readonly otherSide: Point;
	readonly length: number;
}

function cornersOf(ring: Ring, hand: Hand): Corner[] {
	const n = ring.length;
	const corners: Corner[] = [];
	for (let i = 0; i < n; i++) {
		const at = ring[i]!;
		const before = ring[(i + n - 1) % n]!;
		const after = ring[(i + 1) % n]!;
		const u = direction(at, before);
		const v = direction(at, after);
		const turn = Math.atan2(cross(v, u), dot(v, u));
		if (turn < FLAT || turn > Math.PI - FLAT) continue;
		corners.push(
			hand === "arriving"
				? { at, cutSide: u, otherSide: v, length: distance(at, before) }
				: { at, cutSide: v, otherSide: u, length: distance(at, after) },
		);
	}
	return corners;
}

/**
 * The parallelogram of points whose distance from the corner's other side is between `from` and `to` and whose
 * distance from the cut side is between `low` and `high`, mm.
 */
function besideCorner(corner: Corner, from: number, to: number, low: number, high: number): Region {
	const sine = Math.abs(cross(corner.cutSide, corner.otherSide));
	const place = (fromOther: number, fromCut: number): Point =>
		add(corner.at, add(scale(corner.cutSide, fromOther / sine), scale(corner.otherSide, fromCut / sine)));
	const ring = [place(from, low), place(to, low), place(to, high), place(from, high)];
	const turn = cross(subtract(ring[1]!, ring[0]!), subtract(ring[2]!, ring[0]!));
	return { outer: turn > 0 ? ring : [...ring].reverse(), holes: [] };
}

function rootOf(regions: readonly Region[]): Region | undefined {
	return largestFirst(regions)[0];
}

/** A bar across a contour at a distance along it: `from` to `to` mm inwards, `width` mm wide. */
function barAcross(ring: Ring, position: number, width: number, from: number, to: number): Region {
	let rest = position;
	let i = 0;
	const n = ring.length;
	const side = (k: number): number => distance(ring[k % n]!, ring[(k + 1) % n]!);
	for (; i < n - 1 && rest > side(i); i++) rest -= side(i);
	const u = direction(ring[i]!, ring[(i + 1) % n]!);
	const inward = leftOf(u);
	const at = add(ring[i]!, scale(u, rest));
	const corner = (along: number, depth: number): Point => add(at, add(scale(u, along), scale(inward, depth)));
	const half = width / 2;
	return { outer: [corner(-half, from), corner(half, from), corner(half, to), corner(-half, to)], holes: [] };
}

function positionAt(ring: Ring, p: Point): number {
	const { index, point } = nearestOnRing(ring, p);
	let sum = 0;
	for (let i = 0; i < index; i++) sum += distance(ring[i]!, ring[i + 1]!);
	return sum + distance(ring[index]!, point);
}

const wrap = (position: number, length: number): number => ((position % length) + length) % length;
const single = (regions: readonly Region[]): boolean => regions.length === 1 && regions[0]!.holes.length === 0;

/** Ways of opening a ring: what is cut out of it, and the bridge to the contour inside it. */
interface Gate {
	readonly cut: Region;
	readonly bridge: Region;
	/** The bridge and a hair to either side of it, so that its sides lie on no others. */
	readonly berth: Ring;
	/** Where the ring inside is best opened in turn. */
	readonly next: Point;
}

const MAX_GATES = 6;

/** Gates at corners, the one nearest to `place` first, then across a side where no corner serves. */
function* gatesOf(contour: Region, pitch: number, place: Point, hand: Hand): Generator<Gate> {
	const corners = cornersOf(contour.outer, hand)
		.filter((corner) => corner.length > 3.5 * pitch)
		.sort((a, b) => distance(a.at, place) - distance(b.at, place));
	for (const corner of corners.slice(0, MAX_GATES))
		yield {
			cut: besideCorner(corner, pitch, 2 * pitch, -1, pitch + WELD),
			bridge: besideCorner(corner, 2 * pitch, 3 * pitch, pitch - WELD, 2 * pitch + WELD),
			berth: besideCorner(corner, 2 * pitch - HAIR, 3 * pitch + HAIR, pitch - WELD, 2 * pitch + WELD).outer,
			next: corner.at,
		};
	const length = pathLength(closedPath(contour.outer));
	const position = positionAt(contour.outer, place);
	const back = hand === "arriving" ? -pitch : pitch;
	const bar = (at: number, from: number, to: number, width = pitch): Region =>
		barAcross(contour.outer, wrap(at, length), width, from, to);
	for (const shift of [0, pitch, -pitch, 2 * pitch, length / 2]) {
		const at = position + shift;
		const beyond = bar(at + 2 * back, pitch, 2 * pitch);
		yield {
			cut: bar(at, -1, pitch + WELD),
			bridge: bar(at + back, pitch - WELD, 2 * pitch + WELD),
			berth: bar(at + back, pitch - WELD, 2 * pitch + WELD, pitch + 2 * HAIR).outer,
			next: scale(add(beyond.outer[2]!, beyond.outer[3]!), 0.5),
		};
	}
}

/** Bridges from a second core to the ring round it, from the middles of its longer sides. */
function bridgesTo(core: Region, pitch: number): Region[] {
	const ring = core.outer;
	return ring
		.map((p, i) => ({ i, length: distance(p, ring[(i + 1) % ring.length]!) }))
		.filter(({ length }) => length > 2 * pitch)
		.sort((a, b) => b.length - a.length)
		.slice(0, MAX_GATES)
		.map(({ i, length }) => {
			const before = ring.slice(0, i).reduce((sum, p, k) => sum + distance(p, ring[k + 1]!), 0);
			return barAcross(ring, before + length / 2, pitch, -pitch - WELD, WELD);
		});
}

/** The last lane in a core: a core too narrow for the pipe's return is widened into the gap round it. */
function coreLane(core: Region, radius: number, minBendRadius: number): Region {
	const lacking = minBendRadius + 0.5 - radius;
	return lacking > 0 ? (offset([core], lacking)[0] ?? core) : core;
}

/** The only one of some regions, when it has no holes. */
const only = (regions: readonly Region[]): Region | undefined => (single(regions) ? regions[0] : undefined);

/** A lane between two contours, cut open at a gate. */
const opened = (contour: Region, inner: readonly Region[], { cut }: Gate): Region | undefined =>
	ringCutOpen(contour, inner, cut.outer) ?? only(difference([contour], [...inner, cut]));

/** Whether a gate's bridge joins the lane that is opened there to what lies in it, and nothing else. */
const joins = ({ bridge, berth }: Gate, lane: Region, core: Region): boolean =>
	bridgesOnce(berth, lane, core) || single(union([lane, core, bridge]));

/** The contour so far inside another one, whose radius is known; nothing is left beyond that. */
const contourWithin = (contour: Region, radius: number, depth: number): Region[] =>
	depth > radius + INRADIUS_TOLERANCE ? [] : offset([contour], -depth);

/** The tree of one contour, which is `radius` mm deep, and everything inside it; undefined where the ring cannot be opened. */
function coil(
	contour: Region,
	radius: number,
	pitch: number,
	place: Point,
	hand: Hand,
	options: SpiralOptions,
	depth: number,
): Region | undefined {
	const inner = contourWithin(contour, radius, pitch);
	if (inner.length === 0) return coreLane(contour, radius, options.minBendRadius);
	const deeper = contourWithin(contour, radius, 2 * pitch);
	// What is left at two pitches tells that something is left before.
	const hasGap =
		deeper.length > 0 ||
		contourWithin(contour, radius, pitch + Math.min(options.minBendRadius, pitch * 0.45)).length > 0;
	if (!hasGap || depth > MAX_DEPTH) return contour;
	const cores = largestFirst(deeper).filter((core) => regionArea(core) > pitch * pitch);
	const main = cores[0];
	for (const gate of gatesOf(contour, pitch, place, hand)) {
		const open = opened(contour, inner, gate);
		if (!open) continue;
		if (!main) return open;
		if (!joins(gate, open, main)) continue;
		let tree: Region | undefined = open;
		for (const core of cores) {
			const left = deeper.length > 1 ? inradius(core) : radius - 2 * pitch;
			const fitted = cores.length > 1 ? (fittingPitches(left, options.spacing)[0] ?? pitch) : pitch;
			const within = coil(core, left, Math.max(fitted, 0.85 * pitch), gate.next, hand, options, depth + 1);
			const bridge =
				core === main ? gate.bridge : bridgesTo(core, pitch).find((bar) => single(union([open, core, bar])));
			if (!within || !bridge) return undefined;
			tree = ringsBridged(tree, within, bridge.outer) ?? only(union([tree, within, bridge]));
			if (!tree) return undefined;
		}
		return tree;
	}
	return undefined;
}

/** Holes are joined to the rim by a slit one pitch wide, so that the rings run round both. */
function slitHoles(region: Region, width: number): Region[] {
	let regions: Region[] = [region];
	for (const hole of region.holes) {
		const ways = hole
			.map((p) => ({ p, rim: nearestOnRing(region.outer, p) }))
			.sort((a, b) => a.rim.distance - b.rim.distance);
		const way = ways[0];
		if (!way) continue;
		const u = direction(way.p, way.rim.point);
		const side = scale(leftOf(u), width / 2);
		const start = add(way.p, scale(u, -width));
		const end = add(way.rim.point, scale(u, width));
		const outer = [subtract(start, side), subtract(end, side), add(end, side), add(start, side)];
		const slit = [outer[0]!, outer[1]!, outer[2]!, outer[3]!];
		regions = difference(regions, [{ outer: slit, holes: [] }]);
	}
	return regions;
}

/** Coils one way or the other; undefined where the shape does not allow it. */
export type Spiral = (hand: Hand) => Field | undefined;

/** Nested contours, to be opened at their corners and joined inwards. */
export function spiral(options: SpiralOptions): Spiral {
	const { spacing, minBendRadius } = options;
	const contour = rimOf(options);
	if (!contour) return () => undefined;
	const reached = regionArea(contour) / options.floor.reduce((sum, region) => sum + regionArea(region), 0);
	const depth = inradius(contour);
	const pitches = fittingPitches(depth, spacing);
	return (hand) => {
		for (const pitch of pitches) {
			const tree = coil(contour, depth, pitch, options.gate, hand, options, 0);
			if (!tree) continue;
			const rounding = { minRadius: minBendRadius, radius: Math.max(minBendRadius, pitch / 2) };
			const ring = roundOutline(tree.outer, rounding);
			if (ring && keepsClear(ring, options.apart)) return { ring, outline: tree.outer, rounding, reached };
		}
		return undefined;
	};
}

/** The outermost contour: without holes, spikes and what returns that swell would leave; undefined when nothing is left. */
function rimOf({ floor, minBendRadius, spacing, rim }: SpiralOptions): Region | undefined {
	const whole = rootOf(floor);
	if (!whole) return undefined;
	const swell = Math.max(0, minBendRadius - spacing / 2 - rim);
	const room = swell > 0 ? rootOf(offset([whole], -swell)) : whole;
	if (!room) return undefined;
	const slit = room.holes.length > 0 ? rootOf(slitHoles(room, spacing)) : room;
	if (!slit || slit.holes.length > 0) return undefined;
	return rootOf(openedWithin([slit], spacing * 0.45));
}
