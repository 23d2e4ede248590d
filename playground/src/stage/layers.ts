import type { Component } from "svelte";
import type { Draft } from "../document/draft.ts";
import type { Selection } from "../store/selection.ts";
import type { Workbench } from "../store/workbench.svelte.ts";
import type { Texts } from "../text/catalogue.ts";
import type { Routed } from "../work/jobs/route.ts";
import BundlesLayer from "./BundlesLayer.svelte";
import DimensionsLayer from "./DimensionsLayer.svelte";
import PipesLayer from "./PipesLayer.svelte";
import WarmthLayer from "./WarmthLayer.svelte";

/** What a layer of the plan may draw from. It draws SVG in floor mm, y turned to go down. */
export interface LayerProps {
	readonly draft: Draft;
	readonly routed: Routed | undefined;
	readonly selection: Selection | undefined;
	/** px to one mm */
	readonly scale: number;
	readonly workbench: Workbench;
}

export type LayerId = Exclude<keyof Texts["layers"], "label">;

/** Something drawn over the floor that can be switched on and off. */
export interface PlanLayer {
	/** Its name is in the catalogue, under `layers`. */
	readonly id: LayerId;
	readonly component: Component<LayerProps>;
	readonly startsOn: boolean;
}

/** The layers of the plan, the lowest first. A new one is a component and a line here. */
export const layers: readonly PlanLayer[] = [
	{ id: "warmth", component: WarmthLayer, startsOn: false },
	{ id: "pipes", component: PipesLayer, startsOn: true },
	{ id: "bundles", component: BundlesLayer, startsOn: false },
	{ id: "dimensions", component: DimensionsLayer, startsOn: false },
];
