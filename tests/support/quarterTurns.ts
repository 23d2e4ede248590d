import type { Path, Point } from "@oxturn/geometry";

const heading = (a: Point, b: Point): number => Math.atan2(b[1] - a[1], b[0] - a[0]);

/** Quarter turns that a fitter bends along a path: all turning together, whichever way, in quarters of a circle. */
export function quarterTurns(path: Path): number {
	const headings = path.slice(1).map((to, i) => heading(path[i]!, to));
	const turning = headings.slice(1).map((after, i) => {
		const turn = Math.abs(after - headings[i]!);
		return Math.min(turn, 2 * Math.PI - turn);
	});
	return turning.reduce((a, b) => a + b, 0) / (Math.PI / 2);
}
