import type { Problem } from "oxturn";
import { type Draft, emptyDraft, roomsOf } from "../document/draft.ts";
import { followWalls } from "../edit/followWalls.ts";
import type { Routed } from "../work/jobs/route.ts";
import { type LiveRouter, type RouteWish, startLiveRouter } from "../work/liveRouter.ts";
import { canRedo, canUndo, type History, redo, startHistory, step, undo } from "./history.ts";
import { preferences } from "./preferences.svelte.ts";
import type { Selection } from "./selection.ts";
import { stillThere } from "./selectionOrder.ts";

/** A message longer work starts with is told only after this long, ms: a drag would say it at every frame. */
const SLOW = 300;

/** What the page is about: the floor with everything that it ever was, what is chosen of it, and its last layout. */
export class Playground {
	#history = $state.raw<History<Draft>>(startHistory(emptyDraft));
	/** The floor in the middle of a drag: shown and routed, but no step yet. */
	#preview = $state.raw<Draft | undefined>(undefined);
	#selection = $state.raw<Selection | undefined>(undefined);

	/** Counts what was shown; layouts carry the number of the draft that they belong to. */
	revision = $state(0);
	/** The last finished layout. It stays while the next is worked out, and when that fails. */
	routed = $state.raw<Routed | undefined>(undefined);
	routedRevision = $state(0);
	/** What the reader has against the draft as it is now. */
	problems = $state.raw<readonly Problem[]>([]);
	isRouting = $state(false);
	/** The run in hand has taken long enough to be told of. */
	isSlow = $state(false);
	fraction = $state(0);
	/** The state of the plan, in words. */
	status = $state("");
	/** What just happened, for those who do not see it; a drag keeps quiet until it ends. */
	announcement = $state("");
	/** Told when a floor is put in the place of another, so that the view can show the whole of it. */
	arrivals = $state(0);

	#router: LiveRouter;
	/** Whether the last layout is of this floor, however changed: not so when another floor has just taken its place. */
	#belongs = false;
	#slowTimer: ReturnType<typeof setTimeout> | undefined;

	constructor() {
		this.#router = startLiveRouter({
			onAnswer: (wish, answer) => {
				this.#settle(wish);
				if ("problems" in answer) {
					this.problems = answer.problems;
					if (!this.#belongs) this.routed = undefined;
					this.status = preferences.text.status.refused(this.floorName);
					return;
				}
				this.problems = [];
				this.routed = answer.routed;
				this.#belongs = true;
				this.routedRevision = wish.revision;
				if (!wish.isRough) this.status = this.#describe(answer.routed);
			},
			onFailure: (wish, message) => {
				this.#settle(wish);
				this.status = preferences.text.status.failed(this.floorName, message);
			},
			onProgress: (_, fraction) => {
				this.fraction = fraction;
			},
		});
	}

	/** The floor as it is shown. */
	get draft(): Draft {
		return this.#preview ?? this.#history.present;
	}

	/** The floor without a drag that is going on. */
	get settledDraft(): Draft {
		return this.#history.present;
	}

	get isDragging(): boolean {
		return this.#preview !== undefined;
	}

	get selection(): Selection | undefined {
		return stillThere(this.draft, this.#selection);
	}

	get floorName(): string {
		return this.draft.name || preferences.text.plan.unnamed;
	}

	get canUndo(): boolean {
		return canUndo(this.#history);
	}

	get canRedo(): boolean {
		return canRedo(this.#history);
	}

	select(selection: Selection | undefined): void {
		this.#selection = selection;
	}

	announce(words: string): void {
		this.announcement = words;
	}

	/** A step: what hangs on walls that moved goes with them. */
	change(next: Draft, words?: string): void {
		this.#preview = undefined;
		if (words !== undefined) this.announce(words);
		if (next === this.#history.present) return;
		this.#history = step(this.#history, followWalls(this.#history.present, next));
		this.#show(false);
	}

	/** Puts another floor in the place of this one; a step like any other, so it can be undone. */
	replace(next: Draft, words?: string): void {
		this.#selection = undefined;
		this.#belongs = false;
		this.change(next, words);
		this.arrivals += 1;
	}

	/** Starts with a floor: there is nothing to undo. */
	begin(draft: Draft): void {
		this.#history = startHistory(draft);
		this.#show(false);
		this.arrivals += 1;
	}

	/** One frame of a drag. */
	preview(next: Draft): void {
		this.#preview = followWalls(this.#history.present, next);
		this.#show(true);
	}

	/** The end of a drag makes it one step. */
	endPreview(words?: string): void {
		const preview = this.#preview;
		if (preview === undefined) return;
		this.#preview = undefined;
		if (words !== undefined) this.announce(words);
		this.#history = step(this.#history, preview);
		this.#show(false);
	}

	/** Gives a drag up. */
	dropPreview(): void {
		if (this.#preview === undefined) return;
		this.#preview = undefined;
		this.#show(false);
	}

	undo(): void {
		this.#travel(undo(this.#history), preferences.text.status.undone);
	}

	redo(): void {
		this.#travel(redo(this.#history), preferences.text.status.redone);
	}

	/** Back to the very start. */
	undoAll(): void {
		let history = this.#history;
		while (canUndo(history)) history = undo(history);
		this.#travel(history, preferences.text.status.undone);
	}

	redoAll(): void {
		let history = this.#history;
		while (canRedo(history)) history = redo(history);
		this.#travel(history, preferences.text.status.redone);
	}

	/** Gives up the run in hand; the last finished layout stays. */
	stopRouting(): void {
		this.#router.stop();
		this.#endRun();
		this.status = preferences.text.status.stopped;
	}

	/** Says the state of the plan again, as after a change of language. */
	retell(): void {
		if (this.isRouting) return;
		if (roomsOf(this.draft).length === 0) this.status = preferences.text.plan.empty;
		else if (this.problems.length > 0) this.status = preferences.text.status.refused(this.floorName);
		else if (this.routed) this.status = this.#describe(this.routed);
	}

	#travel(history: History<Draft>, words: string): void {
		if (history === this.#history) return;
		this.#preview = undefined;
		this.#history = history;
		this.announce(words);
		this.#show(false);
	}

	#show(isRough: boolean): void {
		this.revision += 1;
		if (roomsOf(this.draft).length === 0) {
			this.#showEmpty();
			return;
		}
		this.isRouting = true;
		this.fraction = 0;
		clearTimeout(this.#slowTimer);
		if (!isRough) this.#slowTimer = setTimeout(() => this.#tellSlow(), SLOW);
		this.#router.wish({ revision: this.revision, input: { draft: this.draft }, isRough });
	}

	/** A floor without rooms is no mistake to tell of: it has only just been begun. */
	#showEmpty(): void {
		this.#router.stop();
		this.#endRun();
		this.routed = undefined;
		this.problems = [];
		this.status = preferences.text.plan.empty;
	}

	#tellSlow(): void {
		this.isSlow = true;
		this.status = preferences.text.status.routing(this.floorName);
	}

	#settle(wish: RouteWish): void {
		// an answer to an earlier frame leaves a newer one still to come
		if (wish.revision === this.revision) this.#endRun();
	}

	#endRun(): void {
		clearTimeout(this.#slowTimer);
		this.isRouting = false;
		this.isSlow = false;
	}

	#describe({ floor, layout: { notices }, totals, seconds }: Routed): string {
		const { text } = preferences;
		const told = notices.length === 0 ? "" : text.counts.notices(notices.length);
		return text.status.routed(
			floor.name || text.plan.unnamed,
			text.counts.loops(totals.loops),
			preferences.pipe(totals.pipe),
			told,
			preferences.number(seconds, 1),
		);
	}
}
