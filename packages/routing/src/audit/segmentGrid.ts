import type { Segments } from "./segments.ts";

/** No grid has more cells than this: one vertex far astray makes the cells larger, not the grid. */
const MOST_CELLS = 1 << 20;

/** Which segments pass each cell of a uniform grid, and which cells each segment passes. */
export interface SegmentGrid {
	/** Cells of segment i: `cells[firstCell[i]]` up to `cells[firstCell[i + 1] - 1]`. */
	readonly cells: Int32Array;
	readonly firstCell: Int32Array;
	/** Segments of cell c, ascending: `members[firstMember[c]]` up to `members[firstMember[c + 1] - 1]`. */
	readonly members: Int32Array;
	readonly firstMember: Int32Array;
}

/**
 * Enters each segment in every cell within `reach / 2` of it, so two segments nearer than `reach` mm share
 * the cell in which their nearest approach has its middle. Long segments are followed row by row.
 */
export function gridOf(segments: Segments, reach: number): SegmentGrid {
	const { count, ax, ay, bx, by } = segments;
	const half = reach / 2;
	let minX = Infinity;
	let minY = Infinity;
	let maxX = -Infinity;
	let maxY = -Infinity;
	for (let i = 0; i < count; i++) {
		minX = Math.min(minX, ax[i]!, bx[i]!);
		minY = Math.min(minY, ay[i]!, by[i]!);
		maxX = Math.max(maxX, ax[i]!, bx[i]!);
		maxY = Math.max(maxY, ay[i]!, by[i]!);
	}
	if (count === 0) minX = minY = maxX = maxY = 0;
	minX -= half;
	minY -= half;
	const width = maxX + half - minX;
	const height = maxY + half - minY;
	const cell = Math.max(2 * reach, Math.sqrt((width * height) / MOST_CELLS), (width + height) / MOST_CELLS);
	const columns = Math.floor(width / cell) + 1;
	const rows = Math.floor(height / cell) + 1;

	let cells = new Int32Array(Math.max(64, count * 6));
	const firstCell = new Int32Array(count + 1);
	const firstMember = new Int32Array(columns * rows + 1);
	let used = 0;
	for (let i = 0; i < count; i++) {
		firstCell[i] = used;
		const x = ax[i]! - minX;
		const y = ay[i]! - minY;
		const dx = bx[i]! - ax[i]!;
		const dy = by[i]! - ay[i]!;
		const bottom = Math.floor((Math.min(y, y + dy) - half) / cell);
		const top = Math.min(rows - 1, Math.floor((Math.max(y, y + dy) + half) / cell));
		for (let row = Math.max(0, bottom); row <= top; row++) {
			let enter = 0;
			let leave = 1;
			if (top > bottom && dy !== 0) {
				// the part of the segment that comes within half the reach of this row
				const t = (row * cell - half - y) / dy;
				const u = ((row + 1) * cell + half - y) / dy;
				enter = Math.max(0, Math.min(t, u));
				leave = Math.min(1, Math.max(t, u));
			}
			const x0 = x + enter * dx;
			const x1 = x + leave * dx;
			const left = Math.max(0, Math.floor((Math.min(x0, x1) - half) / cell));
			const right = Math.min(columns - 1, Math.floor((Math.max(x0, x1) + half) / cell));
			if (used + right - left >= cells.length) {
				const larger = new Int32Array(2 * cells.length + right - left);
				larger.set(cells);
				cells = larger;
			}
			for (let column = left; column <= right; column++) {
				const c = row * columns + column;
				cells[used++] = c;
				firstMember[c + 1]!++;
			}
		}
	}
	firstCell[count] = used;

	for (let c = 0; c < columns * rows; c++) firstMember[c + 1]! += firstMember[c]!;
	const next = firstMember.slice();
	const members = new Int32Array(used);
	for (let i = 0; i < count; i++)
		for (let k = firstCell[i]!; k < firstCell[i + 1]!; k++) {
			const c = cells[k]!;
			const slot = next[c]!;
			next[c] = slot + 1;
			members[slot] = i;
		}
	return { cells, firstCell, members, firstMember };
}
