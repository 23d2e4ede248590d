import type { Point } from "oxturn";
import { featureOf, isManifold, isOutlined, nameOf } from "../document/draft.ts";
import { distance } from "../document/plane.ts";
import { ringOf, wallsOf } from "../document/rings.ts";
import { removeCorner, splitWall } from "../edit/corners.ts";
import { removeFeature } from "../edit/features.ts";
import { nudge } from "../edit/nudge.ts";
import { followNext, walkAlong } from "../follow/follow.ts";
import { GRID } from "../snap/snap.ts";
import { preferences } from "../store/preferences.svelte.ts";
import { placeOf, type Selection } from "../store/selection.ts";
import { neighbourOf, partsOf } from "../store/selectionOrder.ts";
import type { Workbench } from "../store/workbench.svelte.ts";
import { toolKeys } from "../tools/tool.ts";

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

/** Says what is selected. */
export function describeSelection({ playground }: Workbench): string {
	const { selection, draft } = playground;
	const text = preferences.text.selection;
	const feature = selection && featureOf(draft, selection.id);
	if (!selection || !feature) return text.cleared;
	const { part } = selection;
	const name = nameOf(feature);
	if (isManifold(feature)) {
		const [x, y] = feature.geometry.coordinates;
		const at = preferences.text.drawing.cursor(preferences.length(x), preferences.length(y));
		return `${text.chosen(preferences.text.kinds.manifold, name)} ${at}`;
	}
	if (!part || !isOutlined(feature)) return text.chosen(preferences.text.kinds[feature.properties.kind], name);
	const corners = ringOf(feature, part.ring);
	const wall = wallsOf(corners)[part.index];
	if (!wall) return text.chosen(preferences.text.kinds[feature.properties.kind], name);
	if (part.kind === "wall")
		return text.chosenWall(part.index + 1, name, preferences.length(distance(wall.from, wall.to)));
	const [x, y] = wall.from;
	return text.chosenCorner(part.index + 1, name, preferences.length(x), preferences.length(y));
}

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
	if (key === "+" || key === "=") view.scaleBy(1.25);
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
	const { playground } = workbench;
	const { selection, settledDraft } = playground;
	const { key } = event;
	const choose = (next: Selection | undefined): true => {
		playground.select(next);
		playground.announce(describeSelection(workbench));
		return true;
	};
	if (key === "PageDown" || key === "PageUp")
		return choose(neighbourOf(settledDraft, selection, key === "PageDown" ? 1 : -1));
	if (key === "Enter" && selection && !selection.part)
		return choose(partsOf(settledDraft, selection.id)[0] ?? selection);
	if (key === "Escape" && workbench.look.chosen) {
		workbench.look.chosen = undefined;
		return true;
	}
	if (key === "Escape") {
		if (!selection) return false;
		return choose(selection.part ? { id: selection.id } : undefined);
	}
	const arrow = ARROWS[key];
	if (arrow && selection) {
		const step = stepOf(event);
		playground.change(nudge(settledDraft, selection, [arrow[0] * step, arrow[1] * step]));
		playground.announce(describeSelection(workbench));
		return true;
	}
	if (arrow) {
		view.panBy(-arrow[0] * PAN, arrow[1] * PAN);
		return true;
	}
	if (selection && (key === "Delete" || key === "Backspace")) {
		deleteSelected(workbench, selection);
		return true;
	}
	if (key === "Insert" && selection?.part?.kind === "wall") {
		splitSelected(workbench, selection);
		playground.announce(describeSelection(workbench));
		return true;
	}
	return pressForView(event, view) || pressForPipes(event, workbench) || takeTool(event, workbench);
}

/** Puts a corner into the selected wall, at `at` (mm) or in its middle, and selects that. */
export function splitSelected({ playground }: Workbench, selection: Selection, at?: Point): void {
	const place = placeOf(selection);
	if (!place) return;
	playground.change(splitWall(playground.settledDraft, place, at));
	playground.select({ id: place.id, part: { kind: "corner", ring: place.ring, index: place.index + 1 } });
}

/** Takes away what is selected: a corner, or the whole feature. */
export function deleteSelected({ playground }: Workbench, selection: Selection): void {
	const { settledDraft } = playground;
	const place = placeOf(selection);
	const feature = featureOf(settledDraft, selection.id);
	if (!feature) return;
	if (place && selection.part?.kind === "corner") playground.change(removeCorner(settledDraft, place));
	else if (!place) {
		playground.change(removeFeature(settledDraft, selection.id), preferences.text.selection.removed(nameOf(feature)));
	}
}
