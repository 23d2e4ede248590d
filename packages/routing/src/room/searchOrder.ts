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
	const steps = (from: number, to: number, plans: Omit<SearchStep, "count">): SearchStep[] =>
		Array.from({ length: Math.max(0, to - from + 1) }, (_, i) => ({ ...plans, count: from + i }));
	const likeliest = { first: 0, last: LIKELIEST, onlyGood: false };
	return [
		...steps(least, enough - 1, { ...likeliest, onlyGood: true }),
		...steps(enough, enough, likeliest),
		...steps(least, enough - 1, likeliest),
		...steps(enough + 1, most, likeliest),
		...steps(least, most, { first: LIKELIEST, last: MOST_PLANS, onlyGood: false }),
	];
}
