import ClipperLib from "clipper-lib";
import { shiftedSides } from "./shiftedSides.ts";
import type { Path, Point, Region, Ring } from "./types.ts";

/*
 * The one door to clipper-lib. Outside this file every coordinate is in mm; inside, in integer steps of 1 um.
 * clipper-lib ends its errors in alert(), so input is checked here before any call.
 */
const GRID = 1000;
/** clipper switches to slow big integers beyond this many steps. */
const FAST_RANGE = 47_000_000;
/** How far a mitre reaches at most where nothing else is asked for, as a multiple of the distance. */
const MITER_LIMIT = 20;

type ClipperPath = { X: number; Y: number }[];

export type Join = "miter" | "round";

export interface OffsetOptions {
	/** Corner treatment. @default "miter" */
	readonly join?: Join;
	/** Largest gap between a rounded corner and its chords, mm. @default 0.25 */
	readonly arcTolerance?: number;
	/** How far a mitre may reach, as a multiple of the distance, before it is squared off. @default 20 */
	readonly miterLimit?: number;
	/** Corners that lie no farther than this from the one before are left out, mm. @default 0 */
	readonly speck?: number;
}

/** Far-off floors are brought near the origin, so that clipper stays on its fast arithmetic. */
function originOf(rings: readonly Ring[]): Point {
	const first = rings.find((ring) => ring.length > 0)?.[0] ?? [0, 0];
	if (Math.max(Math.abs(first[0]), Math.abs(first[1])) * GRID < FAST_RANGE / 2) return [0, 0];
	return [Math.round(first[0]), Math.round(first[1])];
}

function toClipper(ring: Ring, origin: Point): ClipperPath {
	const x0 = origin[0];
	const y0 = origin[1];
	return ring.map((p) => {
		const x = p[0];
		const y = p[1];
		if (!Number.isFinite(x) || !Number.isFinite(y)) throw new RangeError(`coordinate (${x}, ${y}) is not finite`);
		return { X: Math.round((x - x0) * GRID), Y: Math.round((y - y0) * GRID) };
	});
}

/** A coordinate as clipping gives it back, mm. */
export const asClipped = (coordinate: number): number => Math.round(coordinate * GRID) / GRID;

const fromClipper = (path: ClipperPath, origin: Point): Ring =>
	path.map(({ X, Y }) => [X / GRID + origin[0], Y / GRID + origin[1]] as const);

interface ClipperNode {
	Contour(): ClipperPath;
	Childs(): ClipperNode[];
}

function regionsOf(tree: ClipperNode, origin: Point): Region[] {
	const regions: Region[] = [];
	for (const outer of tree.Childs()) {
		regions.push({
			outer: fromClipper(outer.Contour(), origin),
			holes: outer.Childs().map((hole) => fromClipper(hole.Contour(), origin)),
		});
		for (const hole of outer.Childs()) regions.push(...regionsOf(hole, origin));
	}
	return regions;
}

function allRings(regions: readonly Region[]): Ring[] {
	const rings: Ring[] = [];
	for (const { outer, holes } of regions) {
		rings.push(outer);
		for (const hole of holes) rings.push(hole);
	}
	return rings;
}

function combine(type: number, subject: readonly Region[], clip: readonly Region[]): Region[] {
	const subjectRings = allRings(subject);
	const clipRings = allRings(clip);
	const origin = originOf([...subjectRings, ...clipRings]);
	const clipper = new ClipperLib.Clipper();
	for (const ring of subjectRings) clipper.AddPath(toClipper(ring, origin), ClipperLib.PolyType.ptSubject, true);
	for (const ring of clipRings) clipper.AddPath(toClipper(ring, origin), ClipperLib.PolyType.ptClip, true);
	const tree = new ClipperLib.PolyTree();
	clipper.Execute(type, tree, ClipperLib.PolyFillType.pftNonZero, ClipperLib.PolyFillType.pftNonZero);
	return regionsOf(tree as unknown as ClipperNode, origin);
}

/** Everything covered by any of the regions; rings may overlap. */
export const union = (regions: readonly Region[]): Region[] => combine(ClipperLib.ClipType.ctUnion, regions, []);

/** What both sets of regions cover. */
export const intersect = (a: readonly Region[], b: readonly Region[]): Region[] =>
	combine(ClipperLib.ClipType.ctIntersection, a, b);

/** What `a` covers and `b` does not. */
export const difference = (a: readonly Region[], b: readonly Region[]): Region[] =>
	b.length === 0 ? [...a] : combine(ClipperLib.ClipType.ctDifference, a, b);

function offsetter(options: OffsetOptions): InstanceType<typeof ClipperLib.ClipperOffset> {
	return new ClipperLib.ClipperOffset(options.miterLimit ?? MITER_LIMIT, (options.arcTolerance ?? 0.25) * GRID);
}

const joinType = (join: Join | undefined): number =>
	join === "round" ? ClipperLib.JoinType.jtRound : ClipperLib.JoinType.jtMiter;

/**
 * Lines to offset. Clipping and rounding leave corners that all but repeat the one before: the side between them may point
 * anywhere, and mitred, it reaches far out of the outline.
 */
const toOffset = (lines: readonly Path[], origin: Point, { speck = 0 }: OffsetOptions): ClipperPath[] =>
	lines.map((line) => withoutSpecks(toClipper(line, origin), speck * GRID));

function withoutSpecks(path: ClipperPath, speck: number): ClipperPath {
	if (speck === 0) return path;
	let last = path.at(-1);
	return path.filter((at) => {
		const isSpeck = last && Math.abs(at.X - last.X) < speck && Math.abs(at.Y - last.Y) < speck;
		if (!isSpeck) last = at;
		return !isSpeck;
	});
}

/**
 * Grows regions by `distance` mm, or shrinks them when it is negative. A neck narrower than twice the distance
 * splits the result; an empty array means nothing that wide is left.
 */
export function offset(regions: readonly Region[], distance: number, options: OffsetOptions = {}): Region[] {
	const rings = allRings(regions);
	const origin = originOf(rings);
	const outlines = toOffset(rings, origin, options);
	const shifted =
		outlines.length === 1 && options.join !== "round" ? shift(outlines[0]!, origin, distance, options) : undefined;
	if (shifted) return shifted;
	const clipper = offsetter(options);
	for (const outline of outlines) clipper.AddPath(outline, joinType(options.join), ClipperLib.EndType.etClosedPolygon);
	return regionsOf(offsetTree(clipper, distance * GRID), origin);
}

/** The offset of a single plain ring, without clipper. */
function shift(
	ring: ClipperPath,
	origin: Point,
	distance: number,
	{ miterLimit }: OffsetOptions,
): Region[] | undefined {
	const steps = ring.map(({ X, Y }): Point => [X, Y]);
	const outer = shiftedSides(steps, distance * GRID, miterLimit ?? MITER_LIMIT);
	if (!outer || outer.length === 0) return outer && [];
	return [{ outer: outer.map(([x, y]): Point => [x / GRID + origin[0], y / GRID + origin[1]]), holes: [] }];
}

/** What clipper's offsetter does in steps: it moves all sides, and then clears the outline of loops. */
interface OffsetSteps {
	FixOrientations(): void;
	DoOffset(delta: number): void;
	readonly m_destPolys: ClipperPath[];
}

/**
 * The offsetter clears an inward outline as the outside of a frame round it. That is twice the work of clearing it as
 * it is, which gives the same regions.
 */
function offsetTree(offsetter: InstanceType<typeof ClipperLib.ClipperOffset>, delta: number): ClipperNode {
	const tree = new ClipperLib.PolyTree();
	if (delta >= 0) offsetter.Execute(tree, delta);
	else {
		const steps = offsetter as unknown as OffsetSteps;
		steps.FixOrientations();
		steps.DoOffset(delta);
		const { ctUnion } = ClipperLib.ClipType;
		const { pftPositive } = ClipperLib.PolyFillType;
		const clipper = new ClipperLib.Clipper();
		clipper.AddPaths(steps.m_destPolys, ClipperLib.PolyType.ptSubject, true);
		clipper.Execute(ctUnion, tree, pftPositive, pftPositive);
	}
	return tree as unknown as ClipperNode;
}

/** Strips of more paths than this are joined a few at a time: at every corner of a bundle each crosses all the others. */
const FEW_PATHS = 4;

/** The strip within `distance` mm of some open paths; ends are cut off square, or rounded with `join: "round"`. */
export function thicken(paths: readonly Path[], distance: number, options: OffsetOptions = {}): Region[] {
	if (paths.length <= FEW_PATHS) return thickenAtOnce(paths, distance, options);
	const strips: Region[] = [];
	for (let first = 0; first < paths.length; first += FEW_PATHS)
		strips.push(...thickenAtOnce(paths.slice(first, first + FEW_PATHS), distance, options));
	return union(strips);
}

function thickenAtOnce(paths: readonly Path[], distance: number, options: OffsetOptions): Region[] {
	const origin = originOf(paths);
	const clipper = offsetter(options);
	const end = options.join === "round" ? ClipperLib.EndType.etOpenRound : ClipperLib.EndType.etOpenButt;
	for (const path of paths) if (path.length > 1) clipper.AddPath(toClipper(path, origin), joinType(options.join), end);
	const tree = new ClipperLib.PolyTree();
	clipper.Execute(tree, distance * GRID);
	return regionsOf(tree as unknown as ClipperNode, origin);
}
