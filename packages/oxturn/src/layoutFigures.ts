import type { Floor, Layout } from "@oxturn/floor";
import { pathLength } from "@oxturn/geometry";
import { type AuditFinding, type AuditOptions, auditLayout, countBends, type RoomCoverage } from "@oxturn/routing";

/** What one layout comes to, so that two of them can be put side by side. */
export interface LayoutFigures {
	/** How many loops there are. */
	readonly loops: number;
	/** All loops together, m. */
	readonly pipe: number;
	/** The longest loop, m; 0 without loops. */
	readonly longest: number;
	/** The longest that a loop of this floor may be, m. */
	readonly limit: number;
	/** Quarter turns: a half turn counts two. */
	readonly bends: number;
	/** Pipe that runs in bundles, m: the length of each channel times the pipes in it. */
	readonly tails: number;
	/** Share of the heated floor within 0.55 spacing of a pipe; 1 where nothing is heated. */
	readonly within055: number;
	/** Share of the heated floor within one spacing of a pipe; 1 where nothing is heated. */
	readonly within100: number;
	/** Diameter of the largest circle of heated floor farther than one spacing from a pipe, mm. */
	readonly coldSpot: number;
	/** How each heated room comes out. */
	readonly rooms: readonly RoomCoverage[];
	/** What the audit found wrong. */
	readonly findings: readonly AuditFinding[];
}

/**
 * Sums a layout up by what the audit measures on its finished pipes. Shares of the floor are by area over all heated
 * rooms; the cold spot is the largest of any room.
 *
 * Throws as `auditLayout` does.
 *
 * @example
 * ```ts
 * const { floor } = readFloor(document);
 * const { pipe, bends, coldSpot } = layoutFigures(floor, routeFloor(document));
 * ```
 */
export function layoutFigures(
	floor: Floor,
	layout: Layout,
	options: Omit<AuditOptions, "coverage"> = {},
): LayoutFigures {
	const { coverage, findings } = auditLayout(floor, layout, options);
	const lengths = layout.features.map(({ properties }) => properties.length);
	const area = coverage.reduce((sum, room) => sum + room.area, 0);
	const share = (of: (room: RoomCoverage) => number): number =>
		area > 0 ? coverage.reduce((sum, room) => sum + room.area * of(room), 0) / area : 1;
	return {
		loops: lengths.length,
		pipe: lengths.reduce((sum, length) => sum + length, 0),
		longest: Math.max(0, ...lengths),
		limit: floor.system.maxLoopLength,
		bends: countBends(layout),
		tails: layout.channels.reduce((sum, { path, pipes }) => sum + (pathLength(path) * pipes) / 1000, 0),
		within055: share((room) => room.within055),
		within100: share((room) => room.within100),
		coldSpot: Math.max(0, ...coverage.map((room) => room.coldSpot)),
		rooms: coverage,
		findings,
	};
}
