import { drawPlan, type Floor, type Layout, type Theme } from "oxturn";

export interface DrawInput {
	readonly floor: Floor;
	readonly layout: Layout;
	readonly theme?: Theme;
}

/** The library's own drawing of a layout, as SVG text. */
export function draw(input: DrawInput): string {
	return drawPlan(input);
}
