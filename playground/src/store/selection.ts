import type { RingPlace } from "../edit/corners.ts";

/** What is chosen on the floor: a feature, or one corner, wall or whole ring of it. */
export interface Selection {
	readonly id: string;
	readonly part?: { readonly kind: "corner" | "wall" | "ring"; readonly ring: number; readonly index: number };
}

/** The place of a selected corner or wall. */
export function placeOf({ id, part }: Selection): RingPlace | undefined {
	return part && { id, ring: part.ring, index: part.index };
}

export function isSame(a: Selection | undefined, b: Selection | undefined): boolean {
	return (
		a?.id === b?.id &&
		a?.part?.kind === b?.part?.kind &&
		a?.part?.ring === b?.part?.ring &&
		a?.part?.index === b?.part?.index
	);
}
