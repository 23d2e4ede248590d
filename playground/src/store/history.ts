/** Everything that was, what is, and what was taken back; all snapshots are immutable and share what they can. */
export interface History<T> {
	readonly past: readonly T[];
	readonly present: T;
	/** The next to be done again comes first. */
	readonly future: readonly T[];
}

export const startHistory = <T>(present: T): History<T> => ({ past: [], present, future: [] });

/** A new step; what had been taken back is gone. */
export function step<T>({ past, present }: History<T>, next: T): History<T> {
	return { past: [...past, present], present: next, future: [] };
}

export function undo<T>(history: History<T>): History<T> {
	const before = history.past.at(-1);
	if (before === undefined) return history;
	return { past: history.past.slice(0, -1), present: before, future: [history.present, ...history.future] };
}

export function redo<T>(history: History<T>): History<T> {
	const [next, ...rest] = history.future;
	if (next === undefined) return history;
	return { past: [...history.past, history.present], present: next, future: rest };
}

export const canUndo = <T>({ past }: History<T>): boolean => past.length > 0;
export const canRedo = <T>({ future }: History<T>): boolean => future.length > 0;
