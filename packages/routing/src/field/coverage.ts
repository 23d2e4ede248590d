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

/** Cells being marked: those whose centres lie within `reach` of a pipe, in the rows that are `wanted`, or in all. */
interface Marking {
	readonly bits: Int32Array;
	readonly map: FloorMap;
	readonly reach: number;
	readonly wanted: Uint8Array | undefined;
}

/** The rows whose centres lie within reach of the heights from `bottom` to `top`: the first and the last. */
const firstRow = ({ map, reach }: Marking, bottom: number): number =>
	Math.max(0, Math.ceil((bottom - reach - map.y) / map.cell - 0.5));
const lastRow = ({ map, reach }: Marking, top: number): number =>
	Math.min(map.rows - 1, Math.floor((top + reach - map.y) / map.cell - 0.5));

function markSpan({ bits, map }: Marking, row: number, left: number, right: number): void {
	const from = Math.max(0, Math.ceil((left - map.x) / map.cell - 0.5));
	const to = Math.min(map.columns - 1, Math.floor((right - map.x) / map.cell - 0.5));
	if (to >= from) setBits(bits, row * map.words, from, to);
}

/** Half of what a circle of a radius takes of a line so far off its centre; less than nothing where they do not meet. */
const halfChord = (radius: number, off: number): number =>
	off <= radius && off >= -radius ? Math.sqrt(radius * radius - off * off) : -Infinity;

/** Marks about a stretch that goes along the rows or the columns, from `left` to `right` and from `bottom` to `top`. */
function markSquare(marking: Marking, left: number, right: number, bottom: number, top: number): void {
	const { map, reach, wanted } = marking;
	const last = lastRow(marking, top);
	for (let row = firstRow(marking, bottom); row <= last; row++) {
		if (wanted && wanted[row] === 0) continue;
		const y = map.y + (row + 0.5) * map.cell;
		const half = y < bottom ? halfChord(reach, bottom - y) : y > top ? halfChord(reach, y - top) : reach;
		markSpan(marking, row, left - half, right + half);
	}
}

/** Marks about any other stretch, from its lower end: in every row between two lines beside it, or its ends' circles. */
function markOblique(marking: Marking, [x0, y0]: Point, [x1, y1]: Point): void {
	const { map, reach, wanted } = marking;
	const dx = x1 - x0;
	const dy = y1 - y0;
	const length = Math.sqrt(dx * dx + dy * dy);
	// Where a line beside the stretch begins and ends above its ends, and how far beside them.
	const beside = (reach * dy) / length;
	const above = (reach * dx) / length;
	const slant = dx / dy;
	const last = lastRow(marking, y1);
	for (let row = firstRow(marking, y0); row <= last; row++) {
		if (wanted && wanted[row] === 0) continue;
		const up = map.y + (row + 0.5) * map.cell - y0;
		const onLeft = up - above;
		const onRight = up + above;
		const left =
			onLeft < 0
				? x0 - halfChord(reach, up)
				: onLeft > dy
					? x1 - halfChord(reach, up - dy)
					: x0 - beside + onLeft * slant;
		const right =
			onRight < 0
				? x0 + halfChord(reach, up)
				: onRight > dy
					? x1 + halfChord(reach, up - dy)
					: x0 + beside + onRight * slant;
		markSpan(marking, row, left, right);
	}
}

/** So little off the rows or the columns, a stretch counts as along them, mm. */
const SQUARE = 1e-6;

function mark(marking: Marking, a: Point, b: Point): void {
	if (Math.abs(b[1] - a[1]) < SQUARE || Math.abs(b[0] - a[0]) < SQUARE)
		markSquare(marking, Math.min(a[0], b[0]), Math.max(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[1], b[1]));
	else if (a[1] < b[1]) markOblique(marking, a, b);
	else markOblique(marking, b, a);
}

function markPipes(marking: Marking, pipes: readonly Path[]): void {
	for (const pipe of pipes) {
		let a = pipe[0]!;
		for (let s = 1; s < pipe.length; s++) {
			const b = pipe[s]!;
			if (distance(a, b) < marking.map.cell && s < pipe.length - 1) continue;
			mark(marking, a, b);
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
	markPipes({ bits: marked, map, reach: NEAR * spacing, wanted: undefined }, pipes);
	const cells = Math.max(1, map.cells);
	const beyond055 = countUnmarked(marked, map.mask) / cells;
	const far = farCells(marked, map);
	if (!far.hasAny) return { beyond055, beyond100: 0 };
	markPipes({ bits: marked, map, reach: FAR * spacing, wanted: far.rows }, pipes);
	return { beyond055, beyond100: countUnmarked(marked, far.mask) / cells };
}
