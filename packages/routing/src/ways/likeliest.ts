import type { LaidTurns } from "./layTurns.ts";
import { type Group, isAhead, type Turns } from "./turns.ts";

/** Turns that are tried in a room before its blocked doors are given up. */
const MAX_TURNS = 60;

const keyOf = (groups: readonly Group[]): string =>
	groups.map(({ way, doors, shortCut }) => `${way} ${doors} ${shortCut?.from} ${shortCut?.to}`).join();

/**
 * Turns in order of their cost, but those last in which tails go the same way to the same doors as in turns that were
 * tried in vain. What was laid is to be learnt from.
 */
export function* likeliest(
	ways: readonly Turns[],
): Generator<{ turns: Turns; learn: (tried: readonly LaidTurns[]) => void }> {
	const vain = new Set<string>();
	const isVain = ({ groups }: Turns): boolean => groups.some((_, i) => vain.has(keyOf(groups.slice(0, i + 1))));
	const firstFailed = ({ turns, paths }: LaidTurns): string | undefined => {
		const { groups } = turns;
		let last = groups.findIndex(({ doors }) => doors.some((door) => paths[door]!.includes(undefined)));
		if (last < 0) return undefined;
		// Those straight ahead share the place that they have.
		if (isAhead(groups[last]!.way)) last = groups.findLastIndex(({ way }) => isAhead(way));
		return keyOf(groups.slice(0, last + 1));
	};
	const learn = (tried: readonly LaidTurns[]): void => {
		const [first, ...others] = tried.map(firstFailed);
		if (first && others.every((other) => other === first)) vain.add(first);
	};
	const left = new Set(ways);
	for (let tried = 0; tried < MAX_TURNS && left.size > 0; tried++) {
		const [first] = left;
		const turns = [...left].find((each) => !isVain(each)) ?? first!;
		left.delete(turns);
		yield { turns, learn };
	}
}
