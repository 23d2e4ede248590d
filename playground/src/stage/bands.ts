/** Where one colour of the map of distances gives way to the next, in spacings. */
export const WARMTH_STEPS = [0.3, 0.55, 1, 1.5] as const;

/** Floor farther from the nearest pipe than this is cold, in spacings. */
export const COLD = 1;

/** The class that colours floor at least `from` spacings away from the nearest pipe. */
export function bandClass(from: number): string {
	return `band band-${Math.round(from * 100)}`;
}
