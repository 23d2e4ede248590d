import type { RouteAnswer, RouteInput } from "./jobs/route.ts";
import type { Tell } from "./jobs.ts";
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

/** Routes floors while they change, one at a time; `lines` are the two that it computes on by turns. */
export function startLiveRouter(
	{ onAnswer, onFailure, onProgress }: LiveRouterEvents,
	lines: readonly [Line, Line] = [openLine(), openLine()],
): LiveRouter {
	const pair = pairOf(lines);
	let current: Run | undefined;
	let waiting: RouteWish | undefined;

	const settle = (run: Run, then: () => void): void => {
		if (current !== run) return;
		current = undefined;
		then();
		// not before the first answer: two workers that load at once would make the page wait longer for it
		pair.warmSpare();
		const next = waiting;
		waiting = undefined;
		if (next) start(next);
	};
	const start = (wish: RouteWish): void => {
		const run: Run = { wish, started: performance.now() };
		current = run;
		const tell = (fraction: number): void => {
			if (current === run) onProgress(wish, fraction);
		};
		pair.route(inputOf(wish), tell).then(
			(answer) => settle(run, () => onAnswer(wish, answer)),
			(error: unknown) => settle(run, () => onFailure(wish, messageOf(error))),
		);
	};
	const stop = (): void => {
		if (current === undefined) return;
		current = undefined;
		waiting = undefined;
		pair.drop();
	};
	const wish = (next: RouteWish): void => {
		if (current !== undefined && isWorthWaitingFor(current, next)) waiting = next;
		else {
			stop();
			start(next);
		}
	};

	return { wish, stop };
}

interface LinePair {
	readonly route: (input: RouteInput, tell: Tell) => Promise<RouteAnswer>;
	/** Ends the job in hand; the next one goes to the other worker. */
	readonly drop: () => void;
	readonly warmSpare: () => void;
}

/**
 * Two workers: one computes, the other is loaded and waits, so that a long job can be ended for a newer wish without
 * the page waiting for a worker to load.
 */
function pairOf([first, second]: readonly [Line, Line]): LinePair {
	let [line, spare] = [first, second];
	return {
		route: (input, tell) => line.run("route", input, tell),
		drop: () => {
			line.stop();
			[line, spare] = [spare, line];
			spare.warm();
		},
		warmSpare: () => spare.warm(),
	};
}

/** A wish that is being worked on. */
interface Run {
	readonly wish: RouteWish;
	/** ms, by the page's clock. */
	readonly started: number;
}

/** A rough run soon ends by itself; within a drag every one is finished, or none ever would be. */
function isWorthWaitingFor({ wish, started }: Run, next: RouteWish): boolean {
	return wish.isRough && (next.isRough || performance.now() - started < PATIENCE);
}

function inputOf({ input, isRough }: RouteWish): RouteInput {
	return isRough ? { ...input, timeBudget: ROUGH_BUDGET } : input;
}

function messageOf(error: unknown): string {
	return error instanceof Error ? error.message : String(error);
}
