import type { Path } from "@oxturn/geometry";

/** Up to this tangent the first terms of the series tell an angle to a hundred thousandth of a radian. */
const SMALL = 0.25;

/** The angle of a turn by its sine and cosine, both by the same factor larger, radians; between chords of an arc it is small. */
function angleOf(sine: number, cosine: number): number {
	const tangent = Math.abs(sine) / cosine;
	const square = tangent * tangent;
	if (cosine > 0 && tangent < SMALL) return tangent * (1 - square * (1 / 3 - square / 5));
	return Math.abs(Math.atan2(sine, cosine));
}

/** Quarter turns along a path, counted from the turning at its corners and in its arcs. */
export function quarterTurns(path: Path): number {
	let turning = 0;
	for (let i = 2; i < path.length; i++) {
		const a = path[i - 2]!;
		const b = path[i - 1]!;
		const c = path[i]!;
		const ux = b[0] - a[0];
		const uy = b[1] - a[1];
		const vx = c[0] - b[0];
		const vy = c[1] - b[1];
		turning += angleOf(ux * vy - uy * vx, ux * vx + uy * vy);
	}
	return turning / (Math.PI / 2);
}
