import type { Notice } from "@oxturn/floor";

/** Code of every notice that routing can give, with what it means. */
export const routeNoticeCodes = {
	ROOM_UNSERVED: "a heated room has no pipe, and why",
	DOORWAY_TOO_NARROW: "so it has, since a doorway cannot take its pipes",
	WAY_TOO_NARROW: "so it has, since a room on the way to its doorway cannot take its pipes",
	ROOM_PARTLY_SERVED: "some of a room's zones could not be given a loop",
	LOOPS_TOO_LONG: "loops to a part of a room are left out, since they would be longer than a loop may be",
	ROOM_COLD_IN_PART: "more than 3 % of a room's floor lie farther than one spacing from any pipe",
	FLOOR_CUT_OFF: "keep-outs cut a part of a room off",
	ROOM_OVERHEATED: "the tails that pass lie closer than the room wants",
	LOOP_LEFT_OUT: "a room has a loop less than it needs: as found, it would have broken a rule",
	HEATED_BY_TAILS: "a room has no loop of its own: the tails that pass heat it",
	HEATED_ON_THE_WAY: "a piece of a room has no loop of its own: that of another room makes runs there as it passes",
	SPACING_WIDENED:
		"a room's spacing was opened: for loops within the limit, for want of ports, a pipe that turns back, or long runs",
	PATTERN_CHANGED: "loops that could not be laid in the pattern asked for are laid in the other",
	MANIFOLD_TURNED: "a manifold is taken as square to its wall: its facing is far off that",
	PORTS_SPREAD: "a manifold's ports are taken as farther apart than given: the pipe would not fit between them",
	RULE_BROKEN: "the audit found a rule broken: not to be laid like this",
} as const;

export type RouteNoticeCode = keyof typeof routeNoticeCodes;

/** A notice of routing. */
export interface RouteNotice extends Notice {
	readonly code: RouteNoticeCode;
}
