import type { Floor, Layout } from "@oxturn/floor";
import { subtract, turnBetween } from "@oxturn/geometry";
import { auditLayout } from "./audit/auditLayout.ts";
import { RouteError, throwIfAborted, unknownRoom } from "./errors.ts";
import { notices as say } from "./notices/notices.ts";
import { routeFloor } from "./routeFloor.ts";
import type { PatternFigures, RouteOptions } from "./types.ts";

/** One room laid both ways. */
export interface RouteComparison {
	/** Id of the room. */
	readonly room: string;
	readonly serpentine: PatternFigures;
	readonly spiral: PatternFigures;
}

/** How to search; the pattern is what is compared. */
export type CompareOptions = Omit<RouteOptions, "pattern">;

/**
 * Routes one room as serpentine and as spiral and puts the figures side by side. The room is routed alone, heated
 * whatever the floor says, from the manifold that stands in it; without one, both layouts are empty and say so in
 * their notices. `options.timeBudget` is for each of the two.
 *
 * Throws a `RouteError` with code `ROOM_UNKNOWN` for an id that no room has, and `ABORTED` when the signal fires.
 */
export function compareRoutes(floor: Floor, roomId: string, options: CompareOptions = {}): RouteComparison {
	const room = floor.rooms.find(({ id }) => id === roomId);
	if (!room) throw new RouteError("ROOM_UNKNOWN", unknownRoom(floor, roomId));
	const alone: Floor = { ...floor, rooms: [{ ...room, heated: true }], doorways: [] };
	const lay = (pattern: "serpentine" | "spiral"): PatternFigures => {
		throwIfAborted(options.signal);
		const layout = routeFloor(alone, { ...options, pattern });
		// of doorways there can be no talk here: they have been left out
		const notices = layout.notices.map((notice) =>
			notice.details?.reason === "no-manifold" ? say.alone(room) : notice,
		);
		return figuresOf(alone, pattern, { ...layout, notices });
	};
	return { room: room.id, serpentine: lay("serpentine"), spiral: lay("spiral") };
}

function figuresOf(floor: Floor, pattern: "serpentine" | "spiral", layout: Layout): PatternFigures {
	const coverage = auditLayout(floor, layout).coverage[0];
	return {
		pattern,
		layout,
		length: layout.features.reduce((sum, { properties }) => sum + properties.length, 0),
		loops: layout.features.length,
		bends: countBends(layout),
		within055: coverage?.within055 ?? 0,
		within100: coverage?.within100 ?? 0,
		coldSpot: coverage?.coldSpot ?? 0,
		notices: layout.notices,
	};
}

/**
 * Turning of all pipes of a layout in quarter turns, rounded: a corner counts one, a half turn two, a jog of two
 * eighth turns one. Either sense counts.
 */
export function countBends(layout: Layout): number {
	let turning = 0;
	for (const { geometry } of layout.features) {
		const path = geometry.coordinates;
		for (let i = 1; i < path.length - 1; i++)
			turning += Math.abs(turnBetween(subtract(path[i]!, path[i - 1]!), subtract(path[i + 1]!, path[i]!)));
	}
	return Math.round(turning / (Math.PI / 2));
}
