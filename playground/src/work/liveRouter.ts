import type { RouteAnswer, RouteInput } from "./jobs/route.ts";
import { type Line, openLine } from "./line.ts";

/** A wish for a layout. */
export interface RouteWish {
	/** Revision of the draft; the answer carries it back. */
	readonly revision: number;
	readonly input: RouteInput;
	/** Part of a drag: something rough and fast, to be followed by another wish in a moment. */
	readonly isRough: boolean;
}

export interface LiveRouterEvents {
	readonly onAnswer: (wish: RouteWish, answer: RouteAnswer) => void;
	readonly onFailure: (wish: RouteWish, message: string) => void;
	readonly onProgress: (wish: RouteWish, fraction: number) => void;
}

export interface LiveRouter {
	/** The newest wish wins: one that waits is forgotten, one that is worked on is finished if it is rough, else stopped. */
	readonly wish: (wish: RouteWish) => void;
	/** Gives up whatever is being worked out. */
	readonly stop: () => void;
}

/** How long a layout within a drag may be improved, ms: the first complete one will do. */
export const ROUGH_BUDGET = 0;
/** A rough layout that has taken longer than this, ms, is not waited for once the drag has ended. */
const PATIENCE = 250;

/**
 * Keeps two workers: one computes, the other is loaded and waits, so that a long job can be ended for a newer wish
 * without the page waiting for a worker to load.
 */
export function startLiveRouter(
	{ onAnswer, onFailure, onProgress }: LiveRouterEvents,
	lines: readonly [Line, Line] = [openLine(), openLine()],
): LiveRouter {
	let [line, spare] = lines;
	let current: RouteWish | undefined;
	let waiting: RouteWish | undefined;
	let started = 0;

	const settle = (wish: RouteWish, then: () => void): void => {
		if (current !== wish) return;
		current = undefined;
		then();
		// not before the first answer: two workers that load at once would make the page wait longer for it
		spare.warm();
		const next = waiting;
		waiting = undefined;
		if (next) start(next);
	};

	const start = (wish: RouteWish): void => {
		current = wish;
		started = performance.now();
		const input = wish.isRough ? { ...wish.input, timeBudget: ROUGH_BUDGET } : wish.input;
		line
			.run("route", input, (fraction) => {
				if (current === wish) onProgress(wish, fraction);
			})
			.then(
				(answer) => settle(wish, () => onAnswer(wish, answer)),
				(error: unknown) => settle(wish, () => onFailure(wish, error instanceof Error ? error.message : String(error))),
			);
	};

	const drop = (): void => {
		current = undefined;
		waiting = undefined;
		line.stop();
		[line, spare] = [spare, line];
		spare.warm();
	};

	return {
		wish: (wish) => {
			if (current === undefined) start(wish);
			else if (current.isRough && (wish.isRough || performance.now() - started < PATIENCE)) waiting = wish;
			else {
				drop();
				start(wish);
			}
		},
		stop: () => {
			if (current !== undefined) drop();
		},
	};
}
