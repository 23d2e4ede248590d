import type { Selection } from "../store/selection.ts";

/** The part of the floor that an element of the plan stands for; `canGrab` when a drag on it moves it. */
export interface Hit {
	readonly selection: Selection;
	readonly canGrab: boolean;
}

const isPartKind = (kind: string | undefined): kind is "corner" | "wall" | "ring" =>
	kind === "corner" || kind === "wall" || kind === "ring";

/** What lies under a pointer, as the plan's elements say in their `data-` attributes. */
export function hitOf(target: EventTarget | null, selectedId: string | undefined): Hit | undefined {
	const element = target instanceof Element ? target.closest<SVGElement>("[data-id]") : null;
	const { id, part, ring, index, grab } = element?.dataset ?? {};
	if (id === undefined) return undefined;
	const selection: Selection = isPartKind(part)
		? { id, part: { kind: part, ring: Number(ring), index: Number(index) } }
		: { id };
	// a room that is not selected lets the view be moved over it
	return { selection, canGrab: grab !== undefined || id === selectedId };
}
