import type { Path } from "@oxturn/geometry";

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
		turning += Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy));
	}
	return turning / (Math.PI / 2);
}
