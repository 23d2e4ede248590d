import { pointSegmentDistance2 } from "./measure.ts";
import type { Point, Ring } from "./types.ts";

function keepBetween(ring: Ring, from: number, to: number, tolerance2: number, keep: boolean[]): void {
	let worst = tolerance2;
	let at = -1;
	for (let i = from + 1; i < to; i++) {
		const d2 = pointSegmentDistance2(ring[i]!, ring[from]!, ring[to % ring.length]!);
		if (d2 > worst) {
			worst = d2;
			at = i;
		}
	}
	if (at < 0) return;
	keep[at] = true;
	keepBetween(ring, from, at, tolerance2, keep);
	keepBetween(ring, at, to, tolerance2, keep);
}

/** Leaves out vertices of a ring that lie within `tolerance` mm of the line without them (Douglas and Peucker 1973). */
export function simplifyRing(ring: Ring, tolerance: number): Ring {
	if (ring.length < 5) return ring;
	// The two vertices farthest apart along the diagonal stay whatever happens.
	const by = (score: (p: Point) => number): number =>
		ring.reduce((best, p, i) => (score(p) > score(ring[best]!) ? i : best), 0);
	const first = by(([x, y]) => x + y);
	const turned = [...ring.slice(first), ...ring.slice(0, first)];
	const far = turned.reduce((best, [x, y], i) => {
		const [fx, fy] = turned[0]!;
		const [bx, by] = turned[best]!;
		return (x - fx) ** 2 + (y - fy) ** 2 > (bx - fx) ** 2 + (by - fy) ** 2 ? i : best;
	}, 0);
	const keep = turned.map((_, i) => i === 0 || i === far);
	keepBetween(turned, 0, far, tolerance * tolerance, keep);
	keepBetween(turned, far, turned.length, tolerance * tolerance, keep);
	const kept = turned.filter((_, i) => keep[i]);
	return kept.length >= 3 ? kept : ring;
}
