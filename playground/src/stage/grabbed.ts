import type { Selection } from "../store/selection.ts";

/** The part of the floor that an element of the plan stands for; `canGrab` when a drag on it moves it. */
export interface Hit {
	readonly selection: Selection;
	readonly canGrab: boolean;
}

const isPartKind = (kind: string | undefined): kind is "corner" | "wall" | "ring" =>
	kind === "corner" || kind === "wall" || kind === "ring";

/** Where an event of a mouse, a pen or a finger is, px in the page. */
function placeOf(event: Event): { readonly x: number; readonly y: number } | undefined {
	if (event instanceof MouseEvent) return { x: event.clientX, y: event.clientY };
	const touch = "touches" in event ? (event as TouchEvent).touches[0] : undefined;
	return touch && { x: touch.clientX, y: touch.clientY };
}

/** What of the floor lies under a pointer, through pipes and layers, as the plan's elements say in their `data-`. */
export function hitOf(event: Event, selectedId: string | undefined): Hit | undefined {
	const place = placeOf(event);
	const under = place ? document.elementsFromPoint(place.x, place.y) : [];
	const element = under
		.filter((one) => one.closest(".plan__stage"))
		.map((one) => one.closest<SVGElement>("[data-id]"))
		.find((one) => one !== null);
	const { id, part, ring, index, grab } = element?.dataset ?? {};
	if (id === undefined) return undefined;
	const selection: Selection = isPartKind(part)
		? { id, part: { kind: part, ring: Number(ring), index: Number(index) } }
		: { id };
	// a room that is not selected lets the view be moved over it
	return { selection, canGrab: grab !== undefined || id === selectedId };
}
