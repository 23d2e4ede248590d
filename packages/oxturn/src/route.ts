import { type Layout, type Notice, type ReadFloor, readFloor } from "@oxturn/floor";
import {
	type CompareOptions,
	compareRoutes as compareReadRoutes,
	type PatternFigures,
	type RouteComparison,
	RouteError,
	type RouteOptions,
	routeFloor as routeReadFloor,
	throwIfAborted,
} from "@oxturn/routing";

/**
 * Routes a floor document: every heated room gets its loops, each one pipe from port to port. Lengths in the layout
 * are metres, coordinates millimetres. The call is synchronous and can take seconds: in a page, make it in a worker.
 *
 * `document` is the floor document as parsed from JSON, or an object made to look like it; it is checked here and left
 * as it is. What reading it had to say comes first among the layout's notices, what routing has to say follows. The
 * same document, pattern and seed give the same layout, as long as no time budget cuts the search short.
 *
 * Throws a `FloorError` with every problem of the document, and a `RouteError` with code `OPTION_INVALID` for an
 * option that makes no sense, `ABORTED` when `options.signal` fires. A room that cannot be served throws nothing: the
 * layout leaves it out and a notice says why.
 *
 * @example
 * ```ts
 * const layout = routeFloor(JSON.parse(text), { pattern: "spiral", seed: 7 });
 * ```
 */
export function routeFloor(document: unknown, options: RouteOptions = {}): Layout {
	checkOptions(options);
	throwIfAborted(options.signal);
	return routeRead(readFloor(document), options);
}

/** Routes a floor that has been read; the reader's notices come first. */
export function routeRead({ floor, notices }: ReadFloor, options: RouteOptions): Layout {
	const layout = routeReadFloor(floor, options);
	return { ...layout, notices: [...notices, ...layout.notices] };
}

/**
 * Routes one room of a floor document as serpentine and as spiral, and gives the figures side by side: pipe in m, bends
 * in quarter turns, coverage as shares of the floor, the largest cold spot in mm.
 *
 * The room is routed alone, heated whatever the floor says, from a manifold at its own walls. Without one both layouts
 * are empty, and a notice says so. `options.timeBudget` (ms) is for each pattern.
 *
 * Throws as `routeFloor` does, and a `RouteError` with code `ROOM_UNKNOWN` for an id that no room has.
 *
 * @example
 * ```ts
 * const { serpentine, spiral } = compareRoutes(JSON.parse(text), "kitchen");
 * console.log(serpentine.length, spiral.length);
 * ```
 */
export function compareRoutes(document: unknown, roomId: string, options: CompareOptions = {}): RouteComparison {
	checkOptions(options);
	return compareRead(readFloor(document), roomId, options);
}

/** Compares the patterns in a room of a floor that has been read. */
export function compareRead({ floor, notices }: ReadFloor, roomId: string, options: CompareOptions): RouteComparison {
	const { room, serpentine, spiral } = compareReadRoutes(floor, roomId, options);
	return { room, serpentine: withNotices(notices, serpentine), spiral: withNotices(notices, spiral) };
}

function withNotices(before: readonly Notice[], figures: PatternFigures): PatternFigures {
	const notices = [...before, ...figures.notices];
	return { ...figures, notices, layout: { ...figures.layout, notices } };
}

const PATTERNS: readonly unknown[] = ["serpentine", "spiral", "auto"];

/** Callers without a type checker get an answer in words too. */
function checkOptions({ pattern, seed, timeBudget }: RouteOptions): void {
	const refuse = (name: string, value: unknown, expected: string): never => {
		const found = typeof value === "string" ? JSON.stringify(value) : String(value);
		throw new RouteError("OPTION_INVALID", `Option ${name}: found ${found}, expected ${expected}.`);
	};
	if (pattern !== undefined && !PATTERNS.includes(pattern))
		refuse("pattern", pattern, '"serpentine", "spiral" or "auto"');
	if (seed !== undefined && !(Number.isSafeInteger(seed) && seed >= 0)) refuse("seed", seed, "a whole number from 0");
	if (timeBudget !== undefined && !(timeBudget >= 0)) refuse("timeBudget", timeBudget, "ms, 0 or more");
}
