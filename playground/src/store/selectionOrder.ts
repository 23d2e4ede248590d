import { type Draft, featureOf, isOutlined } from "../document/draft.ts";
import { cornersOf } from "../document/rings.ts";
import { isSame, type Selection } from "./selection.ts";

/** Everything that can be chosen inside a feature, round its rings: each corner and the wall after it. */
export function partsOf(draft: Draft, id: string): readonly Selection[] {
	const feature = featureOf(draft, id);
	if (!feature || !isOutlined(feature)) return [];
	return feature.geometry.coordinates.flatMap((closed, ring) =>
		cornersOf(closed).flatMap((_, index): Selection[] => [
			{ id, part: { kind: "corner", ring, index } },
			{ id, part: { kind: "wall", ring, index } },
		]),
	);
}

/** What comes `by` places after the selection: other features, or other parts of the same one. */
export function neighbourOf(draft: Draft, selection: Selection | undefined, by: 1 | -1): Selection | undefined {
	const all: readonly Selection[] = selection?.part
		? partsOf(draft, selection.id)
		: draft.features.map(({ id }) => ({ id }));
	const at = all.findIndex((one) => isSame(one, selection));
	if (at === -1) return by === 1 ? all[0] : all.at(-1);
	return all[(at + by + all.length) % all.length];
}

/** The selection without what is no longer on the floor. */
export function stillThere(draft: Draft, selection: Selection | undefined): Selection | undefined {
	const feature = selection && featureOf(draft, selection.id);
	if (!selection || !feature) return undefined;
	const { id, part } = selection;
	if (!part) return selection;
	const ring = isOutlined(feature) ? feature.geometry.coordinates[part.ring] : undefined;
	return ring && part.index < cornersOf(ring).length ? selection : { id };
}
