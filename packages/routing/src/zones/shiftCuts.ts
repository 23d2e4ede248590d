import { sum } from "../sum.ts";

/** How far from their mean loops may lie when cuts have been shifted, as a share of it. */
const SLACK = 0.035;
/** Loops are kept this far below the limit, as a share of it. */
const BELOW_LIMIT = 0.004;
/** No zone gives more than this share of its floor at once. */
const MOST_GIVEN = 0.5;

interface Window {
	readonly low: number;
	readonly high: number;
}

const clamp = (value: number, { low, high }: Window): number => Math.min(high, Math.max(low, value));

/** What every zone hands to the next so that it comes into the window itself, as little as will do; in both directions. */
function handovers(lengths: readonly number[], window: Window): number[] {
	const left = [...lengths];
	const handed = lengths.slice(1).map(() => 0);
	const move = (from: number, to: number, cut: number): void => {
		const excess = left[from]! - clamp(left[from]!, window);
		left[from]! -= excess;
		left[to]! += excess;
		handed[cut]! += Math.sign(to - from) * excess;
	};
	for (let i = 0; i + 1 < left.length; i++) move(i, i + 1, i);
	for (let i = left.length - 1; i > 0; i--) move(i, i - 1, i - 1);
	return handed;
}

/**
 * Shares that make the lengths of loops more even, by as few cuts as will do: only zones whose loops are too long or too
 * short hand floor to the next. `field` is the length of all loops without their tails.
 */
export function shiftCuts(
	shares: readonly number[],
	lengths: readonly number[],
	field: number,
	limit: number,
): number[] {
	const mean = sum(lengths) / lengths.length;
	const high = Math.max(mean, Math.min(mean * (1 + SLACK), limit * (1 - BELOW_LIMIT)));
	const handed = handovers(lengths, { low: mean * (1 - SLACK), high });
	const gains = shares.map((_, i) => ((handed[i - 1] ?? 0) - (handed[i] ?? 0)) / field);
	const most = Math.max(...shares.map((share, i) => -gains[i]! / share));
	const part = most > MOST_GIVEN ? MOST_GIVEN / most : 1;
	return shares.map((share, i) => share + part * gains[i]!);
}
