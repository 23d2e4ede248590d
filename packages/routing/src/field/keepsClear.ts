import { boundingBox, distance, type Ring, segmentDistance2 } from "@oxturn/geometry";

/** More than any grid has rows. */
const ROWS = 1 << 20;

/**
 * Whether a closed curve nowhere comes nearer to itself than `apart` mm, neighbours along it (within two turns'
 * length) excepted. Lanes keep their distance by construction; where walls are jagged and steps had to be
 * straightened, only measuring tells.
 */
export function keepsClear(ring: Ring, apart: number): boolean {
	const n = ring.length;
	const cell = Math.max(4 * apart, 200);
	const [minX, minY] = boundingBox(ring);
	const x = new Float64Array(n + 1);
	const y = new Float64Array(n + 1);
	const position = new Float64Array(n + 1);
	for (let i = 0; i <= n; i++) {
		const p = ring[i % n]!;
		x[i] = p[0];
		y[i] = p[1];
		if (i > 0) position[i] = position[i - 1]! + distance(ring[i - 1]!, p);
	}
	const total = position[n]!;
	const skip = Math.PI * apart * 1.2;
	const limit = apart * apart;
	const grid = new Map<number, number[]>();
	// The last side that each side was compared with: long sides meet in many cells.
	const seen = new Int32Array(n).fill(-1);
	for (let i = 0; i < n; i++) {
		const left = Math.min(x[i]!, x[i + 1]!) - apart;
		const right = Math.max(x[i]!, x[i + 1]!) + apart;
		const low = Math.min(y[i]!, y[i + 1]!) - apart;
		const high = Math.max(y[i]!, y[i + 1]!) + apart;
		const column1 = Math.floor((right - minX) / cell);
		const row1 = Math.floor((high - minY) / cell);
		for (let column = Math.floor((left - minX) / cell); column <= column1; column++)
			for (let row = Math.floor((low - minY) / cell); row <= row1; row++) {
				const key = column * ROWS + row;
				const list = grid.get(key);
				if (!list) {
					grid.set(key, [i]);
					continue;
				}
				for (const j of list) {
					if (seen[j] === i) continue;
					seen[j] = i;
					if (Math.max(x[j]!, x[j + 1]!) < left || Math.min(x[j]!, x[j + 1]!) > right) continue;
					if (Math.max(y[j]!, y[j + 1]!) < low || Math.min(y[j]!, y[j + 1]!) > high) continue;
					const between = Math.min(position[i]! - position[j + 1]!, total - position[i + 1]! + position[j]!);
					if (between < skip) continue;
					if (segmentDistance2(ring[i]!, ring[(i + 1) % n]!, ring[j]!, ring[(j + 1) % n]!) < limit) return false;
				}
				list.push(i);
			}
	}
	return true;
}
