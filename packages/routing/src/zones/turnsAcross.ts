import { type Region, regionArea } from "@oxturn/geometry";
import { sum } from "../sum.ts";
import type { Assignment } from "./entries.ts";
import type { ZonePlanOptions } from "./zonePlan.ts";
import { arePlain, widthOf } from "./zoneShape.ts";

/** The spacing may open or close this far for a whole number of runs. */
const WIDEST = 1.08;
const CLOSEST = 0.9;

/**
 * Quarter turns that a plain zone takes more because its runs cannot go along it. A loop goes to and fro, so its runs are
 * even in number: a few of them do not fit every width, and may be too long together.
 */
function moreTurns(cell: Region, longest: number, spacing: number): number {
	if (!arePlain([cell])) return 0;
	const width = widthOf(cell);
	const depth = regionArea(cell) / width;
	const runs = 2 * Math.ceil(width / (2 * WIDEST * spacing) - 1e-9);
	const fit = width / runs > CLOSEST * spacing && runs * depth < longest;
	return fit ? 0 : 2 * Math.max(0, depth / spacing - runs);
}

/** Quarter turns of a loop, on average, that are due to runs that cannot go along their zones. */
export const turnsAcross = (
	cells: readonly Region[],
	order: readonly Assignment[],
	{ longest, spacing }: Pick<ZonePlanOptions, "longest" | "spacing">,
): number =>
	sum(order.map(({ cell, entry }) => moreTurns(cells[cell]!, longest - 2 * entry.along, spacing))) / order.length;
