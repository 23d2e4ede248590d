import type { PatternName, ScheduleRow, ScheduleTotals } from "oxturn";
import {
	type Floor,
	FloorError,
	type Layout,
	loopSchedule,
	type Problem,
	readFloor,
	routeFloor,
	routeMemory,
	scheduleTotals,
} from "oxturn";
import type { Draft } from "../../document/draft.ts";
import type { Tell } from "../jobs.ts";

export interface RouteInput {
	readonly draft: Draft;
	/** Overrides every room's own pattern. */
	readonly pattern?: PatternName;
	/** ms; none for a layout as good as it gets. */
	readonly timeBudget?: number;
}

/** Everything that the page shows of one finished layout. */
export interface Routed {
	readonly draft: Draft;
	readonly floor: Floor;
	readonly layout: Layout;
	readonly rows: readonly ScheduleRow[];
	readonly totals: ScheduleTotals;
	readonly seconds: number;
}

/** A draft that the reader refuses is an answer too. */
export type RouteAnswer = { readonly routed: Routed } | { readonly problems: readonly Problem[] };

/** Rooms that stay as they are while others are dragged are not routed again. */
const memory = routeMemory();

export function route({ draft, ...options }: RouteInput, tell: Tell): RouteAnswer {
	const started = performance.now();
	try {
		const { floor } = readFloor(draft);
		const layout = routeFloor(draft, { ...options, memory, onProgress: ({ fraction }) => tell(fraction) });
		const rows = loopSchedule({ floor, layout });
		const seconds = (performance.now() - started) / 1000;
		return { routed: { draft, floor, layout, rows, totals: scheduleTotals(rows), seconds } };
	} catch (error) {
		if (error instanceof FloorError) return { problems: error.problems };
		throw error;
	}
}
