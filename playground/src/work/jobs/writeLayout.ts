import { type Layout, layoutToJson } from "oxturn";

/** A layout as the text of its document. */
export function writeLayout(layout: Layout): string {
	return layoutToJson(layout);
}
