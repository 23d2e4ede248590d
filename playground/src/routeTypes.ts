import type { Floor, Layout, PatternName, ScheduleRow, ScheduleTotals } from "oxturn";
import type { FloorSource } from "./gallery.ts";

export interface RouteRequest {
	/** Number of the run; its answer carries the same. */
	readonly run: number;
	readonly document: FloorSource;
	readonly pattern: PatternName;
}

/** Everything the page shows of one finished run. */
export interface Plan {
	/** Number of the run that made it. */
	readonly run: number;
	readonly floor: Floor;
	readonly layout: Layout;
	readonly rows: readonly ScheduleRow[];
	readonly totals: ScheduleTotals;
	readonly seconds: number;
}

export type Answer =
	| { readonly run: number; readonly result: Plan }
	| { readonly run: number; readonly problem: string };
