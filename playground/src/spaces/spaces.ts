import type { Component } from "svelte";
import CompareView from "../compare/CompareView.svelte";
import PlanView from "../stage/PlanView.svelte";
import type { WorkbenchProps } from "../store/workbench.svelte.ts";
import type { Texts } from "../text/catalogue.ts";

export type SpaceId = Exclude<keyof Texts["spaces"], "label">;

/** One way to fill the window above the title block. */
export interface Space {
	/** Its name is in the catalogue, under `spaces`. */
	readonly id: SpaceId;
	readonly component: Component<WorkbenchProps>;
	/** It takes the whole sheet: no tools at its side, and no margin. */
	readonly isWide?: true;
}

/** The first is what the page opens with; with more than one, the title block offers the choice. */
export const spaces: readonly [Space, ...Space[]] = [
	{ id: "plan", component: PlanView },
	{ id: "compare", component: CompareView, isWide: true },
];
