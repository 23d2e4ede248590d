import { boundingBox, distance, type Path, type Point, type Region, ringsOf } from "@oxturn/geometry";
import { countBits, setBits, wordsFor } from "./bits.ts";

/*
 * A coarse map of a floor to compare fields by: how much of it lies farther from a pipe than it should. The audit
 * measures finished layouts with code of its own.
 */

export interface FloorMap {
	readonly x: number;
	readonly y: number;
	readonly cell: number;
	readonly columns: number;
	readonly rows: number;
	/** Words that the bits of one row take. */
	readonly words: number;
	/** A bit for every cell, row by row; set where there is floor. */
	readonly mask: Int32Array;
	readonly cells: number;
}

/** Marks the cells whose centres lie on the floor. */
export function mapFloor(floor: readonly Region[], cell: number): FloorMap {
	const rings = floor.flatMap((region) => ringsOf(region));
	const [x0, y0, x1, y1] = boundingBox(rings.flat());
	const columns = Math.max(1, Math.ceil((x1 - x0) / cell));
	const rows = Math.max(1, Math.ceil((y1 - y0) / cell));
	const words = wordsFor(columns);
	const mask = new Int32Array(Number.isFinite(words * rows) ? words * rows : 0);
	let cells = 0;
	/** Where a row crosses the rim, from left to right; a row may cross every side of it. */
	const crossings = new Float64Array(rings.reduce((sum, ring) => sum + ring.length, 0));
	for (let j = 0; j < rows && mask.length > 0; j++) {
		const y = y0 + (j + 0.5) * cell;
		let count = 0;
		for (const ring of rings) {
			let a = ring[ring.length - 1]!;
			for (let i = 0; i < ring.length; i++) {
				const b = ring[i]!;
				if (a[1] > y !== b[1] > y) {
					const x = a[0] + ((y - a[1]) * (b[0] - a[0])) / (b[1] - a[1]);
					let k = count++;
					for (; k > 0 && crossings[k - 1]! > x; k--) crossings[k] = crossings[k - 1]!;
					crossings[k] = x;
				}
				a = b;
			}
		}
		for (let k = 0; k + 1 < count; k += 2) {
			const from = Math.max(0, Math.ceil((crossings[k]! - x0) / cell - 0.5));
			const to = Math.min(columns - 1, Math.floor((crossings[k + 1]! - x0) / cell - 0.5));
			if (to < from) continue;
			setBits(mask, j * words, from, to);
			cells += to - from + 1;
		}
	}
	return { x: x0, y: y0, cell, columns, rows, words, mask, cells };
}

export interface Shortfall {
	/** Share of the floor farther than 0.55 spacing from a pipe. */
	readonly beyond055: number;
	/** Share of the floor farther than one spacing from a pipe. */
	readonly beyond100: number;
}

/** Leaves out points nearer than `step` mm to the one before: small arcs do not show on a coarse map. */
export function coarse(path: Path, step: number): Path {
	const kept: Point[] = [];
	for (const [i, p] of path.entries()) {
		const last = kept[kept.length - 1];
		if (!last || i === path.length - 1 || distance(last, p) >= step) kept.push(p);
	}
	return kept;
}

/**
 * Marks the cells whose centres lie within `reach` of the stretch a-b, in the rows that are `wanted`, or in all. They
 * form one span in every row: between the ends' circles, and between the two lines that run beside the stretch.
 */
function mark(
	bits: Int32Array,
	map: FloorMap,
	a: Point,
	b: Point,
	reach: number,
	wanted: Uint8Array | undefined,
): void {
	const { cell, columns, rows, words } = map;
	const upwards = b[1] >= a[1];
	const lower = upwards ? a : b;
	const upper = upwards ? b : a;
	const x0 = lower[0];
	const y0 = lower[1];
	const x1 = upper[0];
	const y1 = upper[1];
	const dx = x1 - x0;
	const dy = y1 - y0;
	const level = dy < 1e-9;
	const upright = !level && Math.abs(dx) < 1e-6;
	const length = level ? 0 : Math.sqrt(dx * dx + dy * dy);
	// Where a line beside the stretch begins and ends above its ends, and how far beside them.
	const beside = level ? 0 : (reach * dy) / length;
	const above = level ? 0 : (reach * dx) / length;
	const slant = level ? 0 : dx / dy;
	const first = Math.max(0, Math.ceil((y0 - reach - map.y) / cell - 0.5));
	const last = Math.min(rows - 1, Math.floor((y1 + reach - map.y) / cell - 0.5));
	for (let row = first; row <= last; row++) {
		if (wanted && wanted[row] === 0) continue;
		const y = map.y + (row + 0.5) * cell;
		let left = Infinity;
		let right = -Infinity;
		const low = y - y0;
		const high = y - y1;
		if (upright && low >= 0 && high <= 0) {
			left = x0 - reach;
			right = x0 + reach;
		} else {
			if (low <= reach && low >= -reach) {
				const half = Math.sqrt(reach * reach - low * low);
				left = x0 - half;
				right = x0 + half;
			}
			if (high <= reach && high >= -reach) {
				const half = Math.sqrt(reach * reach - high * high);
				if (x1 - half < left) left = x1 - half;
				if (x1 + half > right) right = x1 + half;
			}
			if (!level) {
				const leftLine = low - above;
				if (leftLine >= 0 && leftLine <= dy) left = Math.min(left, x0 - beside + leftLine * slant);
				const rightLine = low + above;
				if (rightLine >= 0 && rightLine <= dy) right = Math.max(right, x0 + beside + rightLine * slant);
			}
		}
		const from = Math.max(0, Math.ceil((left - map.x) / cell - 0.5));
		const to = Math.min(columns - 1, Math.floor((right - map.x) / cell - 0.5));
		if (to >= from) setBits(bits, row * words, from, to);
	}
}

/** Marks the cells within `reach` of the pipes, in the rows that are `wanted`, or in all. */
function markPipes(
	bits: Int32Array,
	map: FloorMap,
	pipes: readonly Path[],
	reach: number,
	wanted: Uint8Array | undefined,
): void {
	for (const pipe of pipes) {
		let a = pipe[0]!;
		for (let s = 1; s < pipe.length; s++) {
			const b = pipe[s]!;
			if (distance(a, b) < map.cell && s < pipe.length - 1) continue;
			mark(bits, map, a, b, reach, wanted);
			a = b;
		}
	}
}

/** How many of the cells in `mask` are not marked. */
function countUnmarked(bits: Int32Array, mask: Int32Array): number {
	let count = 0;
	for (let at = 0; at < mask.length; at++) count += countBits(mask[at]! & ~bits[at]!);
	return count;
}

/** The near reach, and the far one, as shares of the spacing. */
const NEAR = 0.55;
const FAR = 1;

interface FarCells {
	/** A bit for every cell that may lie out of the far reach. */
	readonly mask: Int32Array;
	/** Rows that have any. */
	readonly rows: Uint8Array;
	readonly hasAny: boolean;
}

/**
 * Where floor may lie out of the far reach, told from what is marked as within the near one: a cell does only where its
 * four neighbours lie out of the near reach, since those are nearer to it than the difference of the two.
 */
function farCells(marked: Int32Array, { mask, words, rows: count }: FloorMap): FarCells {
	const far = new Int32Array(mask.length);
	const rows = new Uint8Array(count);
	let hasAny = false;
	for (let row = 0, at = 0; row < count; row++)
		for (let word = 0; word < words; word++, at++) {
			let open = mask[at]! & ~marked[at]!;
			if (open === 0) continue;
			const here = ~marked[at]!;
			// What lies off the map is within reach of no pipe.
			open &= (here << 1) | (word === 0 ? 1 : ~marked[at - 1]! >>> 31);
			open &= (here >>> 1) | (word === words - 1 ? 1 << 31 : ~marked[at + 1]! << 31);
			if (row > 0) open &= ~marked[at - words]!;
			if (row < count - 1) open &= ~marked[at + words]!;
			if (open === 0) continue;
			far[at] = open;
			rows[row] = 1;
			hasAny = true;
		}
	return { mask: far, rows, hasAny };
}

/** How much of the mapped floor the pipes leave cold; the map's cells are smaller than the reaches differ. */
export function shortfall(map: FloorMap, pipes: readonly Path[], spacing: number): Shortfall {
	const marked = new Int32Array(map.mask.length);
	markPipes(marked, map, pipes, NEAR * spacing, undefined);
	const cells = Math.max(1, map.cells);
	const beyond055 = countUnmarked(marked, map.mask) / cells;
	const far = farCells(marked, map);
	if (!far.hasAny) return { beyond055, beyond100: 0 };
	markPipes(marked, map, pipes, FAR * spacing, far.rows);
	return { beyond055, beyond100: countUnmarked(marked, far.mask) / cells };
}
