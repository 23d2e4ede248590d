import { Drawing } from "../tools/drawing.svelte.ts";
import { Comparison } from "./comparison.svelte.ts";
import { Keeper } from "./keeper.svelte.ts";
import { Look } from "./look.svelte.ts";
import { Playground } from "./playground.svelte.ts";
import { Underlay } from "./underlay.svelte.ts";
import { View } from "./view.svelte.ts";
import { WarmthMap } from "./warmth.svelte.ts";

/** Everything that the parts of the page share; panels, results and spaces are handed this and nothing else. */
export class Workbench {
	readonly playground = new Playground();
	readonly drawing = new Drawing(this.playground);
	readonly view = new View();
	readonly look = new Look();
	readonly underlay = new Underlay();
	readonly comparison = new Comparison();
	readonly warmth = new WarmthMap();
	readonly keeper = new Keeper(this.playground);

	constructor() {
		this.drawing.onScale = (from, to) => {
			this.underlay.measured = { from, to };
		};
	}
}

/** What every part of the page is given. */
export interface WorkbenchProps {
	readonly workbench: Workbench;
}
