import { featureOf, isManifold, isOutlined, nameOf } from "../document/draft.ts";
import { distance } from "../document/plane.ts";
import { ringOf, wallsOf } from "../document/rings.ts";
import { preferences } from "../store/preferences.svelte.ts";
import type { Workbench } from "../store/workbench.svelte.ts";

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
