import { type LayoutFigures, layoutFigures, type Problem } from "oxturn";
import type { Tell } from "../jobs.ts";
import { type Routed, type RouteInput, route } from "./route.ts";

/** A layout with everything that it comes to, or what the reader has against the floor. */
export type MeasureAnswer =
	| { readonly routed: Routed; readonly figures: LayoutFigures }
	| { readonly problems: readonly Problem[] };

/** How long a fresh worker routes before its time is taken, ms: the first run of any program is slower. */
const WARM_UP = 100;
let isWarm = false;

/** Routes a floor and measures what came out. */
export function measure(input: RouteInput, tell: Tell): MeasureAnswer {
	if (!isWarm) route({ ...input, timeBudget: WARM_UP }, () => undefined);
	isWarm = true;
	const answer = route(input, tell);
	if ("problems" in answer) return answer;
	const { routed } = answer;
	return { routed, figures: layoutFigures(routed.floor, routed.layout) };
}
