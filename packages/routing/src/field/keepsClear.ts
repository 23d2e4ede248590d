import { boundingBox, type Ring, segmentDistance2 } from "@oxturn/geometry";

/** Cells of the grid in which sides look for their neighbours: no smaller than this, mm, and no more than so many. */
const SMALLEST_CELL = 200;
const MOST_CELLS = 1 << 16;

/**
 * Whether a closed curve nowhere comes nearer to itself than `apart` mm, neighbours along it (within two turns'
 * length) excepted. Lanes keep their distance by construction; where walls are jagged and steps had to be
 * straightened, only measuring tells.
 */
export function keepsClear(ring: Ring, apart: number): boolean {
	const n = ring.length;
	const [minX, minY, maxX, maxY] = boundingBox(ring);
	const width = maxX - minX;
	const height = maxY - minY;
	const cell = Math.max(4 * apart, SMALLEST_CELL, Math.sqrt((width * height) / MOST_CELLS));
	const columns = Math.floor(width / cell) + 1;
	const rows = Math.floor(height / cell) + 1;
	const x = new Float64Array(n + 1);
	const y = new Float64Array(n + 1);
	const position = new Float64Array(n + 1);
	for (let i = 0; i <= n; i++) {
		const p = ring[i === n ? 0 : i]!;
		x[i] = p[0] - minX;
		y[i] = p[1] - minY;
		if (i > 0) position[i] = position[i - 1]! + Math.sqrt((x[i]! - x[i - 1]!) ** 2 + (y[i]! - y[i - 1]!) ** 2);
	}
	const total = position[n]!;
	const skip = Math.PI * apart * 1.2;
	const limit = apart * apart;
	// Every cell holds a chain of the sides that come within `apart` of it, the latest first.
	const latest = new Int32Array(columns * rows).fill(-1);
	let side = new Int32Array(4 * n + 64);
	let before = new Int32Array(side.length);
	let used = 0;
	// The last side that each side was compared with: long sides meet in many cells.
	const seen = new Int32Array(n).fill(-1);
	for (let i = 0; i < n; i++) {
		const ax = x[i]!;
		const ay = y[i]!;
		const dx = x[i + 1]! - ax;
		const dy = y[i + 1]! - ay;
		const left = Math.min(ax, ax + dx) - apart;
		const right = Math.max(ax, ax + dx) + apart;
		const low = Math.min(ay, ay + dy) - apart;
		const high = Math.max(ay, ay + dy) + apart;
		const row0 = Math.max(0, Math.floor(low / cell));
		const row1 = Math.min(rows - 1, Math.floor(high / cell));
		for (let row = row0; row <= row1; row++) {
			let from = left;
			let to = right;
			if (row1 > row0 + 1 && dx !== 0) {
				// A long slanting side passes only through a part of the row.
				const t0 = Math.min(1, Math.max(0, (row * cell - apart - ay) / dy));
				const t1 = Math.min(1, Math.max(0, ((row + 1) * cell + apart - ay) / dy));
				from = ax + Math.min(t0 * dx, t1 * dx) - apart;
				to = ax + Math.max(t0 * dx, t1 * dx) + apart;
			}
			const column1 = Math.min(columns - 1, Math.floor(to / cell));
			for (let column = Math.max(0, Math.floor(from / cell)); column <= column1; column++) {
				const at = row * columns + column;
				for (let k = latest[at]!; k >= 0; k = before[k]!) {
					const j = side[k]!;
					if (seen[j] === i) continue;
					seen[j] = i;
					const cx = x[j]!;
					const cy = y[j]!;
					const ex = x[j + 1]!;
					const ey = y[j + 1]!;
					if ((cx < left && ex < left) || (cx > right && ex > right)) continue;
					if ((cy < low && ey < low) || (cy > high && ey > high)) continue;
					const between = Math.min(position[i]! - position[j + 1]!, total - position[i + 1]! + position[j]!);
					if (between < skip) continue;
					if (segmentDistance2(ring[i]!, ring[i + 1 === n ? 0 : i + 1]!, ring[j]!, ring[j + 1]!) < limit) return false;
				}
				if (used === side.length) {
					side = grown(side);
					before = grown(before);
				}
				side[used] = i;
				before[used] = latest[at]!;
				latest[at] = used++;
			}
		}
	}
	return true;
}

function grown(array: Int32Array<ArrayBuffer>): Int32Array<ArrayBuffer> {
	const larger = new Int32Array(2 * array.length);
	larger.set(array);
	return larger;
}
