import type { Point } from "oxturn";
import { nudge } from "../edit/nudge.ts";
import { followNext, walkAlong } from "../follow/follow.ts";
import { GRID } from "../snap/snap.ts";
import type { Selection } from "../store/selection.ts";
import { neighbourOf, partsOf } from "../store/selectionOrder.ts";
import type { Workbench } from "../store/workbench.svelte.ts";
import { toolKeys } from "../tools/tool.ts";
import { describeSelection } from "./describeSelection.ts";
import { deleteSelected, splitSelected } from "./editSelected.ts";

/** What the view can be told by keys. */
export interface ViewKeys {
	readonly panBy: (x: number, y: number) => void;
	readonly scaleBy: (factor: number) => void;
	readonly showWhole: () => void;
	/** Middle of what is in view, mm. */
	readonly middle: () => Point;
}

/** How far an arrow key moves the picture, px. */
const PAN = 60;
/** The cross is kept this far from the edge of the view, px. */
const EDGE = 48;
/** An arrow key's step, mm: usual, with Shift, with Alt. */
const STEPS = { usual: GRID, large: 1000, fine: 10 } as const;

const ARROWS: Readonly<Record<string, Point>> = {
	ArrowLeft: [-1, 0],
	ArrowRight: [1, 0],
	ArrowUp: [0, 1],
	ArrowDown: [0, -1],
};

/** Characters that lengths are written with. */
const LENGTH_KEY = /^[\d.,'"×x* /mcfti]$/i;

/** Does what a key says to the plan; tells whether it meant anything. */
export function pressKey(event: KeyboardEvent, workbench: Workbench, view: ViewKeys): boolean {
	if (event.ctrlKey || event.metaKey) return false;
	return workbench.drawing.isDrawing
		? pressWhileDrawing(event, workbench, view)
		: pressWhileSelecting(event, workbench, view);
}

function stepOf({ shiftKey, altKey }: KeyboardEvent): number {
	if (shiftKey) return STEPS.large;
	return altKey ? STEPS.fine : STEPS.usual;
}

function pressForView({ key }: KeyboardEvent, view: ViewKeys): boolean {
	const arrow = ARROWS[key];
	if (arrow) view.panBy(-arrow[0] * PAN, arrow[1] * PAN);
	else if (key === "+" || key === "=") view.scaleBy(1.25);
	else if (key === "-") view.scaleBy(0.8);
	else if (key === "0") view.showWhole();
	else return false;
	return true;
}

/** Moves the view so far that `at` is in it. */
function reveal(at: Point, { view: { width, height, toWindow } }: Workbench, view: ViewKeys): void {
	const [x, y] = toWindow(at);
	const beyond = (place: number, size: number): number =>
		place < EDGE ? EDGE - place : Math.min(0, size - EDGE - place);
	const [right, down] = [beyond(x, width), beyond(y, height)];
	if (right !== 0 || down !== 0) view.panBy(right, down);
}

/** Goes through the loops, and along the one that is followed. */
function pressForPipes({ key, shiftKey }: KeyboardEvent, workbench: Workbench): boolean {
	if (key.toLowerCase() === "l") followNext(workbench, shiftKey ? -1 : 1);
	else if (key === "." || key === ">") walkAlong(workbench, shiftKey ? 5000 : 1000);
	else if (key === "," || key === "<") walkAlong(workbench, shiftKey ? -5000 : -1000);
	else return false;
	return true;
}

function takeTool({ key }: KeyboardEvent, { drawing }: Workbench): boolean {
	const found = toolKeys.find((tool) => tool.key === key.toLowerCase());
	if (!found) return false;
	drawing.take(found.tool);
	return true;
}

function pressWhileDrawing(event: KeyboardEvent, workbench: Workbench, view: ViewKeys): boolean {
	const { drawing } = workbench;
	const { key } = event;
	const arrow = ARROWS[key];
	if (arrow) {
		const step = stepOf(event);
		drawing.moveCursor([arrow[0] * step, arrow[1] * step], view.middle());
		if (drawing.cursor) reveal(drawing.cursor.at, workbench, view);
		return true;
	}
	if (key === "Enter") {
		if (!drawing.cursor) drawing.putCursor(view.middle());
		else drawing.place();
		return true;
	}
	if (key === "Escape") {
		drawing.cancel();
		return true;
	}
	if (key === "Backspace") {
		if (drawing.typed === "") drawing.dropPoint();
		else drawing.typed = drawing.typed.slice(0, -1);
		return true;
	}
	// a figure begins a length; after that its unit may follow
	if (drawing.takesTyping && (drawing.typed === "" ? /^\d$/ : LENGTH_KEY).test(key)) {
		drawing.typed += key;
		return true;
	}
	return pressForView(event, view) || takeTool(event, workbench);
}

function pressWhileSelecting(event: KeyboardEvent, workbench: Workbench, view: ViewKeys): boolean {
	return (
		pressToSelect(event, workbench) ||
		pressToEdit(event, workbench) ||
		pressForView(event, view) ||
		pressForPipes(event, workbench) ||
		takeTool(event, workbench)
	);
}

/** Goes through the features and into their parts, and lets go of what was chosen last. */
function pressToSelect({ key }: KeyboardEvent, workbench: Workbench): boolean {
	const { playground, look } = workbench;
	const { selection, settledDraft } = playground;
	const choose = (next: Selection | undefined): void => {
		playground.select(next);
		playground.announce(describeSelection(workbench));
	};
	if (key === "PageDown" || key === "PageUp") choose(neighbourOf(settledDraft, selection, key === "PageDown" ? 1 : -1));
	else if (key === "Enter" && selection && !selection.part) choose(partsOf(settledDraft, selection.id)[0] ?? selection);
	else if (key === "Escape" && look.chosen) look.chosen = undefined;
	else if (key === "Escape" && selection) choose(selection.part ? { id: selection.id } : undefined);
	else return false;
	return true;
}

/** Moves, takes away or splits what is selected. */
function pressToEdit(event: KeyboardEvent, workbench: Workbench): boolean {
	const { playground } = workbench;
	const { selection, settledDraft } = playground;
	if (!selection) return false;
	const { key } = event;
	const arrow = ARROWS[key];
	if (key === "Delete" || key === "Backspace") {
		deleteSelected(workbench, selection);
		return true;
	}
	if (arrow) {
		const step = stepOf(event);
		playground.change(nudge(settledDraft, selection, [arrow[0] * step, arrow[1] * step]));
	} else if (key === "Insert" && selection.part?.kind === "wall") splitSelected(workbench, selection);
	else return false;
	playground.announce(describeSelection(workbench));
	return true;
}
