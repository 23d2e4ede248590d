import type { LoopCounts } from "./loopCounts.ts";

/** A number of loops, to be tried with some of its plans. */
export interface SearchStep {
	readonly count: number;
	/** The first of its plans, and the one before which they end. */
	readonly first: number;
	readonly last: number;
	/** Whether only plans that promise well are tried. */
	readonly onlyGood: boolean;
}

/** The likeliest plans are tried with every number of loops before the others are. */
const LIKELIEST = 4;
export const MOST_PLANS = 9;

/**
 * The order in which a room's numbers of loops are tried. Fewer loops than area and spacing ask for are not worth short
 * runs, unless nothing else fits.
 */
export function searchOrder({ least, enough, most }: LoopCounts): SearchStep[] {
	const order: SearchStep[] = [];
	const add = (from: number, to: number, first: number, last: number, onlyGood = false): void => {
		for (let count = from; count <= to; count++) order.push({ count, first, last, onlyGood });
	};
	add(least, enough - 1, 0, LIKELIEST, true);
	add(enough, enough, 0, LIKELIEST);
	add(least, enough - 1, 0, LIKELIEST);
	add(enough + 1, most, 0, LIKELIEST);
	add(least, most, LIKELIEST, MOST_PLANS);
	return order;
}
