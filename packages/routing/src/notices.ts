import type { Doorway, Notice, Room } from "@oxturn/floor";
import type { AuditFinding } from "./types.ts";

const called = (room: Room): string => `Room "${room.name || room.id}"`;

/** Every notice that routing gives: one builder a code. */
export const notices = {
	noManifold: (room: Room): Notice => ({
		code: "ROOM_UNSERVED",
		subject: room.id,
		message: `${called(room)} has no loop: no manifold hangs at its walls, and no doorway leads to it from one. Place a manifold within 100 mm of a wall, or a doorway.`,
	}),
	noWay: (room: Room): Notice => ({
		code: "ROOM_UNSERVED",
		subject: room.id,
		message: `${called(room)} has no loop: no doorway leads to it from what its manifold serves. Try a doorway or another place for a manifold.`,
	}),
	noFloor: (room: Room): Notice => ({
		code: "ROOM_UNSERVED",
		subject: room.id,
		message: `${called(room)} has no loop: keep-outs cover the whole of it.`,
	}),
	unserved: (room: Room): Notice => ({
		code: "ROOM_UNSERVED",
		subject: room.id,
		message: `${called(room)} has no loop: no pipe at ${room.spacing} mm spacing fits between its walls and the manifold. Try a smaller spacing, a pipe that bends tighter or another place for the manifold.`,
	}),
	partlyServed: (room: Room, zones: number): Notice => ({
		code: "ROOM_PARTLY_SERVED",
		subject: room.id,
		message: `${called(room)} stays cold in part: ${zones} of its zones could not be reached. Try another place for the manifold or a longer loop limit.`,
	}),
	coldFloor: (room: Room, share: number): Notice => ({
		code: "ROOM_COLD_IN_PART",
		subject: room.id,
		message: `${called(room)} has ${(100 * share).toFixed(0)} % of its floor farther than ${room.spacing} mm from a pipe. Try a smaller spacing, the other pattern or another place for the manifold.`,
	}),
	cutOff: (room: Room, area: number): Notice => ({
		code: "FLOOR_CUT_OFF",
		subject: room.id,
		message: `${called(room)} has ${area.toFixed(2)} m2 of floor that keep-outs cut off from the manifold; no pipe reaches it.`,
	}),
	patternChanged: (room: Room, wanted: string, loops: number): Notice => ({
		code: "PATTERN_CHANGED",
		subject: room.id,
		message: `${called(room)} has ${loops === 1 ? "a loop" : `${loops} loops`} that could not be laid as ${wanted} and ${loops === 1 ? "is" : "are"} laid the other way.`,
	}),
	ruleBroken: ({ rule, message, subjects, at }: AuditFinding, others: number): Notice => ({
		code: "RULE_BROKEN",
		subject: subjects[0] ?? "",
		message: `Breaks the rule "${rule}"${at ? ` near (${at[0].toFixed(0)}, ${at[1].toFixed(0)}) mm` : ""}: ${message}${others > 0 ? ` And at ${others} more places.` : ""}`,
	}),
	spacingOpened: (room: Room, spacing: number): Notice => ({
		code: "SPACING_WIDENED",
		subject: room.id,
		message: `${called(room)} is laid at ${spacing.toFixed(0)} mm instead of ${room.spacing} mm, so that its loops stay within the limit.`,
	}),
	doorwayTooNarrow: (room: Room, doorway: Doorway, wanted: number, fit: number): Notice => ({
		code: "DOORWAY_TOO_NARROW",
		subject: room.id,
		message: `${called(room)} has no loop: ${wanted} pipes should pass the doorway "${doorway.id}" and ${fit} of them can be laid to it. Try a wider doorway, a smaller tail spacing, longer loops or a manifold on the other side.`,
	}),
	overheated: (room: Room, spacing: number): Notice => ({
		code: "ROOM_OVERHEATED",
		subject: room.id,
		message: `${called(room)} would get too warm: the tails that pass lie ${spacing.toFixed(0)} mm apart on average, ${room.spacing} mm are wanted. Put insulating sleeves on tails or hang the manifold elsewhere.`,
	}),
	heatedByTails: (room: Room, cold: number): Notice => ({
		code: "HEATED_BY_TAILS",
		subject: room.id,
		message: `${called(room)} has no loop of its own: the tails that pass leave ${(100 * cold).toFixed(0)} % of its floor farther than ${room.spacing} mm from a pipe.`,
	}),
};
