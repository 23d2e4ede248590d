import type { Chances, Opening } from "./leads.ts";

/*
 * A lead that arrives at one opening of an outline is paired with one that leaves from another, and the stretch between
 * the two is taken out. What the best partner costs at least tells which leads are worth a look.
 */

/** How far openings that belong together lie apart along the outline, mm. */
export interface OpeningRange {
	readonly shortest: number;
	readonly longest: number;
	/** Length of the whole outline. */
	readonly total: number;
}

/** The least that any lead to every opening costs. */
function leastAt({ ends, openings, least }: Chances): Float64Array {
	if (ends.length === 1) return least;
	const found = new Float64Array(openings.length).fill(Infinity);
	for (let e = 0, chance = 0; e < ends.length; e++)
		for (let o = 0; o < found.length; o++, chance++) if (least[chance]! < found[o]!) found[o] = least[chance]!;
	return found;
}

/**
 * What a lead to every opening is paired with costs at least, the outline between the two included. Partners lie behind
 * it along the outline, or ahead of it; infinite where there is none. Openings are in order along the outline.
 */
export function leastPartners(
	openings: readonly Opening[],
	partners: Chances,
	side: "behind" | "ahead",
	{ shortest, longest, total }: OpeningRange,
): Float64Array {
	const costs = leastAt(partners);
	let cheapest = Infinity;
	for (let to = 0; to < costs.length; to++) if (costs[to]! < cheapest) cheapest = costs[to]!;
	const count = openings.length;
	const step = side === "behind" ? -1 : 1;
	const found = new Float64Array(count);
	for (let from = 0; from < count; from++) {
		const { position } = openings[from]!;
		let best = Infinity;
		let to = from;
		for (let k = 1; k < count; k++) {
			to += step;
			if (to < 0) to = count - 1;
			else if (to === count) to = 0;
			const away = step * (openings[to]!.position - position);
			const removed = away < 0 ? away + total : away;
			// Farther off nothing is cheaper.
			if (removed > longest || removed + cheapest >= best) break;
			if (removed >= shortest && costs[to]! + removed < best) best = costs[to]! + removed;
		}
		found[from] = best;
	}
	return found;
}
