import type { Point } from "oxturn";
import { minus, plus, type Segment } from "../document/plane.ts";

const isSlanted = ({ from, to }: Segment): boolean => from[0] !== to[0] && from[1] !== to[1];

/** The line through `at` that is square to a wall. */
function squareTo(wall: Segment, at: Point): Segment {
	const [x, y] = minus(wall.to, wall.from);
	return { from: at, to: plus(at, [-y, x]) };
}

/**
 * Lines on which the next corner would be square to what has been drawn: through the last corner square to the last
 * wall, through the first square to the first. Upright walls need none: the grid and the corners in line serve them.
 */
export function squareLines(points: readonly Point[]): readonly Segment[] {
	const [first, second, last, before] = [points[0], points[1], points.at(-1), points.at(-2)];
	if (!first || !second || !last || !before) return [];
	const [firstWall, lastWall] = [
		{ from: first, to: second },
		{ from: before, to: last },
	];
	return [
		...(isSlanted(lastWall) ? [squareTo(lastWall, last)] : []),
		...(points.length > 2 && isSlanted(firstWall) ? [squareTo(firstWall, first)] : []),
	];
}
