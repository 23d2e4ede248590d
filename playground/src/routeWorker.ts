import { expose } from "comlink";
import { loopSchedule, readFloor, routeFloor, scheduleTotals } from "oxturn";
import type { Answer, RouteRequest } from "./routeTypes.ts";

/** Routes one floor. A floor that cannot be read is an answer too: errors lose their class on the way to the page. */
function route({ run, document, pattern }: RouteRequest): Answer {
	const started = performance.now();
	try {
		const { floor } = readFloor(document);
		const layout = routeFloor(document, { pattern });
		const rows = loopSchedule({ floor, layout });
		const seconds = (performance.now() - started) / 1000;
		return { run, result: { run, floor, layout, rows, totals: scheduleTotals(rows), seconds } };
	} catch (error) {
		return { run, problem: error instanceof Error ? error.message : String(error) };
	}
}

const api = { route };

export type RouteApi = typeof api;

expose(api);
