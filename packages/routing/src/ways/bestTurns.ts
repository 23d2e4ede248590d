import type { Manner } from "./laying.ts";
import type { LaidTurns } from "./layTurns.ts";
import { likeliest } from "./likeliest.ts";
import { isAhead, type Turns } from "./turns.ts";

/** Slants of a fan against its lanes, radians: the gentler ones first, the steeper ones where there is little depth. */
const SLANTS = [Math.PI / 4, Math.PI / 3, (5 * Math.PI) / 12];
/** Tails as close to each other on slants, and to the walls, as may be; then with a fan beside a near wall too. */
const CLOSE: readonly Manner[] = [
	...SLANTS.map((slant) => ({ slant, spreading: 0, standOff: 0, fansAside: false })),
	{ slant: SLANTS[0]!, spreading: 0, standOff: 0, fansAside: true },
];
/**
 * Where no order of turns has a place for every pipe so: a fan that spreads on its slants already, and tails that stand
 * off the walls by a bend radius, so that they can turn round the end of one.
 */
const LOOSE: readonly Manner[] = [
	...SLANTS.map((slant) => ({ slant, spreading: 0.7, standOff: 0, fansAside: false })),
	...SLANTS.map((slant) => ({ slant, spreading: 0, standOff: 1, fansAside: false })),
];
/** Orders of turns that are tried so: those that left the fewest pipes without a place. */
const MOST_LOOSE = 6;
/** Manners that differ for an order of turns in which all tails follow walls: only fans straight ahead slant and spread. */
const isForWalls = ({ slant, spreading }: Manner): boolean => slant === SLANTS[0] && spreading === 0;

/** The order of turns that is taken in a room, as it is laid. */
export interface BestTurns {
	readonly laid: LaidTurns;
	readonly manner: Manner;
}

/**
 * Lays turns in the likeliest order until no pipe is without a place, or those that leave the fewest without. The first
 * `skips` orders that have a place for all are passed over, but for the last of those that have. Pipes that come from a
 * doorway are at their pitch already, so only those from ports fan out beside a wall.
 */
export function bestTurns(
	ways: readonly Turns[],
	skips: number,
	fromPorts: boolean,
	attempt: (turns: Turns, manner: Manner, mostFailed: number) => LaidTurns,
): BestTurns {
	let best: BestTurns | undefined;
	const passedOver: BestTurns[] = [];
	/** Tries every manner for an order of turns, until one leaves no pipe without a place. */
	const tryOrder = (turns: Turns, manners: readonly Manner[]): LaidTurns[] => {
		const tried: LaidTurns[] = [];
		const isSpread = turns.groups.some(({ way }) => isAhead(way));
		for (const manner of isSpread ? manners : manners.filter(isForWalls)) {
			if (best?.laid.failed === 0) break;
			const laid = attempt(turns, manner, best ? best.laid.failed - 1 : Infinity);
			tried.push(laid);
			if (!best || laid.failed < best.laid.failed) best = { laid, manner };
		}
		return tried;
	};
	const vain: { readonly turns: Turns; readonly failed: number }[] = [];
	for (const { turns, learn } of likeliest(ways)) {
		const tried = tryOrder(
			turns,
			CLOSE.filter(({ fansAside }) => fromPorts || !fansAside),
		);
		if (best?.laid.failed === 0) {
			if (passedOver.length === skips) return best;
			passedOver.push(best);
			best = undefined;
			continue;
		}
		vain.push({ turns, failed: Math.min(...tried.map(({ failed }) => failed)) });
		learn(tried);
	}
	if (passedOver.length > 0) return passedOver.at(-1)!;
	const nearest = vain.sort((a, b) => a.failed - b.failed).slice(0, MOST_LOOSE);
	for (const { turns } of nearest) tryOrder(turns, LOOSE);
	return best!;
}
