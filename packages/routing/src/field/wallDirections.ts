import type { Ring } from "@oxturn/geometry";

/** Directions nearer than this are one, radians. */
const SAME = 0.03;

const apart = (a: number, b: number): number => {
	const difference = Math.abs(a - b) % Math.PI;
	return Math.min(difference, Math.PI - difference);
};

interface Wall {
	/** Radians in [0, pi). */
	readonly angle: number;
	/** mm */
	readonly length: number;
}

function wallsOf(ring: Ring): Wall[] {
	return ring.map((a, i) => {
		const b = ring[i + 1 === ring.length ? 0 : i + 1]!;
		const angle = (Math.atan2(b[1] - a[1], b[0] - a[0]) + 2 * Math.PI) % Math.PI;
		return { angle, length: Math.hypot(b[0] - a[0], b[1] - a[1]) };
	});
}

/** Whole millimetres, so that a floor's turn does not decide between equal walls. */
const longestFirst = (a: Wall, b: Wall): number => Math.round(b.length) - Math.round(a.length);

/**
 * Up to `most` directions of walls that differ by `distinct` or more, those with most wall first, radians in [0, pi).
 * Walls that differ less count as one direction, that of the longest of them. The direction square to the first is always
 * among them.
 */
export function wallDirections(rings: readonly Ring[], most: number, distinct = SAME): number[] {
	const found: { angle: number; length: number }[] = [];
	for (const { angle, length } of rings.flatMap(wallsOf).sort(longestFirst)) {
		const same = found.find((f) => apart(f.angle, angle) < distinct);
		if (same) same.length += length;
		else found.push({ angle, length });
	}
	found.sort(longestFirst);
	const angles = found.slice(0, most).map((f) => f.angle);
	const square = ((found[0]?.angle ?? 0) + Math.PI / 2) % Math.PI;
	if (!angles.some((angle) => apart(angle, square) < distinct)) angles.splice(1, 0, square);
	return angles.slice(0, Math.max(2, most));
}
