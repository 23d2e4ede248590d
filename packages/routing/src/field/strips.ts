import { type Interval, intervalsAt, type Scan } from "./scan.ts";

/** A piece of a strip between two lines: a trapezoid whose slanting ends follow the walls, mm. */
export interface Strip {
	readonly bottom: number;
	readonly top: number;
	/** Ends of the lower side. */
	readonly bottomLeft: number;
	readonly bottomRight: number;
	/** Ends of the upper side. */
	readonly topLeft: number;
	readonly topRight: number;
}

/** Sections are taken this far off vertices and lines, mm, so that no section runs along a side. */
const OFF = 0.02;
/** Steepest slant of an end: along the lines per mm across them. */
const MAX_SLANT = 2.5;

interface Level {
	readonly y: number;
	readonly intervals: readonly Interval[];
}

function levelsBetween(scan: Scan, bottom: number, top: number): Level[] {
	const heights = [bottom + OFF];
	for (const y of scan.vertexHeights) if (y > bottom + 2 * OFF && y < top - 2 * OFF) heights.push(y - OFF, y + OFF);
	heights.push(top - OFF);
	return heights.map((y) => ({ y, intervals: intervalsAt(scan, y) }));
}

const overlap = (a: Interval, b: Interval): Interval => ({ from: Math.max(a.from, b.from), to: Math.min(a.to, b.to) });

/** Parts of the line from which the way straight up to the next line stays inside. */
function freeColumns(levels: readonly Level[]): readonly Interval[] {
	let free: readonly Interval[] = levels[0]!.intervals;
	for (let k = 0; k + 1 < levels.length; k++) {
		const lower = levels[k]!.intervals;
		const upper = levels[k + 1]!.intervals;
		// Without a vertex between two sections their intervals belong together one by one.
		const sameBand = k % 2 === 0 && lower.length === upper.length;
		const columns = sameBand ? lower.map((interval, i) => overlap(interval, upper[i]!)) : upper;
		const next: Interval[] = [];
		for (const a of free)
			for (const b of columns) {
				const both = overlap(a, b);
				if (both.to > both.from) next.push(both);
			}
		free = next;
	}
	return free;
}

type WallPoint = readonly [y: number, x: number];

/** The wall's points that stand out into the floor: the hull on the side of larger x, ascending in y. */
function outstanding(wall: readonly WallPoint[]): WallPoint[] {
	const hull: WallPoint[] = [];
	for (const point of wall) {
		while (hull.length > 1) {
			const [y1, x1] = hull[hull.length - 2]!;
			const [y2, x2] = hull[hull.length - 1]!;
			if ((x2 - x1) * (point[0] - y1) > (point[1] - x1) * (y2 - y1)) break;
			hull.pop();
		}
		hull.push(point);
	}
	return hull;
}

/**
 * The straight end that takes in the most floor: the line along the wall's outstanding points at mid height. Points
 * are ascending in y, with the floor at larger x. Returns x at the lower and at the upper line.
 */
function slantedEnd(wall: readonly WallPoint[], bottom: number, top: number): [number, number] {
	const middle = (bottom + top) / 2;
	const hull = wall.length > 2 ? outstanding(wall) : wall;
	let slope = 0;
	for (let i = 1; i < hull.length; i++) {
		const [y1, x1] = hull[i - 1]!;
		const [y2, x2] = hull[i]!;
		if (y2 < middle && i < hull.length - 1) continue;
		slope = y2 - y1 > 1 ? (x2 - x1) / (y2 - y1) : 0;
		break;
	}
	slope = Math.max(-MAX_SLANT, Math.min(MAX_SLANT, slope));
	let x = -Infinity;
	for (const [y, at] of hull) x = Math.max(x, at - slope * (y - middle));
	return [x - slope * (middle - bottom), x + slope * (top - middle)];
}

/** Pieces of the strip between two lines, from left to right; each is at least `minWidth` mm wide at mid height. */
export function stripsBetween(scan: Scan, bottom: number, top: number, minWidth: number): Strip[] {
	const levels = levelsBetween(scan, bottom, top);
	const columns = freeColumns(levels);
	const strips: Strip[] = [];
	for (let i = 0; i < columns.length; i++) {
		const column = columns[i]!;
		const middle = (column.from + column.to) / 2;
		const lower = columns[i - 1];
		const upper = columns[i + 1];
		const leftLimit = lower ? (lower.to + column.from) / 2 + minWidth / 2 : -Infinity;
		const rightLimit = upper ? (upper.from + column.to) / 2 - minWidth / 2 : Infinity;
		const left: [number, number][] = [];
		const right: [number, number][] = [];
		for (const { y, intervals } of levels) {
			const own = intervals.find((interval) => interval.from <= middle && middle <= interval.to);
			if (!own) continue;
			left.push([y, Math.max(own.from, Math.min(leftLimit, column.from))]);
			right.push([y, -Math.min(own.to, Math.max(rightLimit, column.to))]);
		}
		const [bottomLeft, topLeft] = slantedEnd(left, bottom, top);
		const mirrored = slantedEnd(right, bottom, top);
		const bottomRight = -mirrored[0];
		const topRight = -mirrored[1];
		if (bottomRight - bottomLeft + topRight - topLeft < 2 * minWidth) continue;
		if (bottomRight - bottomLeft < minWidth / 2 || topRight - topLeft < minWidth / 2) continue;
		strips.push({ bottom, top, bottomLeft, bottomRight, topLeft, topRight });
	}
	return strips;
}
