import type { Notice, Room } from "@oxturn/floor";

const called = (room: Room): string => `Room "${room.name || room.id}"`;

/** Every notice that routing gives: one builder a code. */
export const notices = {
	noManifold: (room: Room): Notice => ({
		code: "ROOM_UNSERVED",
		subject: room.id,
		message: `${called(room)} has no loop: no manifold hangs at its walls. Place one within 100 mm of a wall.`,
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
	cutOff: (room: Room, area: number): Notice => ({
		code: "FLOOR_CUT_OFF",
		subject: room.id,
		message: `${called(room)} has ${area.toFixed(2)} m2 of floor that keep-outs cut off from the manifold; no pipe reaches it.`,
	}),
	tooLong: (room: Room, limit: number): Notice => ({
		code: "LOOP_TOO_LONG",
		subject: room.id,
		message: `${called(room)} has a loop longer than the limit of ${limit} m: no division into zones was found that avoids it.`,
	}),
	spacingOpened: (room: Room, spacing: number): Notice => ({
		code: "SPACING_WIDENED",
		subject: room.id,
		message: `${called(room)} is laid at ${spacing.toFixed(0)} mm instead of ${room.spacing} mm, so that its loops stay within the limit.`,
	}),
};
