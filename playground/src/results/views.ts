import type { Component } from "svelte";
import type { WorkbenchProps } from "../store/workbench.svelte.ts";
import type { Texts } from "../text/catalogue.ts";
import BundleTable from "./BundleTable.svelte";
import LengthChart from "./LengthChart.svelte";
import LoopTable from "./LoopTable.svelte";
import Notices from "./Notices.svelte";
import WarmthBlock from "./WarmthBlock.svelte";

/** One block among the results. */
export interface ResultView {
	/** Its heading is in the catalogue, under `views`. */
	readonly id: Exclude<keyof Texts["views"], "cautions">;
	readonly component: Component<WorkbenchProps>;
}

/** What can be read of a layout, in the order in which it stands in the margin. A new view is a component and a line. */
export const resultViews: readonly ResultView[] = [
	{ id: "loops", component: LoopTable },
	{ id: "lengths", component: LengthChart },
	{ id: "notices", component: Notices },
	{ id: "warmth", component: WarmthBlock },
	{ id: "bundles", component: BundleTable },
];
