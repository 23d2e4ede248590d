import type { Point } from "oxturn";
import { featureOf, nameOf } from "../document/draft.ts";
import { removeCorner, splitWall } from "../edit/corners.ts";
import { removeFeature } from "../edit/features.ts";
import { preferences } from "../store/preferences.svelte.ts";
import { placeOf, type Selection } from "../store/selection.ts";
import type { Workbench } from "../store/workbench.svelte.ts";

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
