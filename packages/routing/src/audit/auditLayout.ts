import type { Floor, Layout } from "@oxturn/floor";
import { RouteError, throwIfAborted } from "../errors.ts";
import type { AuditReport } from "../types.ts";
import { findTightBends } from "./bends.ts";
import { findCloseSpots } from "./clearance.ts";
import { cellFor, coverageInPlan } from "./coverage.ts";
import { findOutside } from "./inside.ts";
import { findLengthFaults } from "./lengths.ts";
import { planOf } from "./plan.ts";
import { findPortFaults } from "./ports.ts";
import { readLoops } from "./readLoops.ts";
import { segmentsOf } from "./segments.ts";
import { findUnserved } from "./served.ts";

/** What to judge, and how finely. */
export interface AuditOptions {
	/** Measure every heated room's coverage too; it takes most of the time. @default true */
	readonly coverage?: boolean;
	/** Look for heated rooms without pipe. @default true */
	readonly served?: boolean;
	/** Side of the coverage raster's cells, mm; they grow in a room that would have very many. @default 20, or 25 on a floor of more than 300 m2 heated */
	readonly cell?: number;
	/** Throws `RouteError` with code `ABORTED` between two rules or rooms when it has fired. */
	readonly signal?: AbortSignal;
}

/**
 * Judges a layout, whoever made it, by its final centrelines: the document itself, ports, crossings,
 * clearances, pipe outside the floor, bends, lengths and rooms left without pipe. Findings come in that
 * order, within a rule in the order of loops and along each loop.
 *
 * Throws a `RouteError` with code `OPTION_INVALID` for a cell that is not a positive number of mm, and `ABORTED` when
 * `options.signal` has fired.
 *
 * @example
 * ```ts
 * const { floor } = readFloor(document);
 * const { passed, findings } = auditLayout(floor, readLayoutText(text));
 * if (!passed) for (const { message } of findings) console.log(message);
 * ```
 */
export function auditLayout(floor: Floor, layout: Layout, options: AuditOptions = {}): AuditReport {
	const { signal, cell: stated } = options;
	if (stated !== undefined && !(Number.isFinite(stated) && stated > 0))
		throw new RouteError("OPTION_INVALID", `Option cell: found ${stated}, expected a positive number of mm.`);
	throwIfAborted(signal);
	const plan = planOf(floor);
	const { system, manifolds } = floor;
	const { traces, noticed, findings: documentFaults } = readLoops(floor, layout);
	const segments = segmentsOf(traces);
	const closeSpots = findCloseSpots(floor, traces, segments);
	throwIfAborted(signal);
	const outside = findOutside(plan, traces);
	throwIfAborted(signal);
	const served =
		options.served === false ? { findings: [], unserved: [] } : findUnserved(plan, traces, segments, noticed);
	const findings = [
		...documentFaults,
		...findPortFaults(manifolds, traces),
		...closeSpots,
		...outside,
		...findTightBends(system.pipe.minBendRadius, traces),
		...findLengthFaults(system.maxLoopLength, traces),
		...served.findings,
	];
	const heated = options.coverage === false ? [] : plan.rooms.filter(({ feature }) => feature.heated);
	const cell = stated ?? cellFor(plan);
	const coverage = heated.map((room) => {
		throwIfAborted(signal);
		return coverageInPlan(plan, room, segments, cell);
	});
	return { passed: findings.length === 0, findings, unserved: served.unserved, coverage };
}
