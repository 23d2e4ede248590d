/** Runs that cannot turn back in a half circle come no nearer than this share of the spacing. */
export const CLOSEST_RUNS = 0.97;

/** What a pipe's return and the run next to it need, mm. */
interface ReturnNeeds {
	readonly minBendRadius: number;
	/** No two stretches of pipe come nearer than this. */
	readonly apart: number;
}

/**
 * The least spacing at which a pipe returns beside its own runs, mm. Between runs at spacing s a return of radius r,
 * wider than the two, swells to either side by r - s / 2, and the next run lies s off: 3/2 s - r is left between them.
 */
export const returnSpacing = ({ minBendRadius, apart }: ReturnNeeds): number =>
	Math.max(apart, Math.min(2 * minBendRadius, (minBendRadius + apart) / 1.5));
