import { pathLength, type Region, regionArea, ringsOf } from "@oxturn/geometry";
import { closedPath } from "../boxes.ts";
import { sum } from "../sum.ts";

/** Length of all sides, mm. */
export const around = (cell: Region): number => sum(ringsOf(cell).map((ring) => pathLength(closedPath(ring))));

/** How wide a rectangle of the same area and perimeter is, mm; a square for what is rounder than that. */
export function widthOf(cell: Region): number {
	const half = around(cell) / 2;
	return (half - Math.sqrt(Math.max(0, half * half - 4 * regionArea(cell)))) / 2;
}

/** A rectangle, or one with a corner cut off. */
const MOST_CORNERS = 5;

/** Whether zones have so few corners that their runs and tails are as long as a guess says. */
export const arePlain = (cells: readonly Region[]): boolean =>
	cells.every(({ outer, holes }) => outer.length <= MOST_CORNERS && holes.length === 0);
