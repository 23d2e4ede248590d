import type { Point } from "oxturn";
import type { Draft } from "../document/draft.ts";
import type { Segment } from "../document/plane.ts";
import { distance } from "../document/plane.ts";
import type { Selection } from "../store/selection.ts";
import type { Workbench } from "../store/workbench.svelte.ts";
import { drag } from "../tools/dragging.ts";
import { drawsOutline } from "../tools/tool.ts";
import { hitOf } from "./grabbed.ts";

/** A pointer that has moved less than this has clicked, px. */
const CLICK = 5;
/** How far points are caught from, px: fingers are broader. */
const REACH = { fine: 9, coarse: 18 } as const;

interface Press {
	readonly pointer: number;
	/** px in the window of the plan. */
	readonly at: Point;
	readonly reach: number;
	/** What is dragged, and the floor from which it is. */
	readonly grabbed: { readonly selection: Selection; readonly base: Draft } | undefined;
	/** What a click selects. */
	readonly clicked: Selection | undefined;
	/** The press set the first corner of a rectangle: its end may set the second. */
	readonly hasPlaced: boolean;
}

/** Turns what a mouse, a pen or a finger does on the plan into drawing, selecting and dragging. */
export class PlanPointer {
	/** Lines that a dragged point was caught by. */
	guides = $state.raw<readonly Segment[]>([]);

	#workbench: Workbench;
	#press: Press | undefined;
	#frame = 0;
	#isMoved = false;

	constructor(workbench: Workbench) {
		this.#workbench = workbench;
	}

	/** Whether a press here is wanted for something else than moving the view. */
	wants(event: Event): boolean {
		const { drawing, playground } = this.#workbench;
		return drawing.isDrawing || (hitOf(event, playground.selection?.id)?.canGrab ?? false);
	}

	down(event: PointerEvent, at: Point): void {
		if (event.button !== 0) return;
		if (this.#press) {
			// a second finger means to zoom
			this.cancel();
			return;
		}
		const { drawing, playground } = this.#workbench;
		const reach = event.pointerType === "touch" ? REACH.coarse : REACH.fine;
		const press = { pointer: event.pointerId, at, reach };
		this.#isMoved = false;
		if (drawing.isDrawing) {
			this.#pointAt(at, reach);
			const hasPlaced = drawsOutline(drawing.tool) && drawing.wantsSize && drawing.points.length === 0;
			if (hasPlaced) drawing.place();
			this.#press = { ...press, grabbed: undefined, clicked: undefined, hasPlaced };
			return;
		}
		const hit = hitOf(event, playground.selection?.id);
		const grabbed = hit?.canGrab ? { selection: hit.selection, base: playground.settledDraft } : undefined;
		if (grabbed) playground.select(grabbed.selection);
		this.#press = { ...press, grabbed, clicked: hit?.selection, hasPlaced: false };
	}

	/** Frames of a drag that come faster than the screen are left out. */
	move(event: PointerEvent, at: Point): void {
		const press = this.#press;
		if (press && event.pointerId !== press.pointer) return;
		if (press && distance(press.at, at) > CLICK) this.#isMoved = true;
		cancelAnimationFrame(this.#frame);
		this.#frame = requestAnimationFrame(() => this.#moveTo(at, press));
	}

	up(event: PointerEvent, at: Point): void {
		const press = this.#press;
		if (!press || event.pointerId !== press.pointer) return;
		cancelAnimationFrame(this.#frame);
		this.#press = undefined;
		this.guides = [];
		const { drawing, playground } = this.#workbench;
		if (drawing.isDrawing) {
			this.#pointAt(at, press.reach);
			if (!press.hasPlaced || this.#isMoved) drawing.place();
			return;
		}
		if (press.grabbed && this.#isMoved) {
			this.#drag(press, at);
			playground.endPreview();
			return;
		}
		if (!this.#isMoved) playground.select(press.clicked);
	}

	/** Gives up what is going on: the floor is as it was before. */
	cancel(): void {
		cancelAnimationFrame(this.#frame);
		const press = this.#press;
		this.#press = undefined;
		this.guides = [];
		const { drawing, playground } = this.#workbench;
		if (press?.hasPlaced) drawing.dropPoint();
		playground.dropPreview();
	}

	/** The pointer has left the plan. */
	leave(): void {
		if (!this.#press && this.#workbench.drawing.points.length === 0) this.#workbench.drawing.cursor = undefined;
	}

	#moveTo(at: Point, press: Press | undefined): void {
		const { drawing } = this.#workbench;
		if (drawing.isDrawing) this.#pointAt(at, press?.reach ?? REACH.fine);
		else if (press?.grabbed && this.#isMoved) this.#drag(press, at);
	}

	#pointAt(at: Point, reach: number): void {
		const { drawing, view } = this.#workbench;
		drawing.pointAt(view.toFloor(at), reach / view.scale);
	}

	#drag({ grabbed, at: from, reach }: Press, to: Point): void {
		if (!grabbed) return;
		const { playground, view } = this.#workbench;
		const { selection, base } = grabbed;
		const { draft, snap } = drag(base, selection, view.toFloor(from), view.toFloor(to), reach / view.scale);
		this.guides = snap?.guides ?? [];
		playground.preview(draft);
	}
}
