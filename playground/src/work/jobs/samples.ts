import { drawPlan, readFloor, routeFloor, type Theme } from "oxturn";
import { sampleRoom } from "../../help/sampleRoom.ts";

/** One to so many: the largest at which the room fills the sheet. */
const SCALE = 12;

/** One room in each pattern, routed and drawn by the library: SVG text. */
export interface Samples {
	readonly serpentine: string;
	readonly spiral: string;
}

export function samples(theme: Theme): Samples {
	const { floor } = readFloor(sampleRoom);
	const drawn = (pattern: "serpentine" | "spiral"): string =>
		drawPlan({ floor, layout: routeFloor(sampleRoom, { pattern }), theme, scale: SCALE });
	return { serpentine: drawn("serpentine"), spiral: drawn("spiral") };
}
