/** Steps on top of each other: putting one on and taking one off costs the same however many there are. */
interface Stack<T> {
	readonly top: T;
	readonly rest: Stack<T> | undefined;
}

/** Everything that was, what is, and what was taken back; all snapshots are immutable and share what they can. */
export interface History<T> {
	readonly past: Stack<T> | undefined;
	readonly present: T;
	readonly future: Stack<T> | undefined;
}

export const startHistory = <T>(present: T): History<T> => ({ past: undefined, present, future: undefined });

/** A new step; what had been taken back is gone. */
export function step<T>({ past, present }: History<T>, next: T): History<T> {
	return { past: { top: present, rest: past }, present: next, future: undefined };
}

export function undo<T>(history: History<T>): History<T> {
	const { past, present, future } = history;
	return past ? { past: past.rest, present: past.top, future: { top: present, rest: future } } : history;
}

export function redo<T>(history: History<T>): History<T> {
	const { past, present, future } = history;
	return future ? { past: { top: present, rest: past }, present: future.top, future: future.rest } : history;
}

export const canUndo = <T>({ past }: History<T>): boolean => past !== undefined;
export const canRedo = <T>({ future }: History<T>): boolean => future !== undefined;
