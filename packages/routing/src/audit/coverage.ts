import type { Floor, Room } from "@oxturn/floor";
import type { Path } from "@oxturn/geometry";
import type { RoomCoverage } from "../types.ts";
import { distanceTransform } from "./distanceTransform.ts";
import type { Outline } from "./outline.ts";
import { type Plan, planOf, type Space } from "./plan.ts";
import { forEachRunIn } from "./runsIn.ts";
import { type Segments, segmentsOf } from "./segments.ts";
import { traceLoop } from "./trace.ts";

/** Distances that fall on a limit count as within it, mm. */
const ON_LIMIT = 1e-6;

/** A room is not cut into more cells than this; the cells grow instead. */
const MOST_CELLS = 3e7;

export interface CoverageOptions {
	/** Side of a cell, mm. @default 20, or 25 on a floor of more than 300 m2 heated */
	readonly cell?: number;
}

/**
 * Measures how well some pipes cover a room: on a raster, by exact distances from the cells' centres to
 * the pipe in this room and in its doorways. A room without free floor is covered, with no density.
 */
export function coverageOfRoom(
	floor: Floor,
	room: Room,
	pipes: readonly Path[],
	options: CoverageOptions = {},
): RoomCoverage {
	const plan = planOf({ ...floor, rooms: [room] });
	const label = { id: "", manifold: undefined, port: undefined, rooms: undefined, statedLength: undefined };
	const segments = segmentsOf(pipes.filter((pipe) => pipe.length > 1).map((pipe) => traceLoop(label, pipe)));
	return coverageInPlan(plan, plan.rooms[0]!, segments, options.cell ?? cellFor(planOf(floor)));
}

/** Side of the raster's cells that suits a floor, mm. */
export function cellFor({ rooms }: Plan): number {
	const heated = rooms.reduce((sum, { feature, outline }) => sum + (feature.heated ? outline.area : 0), 0);
	return heated > 300e6 ? 25 : 20;
}

/** As `coverageOfRoom`, on what has been prepared; `cell` in mm. */
export function coverageInPlan(
	{ doorways, keepouts }: Plan,
	{ feature: room, outline }: Space<Room>,
	segments: Segments,
	cell: number,
): RoomCoverage {
	const raster = rasterOf(outline, cell);
	const { columns, rows } = raster;
	const free = new Uint8Array(columns * rows);
	paint(free, raster, outline, 1);
	for (const keepout of keepouts) paint(free, raster, keepout.outline, 0);

	const near = new Uint8Array(columns * rows);
	const warm = new Uint8Array(columns * rows);
	let pipe = 0;
	const mark = (i: number, from: number, to: number): void => {
		const x = segments.ax[i]!;
		const y = segments.ay[i]!;
		const dx = segments.bx[i]! - x;
		const dy = segments.by[i]! - y;
		markAround(near, raster, x + from * dx, y + from * dy, x + to * dx, y + to * dy, 0.55 * room.spacing);
		markAround(warm, raster, x + from * dx, y + from * dy, x + to * dx, y + to * dy, room.spacing);
	};
	forEachRunIn(outline, segments, (i, from, to) => {
		pipe += (to - from) * segments.length[i]!;
		mark(i, from, to);
	});
	for (const doorway of doorways)
		if (doorway.feature.between.includes(room.id)) forEachRunIn(doorway.outline, segments, mark);

	const { cells, within055, within100 } = tally(free, near, warm);
	const area = (cells * raster.cell ** 2) / 1e6;
	return {
		room: room.id,
		area,
		within055: cells > 0 ? within055 / cells : 1,
		within100: cells > 0 ? within100 / cells : 1,
		coldSpot: within100 < cells ? largestCircle(coldOf(free, warm), raster) : 0,
		density: cells > 0 ? (pipe * room.spacing) / (area * 1e6) : 0,
		pipe: pipe / 1000,
	};
}

/** How many cells of free floor there are, and how many of them are near a pipe, and warm. */
function tally(free: Uint8Array, near: Uint8Array, warm: Uint8Array) {
	let cells = 0;
	let within055 = 0;
	let within100 = 0;
	for (let i = 0; i < free.length; i++) {
		if (!free[i]) continue;
		cells++;
		within055 += near[i]!;
		within100 += warm[i]!;
	}
	return { cells, within055, within100 };
}

const coldOf = (free: Uint8Array, warm: Uint8Array): Uint8Array => free.map((isFree, i) => isFree & ~warm[i]!);

interface Raster {
	/** mm */
	readonly cell: number;
	/** Lower left corner, mm. */
	readonly x: number;
	readonly y: number;
	readonly columns: number;
	readonly rows: number;
}

/** Covers an outline's box, with one cell all round. */
function rasterOf({ minX, minY, maxX, maxY }: Outline, wanted: number): Raster {
	let cell = wanted;
	while (((maxX - minX) / cell) * ((maxY - minY) / cell) > MOST_CELLS) cell *= 2;
	return {
		cell,
		x: minX - cell,
		y: minY - cell,
		columns: Math.ceil((maxX - minX) / cell) + 2,
		rows: Math.ceil((maxY - minY) / cell) + 2,
	};
}

/** Sets the cells whose centres lie in the outline, row by row between every two edges crossed. */
function paint(cells: Uint8Array, raster: Raster, outline: Outline, value: 0 | 1): void {
	const { cell, columns, rows } = raster;
	const { ax, ay, bx, by } = outline;
	if (outline.minX > raster.x + columns * cell || outline.maxX < raster.x) return;
	const first = Math.max(0, Math.floor((outline.minY - raster.y) / cell - 0.5));
	const last = Math.min(rows - 1, Math.ceil((outline.maxY - raster.y) / cell - 0.5));
	for (let row = first; row <= last; row++) {
		const y = raster.y + (row + 0.5) * cell;
		const crossed: number[] = [];
		for (let i = 0; i < ax.length; i++) {
			const ey = ay[i]!;
			const fy = by[i]!;
			if (ey > y === fy > y) continue;
			crossed.push(ax[i]! + ((y - ey) * (bx[i]! - ax[i]!)) / (fy - ey));
		}
		crossed.sort((a, b) => a - b);
		for (let k = 0; k + 1 < crossed.length; k += 2) {
			const left = Math.max(0, Math.ceil((crossed[k]! - raster.x) / cell - 0.5));
			const right = Math.min(columns, Math.ceil((crossed[k + 1]! - raster.x) / cell - 0.5));
			if (right > left) cells.fill(value, row * columns + left, row * columns + right);
		}
	}
}

/**
 * Marks the cells whose centres lie within `radius` of the segment a-b. That set is convex, so each row of it is one
 * span; its ends lie on one of the round ends or on one of the two flanks.
 */
function markAround(
	cells: Uint8Array,
	raster: Raster,
	ax: number,
	ay: number,
	bx: number,
	by: number,
	radius: number,
): void {
	const { cell, columns, rows } = raster;
	const r = radius + ON_LIMIT;
	const dx = bx - ax;
	const dy = by - ay;
	const length = Math.sqrt(dx * dx + dy * dy);
	const ux = length > 0 ? dx / length : 1;
	const uy = length > 0 ? dy / length : 0;
	const first = Math.max(0, Math.ceil((Math.min(ay, by) - r - raster.y) / cell - 0.5));
	const last = Math.min(rows - 1, Math.floor((Math.max(ay, by) + r - raster.y) / cell - 0.5));
	for (let row = first; row <= last; row++) {
		const y = raster.y + (row + 0.5) * cell;
		let left = Infinity;
		let right = -Infinity;
		const roundA = r * r - (y - ay) ** 2;
		if (roundA >= 0) {
			const half = Math.sqrt(roundA);
			left = ax - half;
			right = ax + half;
		}
		const roundB = r * r - (y - by) ** 2;
		if (roundB >= 0) {
			const half = Math.sqrt(roundB);
			left = Math.min(left, bx - half);
			right = Math.max(right, bx + half);
		}
		if (uy !== 0) {
			for (let side = -r; side <= r; side += 2 * r) {
				const along = (y - ay - side * ux) / uy;
				if (along < 0 || along > length) continue;
				const x = ax + along * ux - side * uy;
				left = Math.min(left, x);
				right = Math.max(right, x);
			}
		}
		const from = Math.max(0, Math.ceil((left - raster.x) / cell - 0.5));
		const to = Math.min(columns - 1, Math.floor((right - raster.x) / cell - 0.5));
		if (to >= from) cells.fill(1, row * columns + from, row * columns + to + 1);
	}
}

/** Diameter of the largest circle that fits in the cells that are set, mm. */
function largestCircle(cells: Uint8Array, { cell, columns, rows }: Raster): number {
	let left = columns;
	let right = -1;
	let bottom = rows;
	let top = -1;
	for (let row = 0; row < rows; row++)
		for (let column = 0; column < columns; column++) {
			if (!cells[row * columns + column]) continue;
			left = Math.min(left, column);
			right = Math.max(right, column);
			bottom = Math.min(bottom, row);
			top = row;
		}
	// only the part that is set, with a rim of one cell that is not
	const width = right - left + 3;
	const height = top - bottom + 3;
	const part = new Uint8Array(width * height);
	for (let row = bottom; row <= top; row++)
		part.set(cells.subarray(row * columns + left, row * columns + right + 1), (row - bottom + 1) * width + 1);
	let largest = 0;
	for (const distance2 of distanceTransform(part, width, height)) if (distance2 > largest) largest = distance2;
	// the free radius ends at the edge of the nearest warm cell, half a cell before its centre
	return largest > 0 ? (2 * Math.sqrt(largest) - 1) * cell : 0;
}
