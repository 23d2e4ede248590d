import { boundingBox, distance, type Point, type Ring, segmentDistance2 } from "@oxturn/geometry";

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
	const positions: number[] = [];
	let total = 0;
	for (let i = 0; i < n; i++) {
		positions.push(total);
		total += distance(ring[i]!, ring[(i + 1) % n]!);
	}
	const grid = new Map<number, number[]>();
	const skip = Math.PI * apart * 1.2;
	const at = (i: number): Point => ring[i % n]!;
	for (let i = 0; i < n; i++) {
		const a = at(i);
		const b = at(i + 1);
		const x0 = Math.floor((Math.min(a[0], b[0]) - apart - minX) / cell);
		const x1 = Math.floor((Math.max(a[0], b[0]) + apart - minX) / cell);
		const y0 = Math.floor((Math.min(a[1], b[1]) - apart - minY) / cell);
		const y1 = Math.floor((Math.max(a[1], b[1]) + apart - minY) / cell);
		for (let x = x0; x <= x1; x++)
			for (let y = y0; y <= y1; y++) {
				const key = x * ROWS + y;
				const list = grid.get(key) ?? [];
				for (const j of list) {
					const endOfJ = positions[j]! + distance(at(j), at(j + 1));
					const between = Math.min(positions[i]! - endOfJ, total - (positions[i]! + distance(a, b)) + positions[j]!);
					if (between < skip) continue;
					if (segmentDistance2(a, b, at(j), at(j + 1)) < apart * apart) return false;
				}
				list.push(i);
				grid.set(key, list);
			}
	}
	return true;
}
