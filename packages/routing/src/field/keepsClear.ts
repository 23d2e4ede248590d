import { everyNearPair, type Ring, segmentDistance2 } from "@oxturn/geometry";

/**
 * Whether a closed curve nowhere comes nearer to itself than `apart` mm, neighbours along it (within two turns'
 * length) excepted. Lanes keep their distance by construction; where walls are jagged and steps had to be
 * straightened, only measuring tells.
 */
export function keepsClear(ring: Ring, apart: number): boolean {
	const n = ring.length;
	const numbers = new Float64Array(3 * (n + 1));
	const x = numbers.subarray(0, n + 1);
	const y = numbers.subarray(n + 1, 2 * (n + 1));
	const position = numbers.subarray(2 * (n + 1));
	for (let i = 0; i <= n; i++) {
		const p = ring[i === n ? 0 : i]!;
		x[i] = p[0];
		y[i] = p[1];
		if (i > 0) position[i] = position[i - 1]! + Math.sqrt((x[i]! - x[i - 1]!) ** 2 + (y[i]! - y[i - 1]!) ** 2);
	}
	const total = position[n]!;
	const skip = Math.PI * apart * 1.2;
	const limit = apart * apart;
	const sides = { ax: x.subarray(0, n), ay: y.subarray(0, n), bx: x.subarray(1), by: y.subarray(1) };
	const isShort = (first: number, last: number): boolean => position[last]! - position[first + 1]! < skip;
	return everyNearPair(sides, apart, isShort, (i, j) => {
		const between = Math.min(position[i]! - position[j + 1]!, total - position[i + 1]! + position[j]!);
		if (between < skip) return true;
		return segmentDistance2(ring[i]!, ring[i + 1 === n ? 0 : i + 1]!, ring[j]!, ring[j + 1]!) >= limit;
	});
}
