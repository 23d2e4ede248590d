import type { Component } from "svelte";
import HelpPanel from "../help/HelpPanel.svelte";
import type { WorkbenchProps } from "../store/workbench.svelte.ts";
import type { Texts } from "../text/catalogue.ts";
import DrawPanel from "./DrawPanel.svelte";
import KeepPanel from "./KeepPanel.svelte";
import ResultsPanel from "./ResultsPanel.svelte";

export type PanelId = Exclude<keyof Texts["panels"], "label">;

export interface Panel {
	/** Its name is in the catalogue, under `panels`. */
	readonly id: PanelId;
	readonly component: Component<WorkbenchProps>;
}

/** The sheets of the margin, one shown at a time; the first is what the page opens with, and what is printed. */
export const panels: readonly [Panel, ...Panel[]] = [
	{ id: "results", component: ResultsPanel },
	{ id: "draw", component: DrawPanel },
	{ id: "keep", component: KeepPanel },
	{ id: "help", component: HelpPanel },
];
