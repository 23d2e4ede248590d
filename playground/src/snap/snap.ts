import type { Point } from "oxturn";
import { type Draft, isOutlined } from "../document/draft.ts";
import {
	distance,
	dot,
	meetingPoint,
	minus,
	nearestOnSegment,
	plus,
	type Segment,
	times,
	unit,
	wholeMm,
} from "../document/plane.ts";
import { cornersOf, wallsOf } from "../document/rings.ts";

/** What a point was caught by; told beside the cursor. */
export type SnapKind = "corner" | "wall" | "align" | "grid" | "free";

export interface Snap {
	readonly at: Point;
	readonly kind: SnapKind;
	/** Lines that the point was brought into, to be shown. */
	readonly guides: readonly Segment[];
}

export interface SnapOptions {
	/** How far a point is caught from, mm: a few pixels on the screen. */
	readonly reach: number;
	/** mm from grid line to grid line. */
	readonly grid: number;
	/** Points that the new one wants to be square to: the corners drawn so far, or the neighbours of a moved corner. */
	readonly squareTo?: readonly Point[];
	/** Lines without end that a point may lie on, as square to a slanted wall; steps of the grid are counted from `from`. */
	readonly lines?: readonly Segment[];
	/** Corners not to be caught by: those that are being moved. */
	readonly except?: (id: string, ring: number, index: number) => boolean;
}

/** Grid lines lie this far apart, mm. */
export const GRID = 100;

interface Candidates {
	readonly corners: readonly Point[];
	readonly walls: readonly Segment[];
}

function candidatesOf(draft: Draft, except: NonNullable<SnapOptions["except"]>): Candidates {
	const corners: Point[] = [];
	const walls: Segment[] = [];
	for (const feature of draft.features) {
		if (!isOutlined(feature)) continue;
		for (const [ring, closed] of feature.geometry.coordinates.entries()) {
			const open = cornersOf(closed);
			for (const [index, wall] of wallsOf(open).entries()) {
				const isFree = !except(feature.id, ring, index);
				if (isFree) corners.push(wall.from);
				if (isFree && !except(feature.id, ring, (index + 1) % open.length)) walls.push(wall);
			}
		}
	}
	return { corners, walls };
}

const nearest = <T>(all: readonly T[], away: (one: T) => number, reach: number): T | undefined => {
	let best: T | undefined;
	let least = reach;
	for (const one of all) {
		const distance = away(one);
		if (distance <= least) {
			best = one;
			least = distance;
		}
	}
	return best;
};

/**
 * Brings a point to where it is most likely meant: onto a corner, else square to what it hangs together with, else
 * onto a wall, else onto the grid. A point that is square one way still falls on the grid the other way.
 */
export function snap(draft: Draft, point: Point, options: SnapOptions): Snap {
	const { reach, grid, squareTo = [], lines = [], except = () => false } = options;
	const { corners, walls } = candidatesOf(draft, except);

	const corner = nearest([...corners, ...squareTo], (other) => distance(other, point), reach);
	if (corner) return { at: corner, kind: "corner", guides: [] };

	const square = onLines(point, lines, { reach, grid });
	if (square) return square;

	const lined = [...squareTo, ...corners];
	const byX = nearest(lined, ([x]) => Math.abs(x - point[0]), reach);
	const byY = nearest(lined, ([, y]) => Math.abs(y - point[1]), reach);
	const onGrid = (value: number): number => Math.round(value / grid) * grid;
	const wall = nearest(walls, (candidate) => distance(nearestOnSegment(point, candidate).at, point), reach);
	if (wall) {
		const at = alongWall(point, wall, { byX, byY, grid, reach });
		return { at: wholeMm(at), kind: "wall", guides: [wall] };
	}
	if (byX || byY) {
		const at = wholeMm([byX ? byX[0] : onGrid(point[0]), byY ? byY[1] : onGrid(point[1])]);
		const guides = [byX, byY].flatMap((other) => (other ? [{ from: other, to: at }] : []));
		return { at, kind: "align", guides };
	}
	const gridded: Point = [onGrid(point[0]), onGrid(point[1])];
	return distance(gridded, point) <= Math.max(reach, grid * 0.75)
		? { at: gridded, kind: "grid", guides: [] }
		: { at: wholeMm(point), kind: "free", guides: [] };
}

/** A point on one of the lines, a whole step of the grid from its start, or where two of them meet. */
function onLines(
	point: Point,
	lines: readonly Segment[],
	{ reach, grid }: { readonly reach: number; readonly grid: number },
): Snap | undefined {
	const near = lines.flatMap((line) => {
		const along = unit(minus(line.to, line.from));
		if (!along) return [];
		const station = dot(minus(point, line.from), along);
		const away = distance(plus(line.from, times(along, station)), point);
		return away <= reach ? [{ line, along, station }] : [];
	});
	const [first, second] = near;
	if (!first) return undefined;
	const meeting = second && meetingPoint(first.line, second.line);
	if (meeting && distance(meeting, point) <= 2 * reach) {
		const at = wholeMm(meeting);
		return { at, kind: "align", guides: near.map(({ line }) => ({ from: line.from, to: at })) };
	}
	const at = wholeMm(plus(first.line.from, times(first.along, Math.round(first.station / grid) * grid)));
	return { at, kind: "align", guides: [{ from: first.line.from, to: at }] };
}

interface AlongOptions {
	readonly byX: Point | undefined;
	readonly byY: Point | undefined;
	readonly grid: number;
	readonly reach: number;
}

/** A place on a wall: where a line through an aligned corner crosses it, else at a whole grid step from its start. */
function alongWall(point: Point, wall: Segment, { byX, byY, grid, reach }: AlongOptions): Point {
	const along = unit(minus(wall.to, wall.from)) ?? [1, 0];
	const { at } = nearestOnSegment(point, wall);
	if (byX && Math.abs(along[0]) > 0.1) return plus(at, times(along, (byX[0] - at[0]) / along[0]));
	if (byY && Math.abs(along[1]) > 0.1) return plus(at, times(along, (byY[1] - at[1]) / along[1]));
	const station = distance(wall.from, at);
	const stepped = Math.round(station / grid) * grid;
	const isWithin = stepped <= distance(wall.from, wall.to) && Math.abs(stepped - station) <= Math.max(reach, grid / 2);
	return isWithin ? plus(wall.from, times(along, stepped)) : at;
}

/** The point `length` mm from `from`, in the direction of `towards`; along x when both are one. */
export function atLength(from: Point, towards: Point, length: number): Point {
	return wholeMm(plus(from, times(unit(minus(towards, from)) ?? [1, 0], length)));
}
