import type { Doorway, Keepout, Manifold, NoticeDetails, Room } from "@oxturn/floor";
import type { WidenedFor } from "../room/roomSetting.ts";
import type { AuditFinding } from "../types.ts";
import type { RouteNotice } from "./codes.ts";

const called = (room: Room): string => `Room "${room.name || room.id}"`;

const portsOf = ({ ports }: Manifold): string => (ports === 1 ? "1 port" : `${ports} ports`);

const placeOf = ({ at }: AuditFinding): string => (at ? ` near (${at[0].toFixed(0)}, ${at[1].toFixed(0)}) mm` : "");

/** A finding as data: which rule, whose, where, measured and allowed in the rule's unit, and the audit's own sentence. */
function broken({ rule, message, subjects, at, value, limit }: AuditFinding): NoticeDetails {
	return {
		rule,
		finding: message,
		subjects: subjects.join(", "),
		...(at ? { x: at[0], y: at[1] } : {}),
		...(value === undefined ? {} : { value }),
		...(limit === undefined ? {} : { limit }),
	};
}

/** What a wider spacing is good for, and what to look to. */
const WIDENED: Readonly<Record<WidenedFor, string>> = {
	length: "its loops stay within the limit. Check that it still gets warm enough",
	ports:
		"the manifold has ports for all of its loops. Check that it still gets warm enough, or choose one with more ports",
	returns:
		"the pipe can turn back beside its runs. Check that it still gets warm enough; nearer together, a pipe that bends tighter is needed",
	runs: "its runs are long, with few bends. Check that it still gets warm enough",
};

/** Pipes that should pass a doorway, that are laid to it, and that fit through side by side. */
interface PipesThrough {
	readonly pipes: number;
	readonly fit: number;
	readonly places: number;
}

/** Every notice that routing gives: one builder a code, with what it tells as data beside the words. */
export const notices = {
	noManifold: (room: Room): RouteNotice => ({
		code: "ROOM_UNSERVED",
		subject: room.id,
		message: `${called(room)} has no loop: no manifold hangs at its walls, and no doorway leads to it from one. Place a manifold within 100 mm of a wall, or a doorway.`,
		details: { reason: "no-manifold" },
	}),
	alone: (room: Room): RouteNotice => ({
		code: "ROOM_UNSERVED",
		subject: room.id,
		message: `${called(room)} has no loop: it is laid by itself, and no manifold hangs at its own walls. Place one within 100 mm of a wall to compare the patterns.`,
		details: { reason: "alone" },
	}),
	noPort: (room: Room, manifold: Manifold): RouteNotice => ({
		code: "ROOM_UNSERVED",
		subject: room.id,
		message: `${called(room)} has no loop: the manifold "${manifold.id}" has ${portsOf(manifold)}, too few for this room as well. Choose one with more ports, or hang another.`,
		details: { reason: "no-port", manifold: manifold.id, ports: manifold.ports ?? 0 },
	}),
	tooManyLoops: (room: Room, manifold: Manifold, loops: number, places: number): RouteNotice => ({
		code: "ROOM_UNSERVED",
		subject: room.id,
		message: `${called(room)} has no loop: it needs ${loops} at least, and the manifold "${manifold.id}" takes ${places}. Hang more manifolds at its walls, choose one with more ports, or allow longer loops.`,
		details: { reason: "too-many-loops", manifold: manifold.id, loops, places },
	}),
	noWay: (room: Room): RouteNotice => ({
		code: "ROOM_UNSERVED",
		subject: room.id,
		message: `${called(room)} has no loop: no doorway leads to it from what its manifold serves. Try a doorway or another place for a manifold.`,
		details: { reason: "no-way" },
	}),
	noFloor: (room: Room): RouteNotice => ({
		code: "ROOM_UNSERVED",
		subject: room.id,
		message: `${called(room)} has no loop: keep-outs cover the whole of it.`,
		details: { reason: "no-floor" },
	}),
	behindKeepout: (room: Room, manifold: Manifold, keepout: Keepout): RouteNotice => ({
		code: "ROOM_UNSERVED",
		subject: room.id,
		message: `${called(room)} has no loop: the keep-out "${keepout.id}" stands in front of the manifold "${manifold.id}", so that its pipes cannot leave. Hang the manifold clear of the keep-out, or leave a way through it.`,
		details: { reason: "behind-keepout", keepout: keepout.id, manifold: manifold.id },
	}),
	beyondKeepout: (room: Room, manifold: Manifold, keepout: Keepout): RouteNotice => ({
		code: "ROOM_UNSERVED",
		subject: room.id,
		message: `${called(room)} has no loop: the keep-out "${keepout.id}" bars the way to it from the manifold "${manifold.id}". Leave a way past the keep-out, or hang a manifold on its other side.`,
		details: { reason: "beyond-keepout", keepout: keepout.id, manifold: manifold.id },
	}),
	unserved: (room: Room): RouteNotice => ({
		code: "ROOM_UNSERVED",
		subject: room.id,
		message: `${called(room)} has no loop: no pipe at ${room.spacing} mm spacing fits between its walls and the manifold. Try another spacing, longer loops, a pipe that bends tighter or another place for the manifold.`,
		details: { reason: "no-fit", spacing: room.spacing },
	}),
	partlyServed: (room: Room, zones: number): RouteNotice => ({
		code: "ROOM_PARTLY_SERVED",
		subject: room.id,
		message: `${called(room)} stays cold in part: ${zones === 1 ? "a part" : `${zones} parts`} of it could not be given a loop. Try another place for the manifold, or longer loops if the pump can push them.`,
		details: { zones },
	}),
	loopsTooLong: (room: Room, loops: number, longest: number, limit: number): RouteNotice => ({
		code: "LOOPS_TOO_LONG",
		subject: room.id,
		message: `${called(room)} stays cold in part: ${loops === 1 ? "a loop is" : `${loops} loops are`} left out that would be up to ${longest.toFixed(1)} m long, at most ${limit.toFixed(1)} m allowed. Hang a manifold nearer to that floor, or allow longer loops.`,
		details: { rule: "length", loops, value: longest, limit },
	}),
	coldFloor: (room: Room, share: number): RouteNotice => ({
		code: "ROOM_COLD_IN_PART",
		subject: room.id,
		message: `${called(room)} has ${(100 * share).toFixed(0)} % of its floor farther than ${room.spacing} mm from a pipe. Try a smaller spacing, the other pattern or another place for the manifold.`,
		details: { cold: share, spacing: room.spacing },
	}),
	cutOff: (room: Room, area: number): RouteNotice => ({
		code: "FLOOR_CUT_OFF",
		subject: room.id,
		message: `${called(room)} has ${area.toFixed(2)} m2 of floor that keep-outs cut off from the manifold; no pipe reaches it. Leave a way past them, or hang a manifold there.`,
		details: { area },
	}),
	patternChanged: (room: Room, wanted: string, loops: number): RouteNotice => ({
		code: "PATTERN_CHANGED",
		subject: room.id,
		message: `${called(room)} has ${loops === 1 ? "a loop" : `${loops} loops`} that could not be laid as ${wanted} and ${loops === 1 ? "is" : "are"} laid the other way.`,
		details: { wanted, loops },
	}),
	leftOut: (room: Room, finding: AuditFinding): RouteNotice => ({
		code: "LOOP_LEFT_OUT",
		subject: room.id,
		message: `${called(room)} has a loop less than it needs: as found, it would break the rule "${finding.rule}"${placeOf(finding)}. ${finding.message} Try another place for the manifold.`,
		details: broken(finding),
	}),
	manifoldTurned: ({ id, facing }: Manifold, given: number): RouteNotice => ({
		code: "MANIFOLD_TURNED",
		subject: id,
		message: `The manifold "${id}" faces ${given.toFixed(1)}°, but the wall that it hangs on ${facing.toFixed(1)}°: its ports lie along that wall, so it is taken as square to it. Set its facing to ${facing.toFixed(1)}°, or hang it on another wall.`,
		details: { manifold: id, facing: given, square: facing },
	}),
	portsSpread: ({ id, portPitch }: Manifold, given: number): RouteNotice => ({
		code: "PORTS_SPREAD",
		subject: id,
		message: `The manifold "${id}" has a port pitch of ${given.toFixed(0)} mm, too little for flow and return of this pipe side by side: its ports are taken as ${portPitch.toFixed(0)} mm apart, pair to pair. Spread the pipes so far apart as they leave the ports, or choose a thinner pipe or a manifold with a larger pitch.`,
		details: { manifold: id, laid: portPitch, spacing: given },
	}),
	ruleBroken: (finding: AuditFinding): RouteNotice => ({
		code: "RULE_BROKEN",
		subject: finding.subjects[0] ?? "",
		message: `Breaks the rule "${finding.rule}"${placeOf(finding)}: ${finding.message} Do not lay it like this.`,
		details: broken(finding),
	}),
	spacingOpened: (room: Room, spacing: number, reason: WidenedFor): RouteNotice => ({
		code: "SPACING_WIDENED",
		subject: room.id,
		message: `${called(room)} is laid at ${spacing.toFixed(0)} mm instead of ${room.spacing} mm, so that ${WIDENED[reason]}.`,
		details: { reason, laid: spacing, spacing: room.spacing },
	}),
	doorwayTooNarrow: (room: Room, doorway: Doorway, { pipes, fit }: PipesThrough): RouteNotice => ({
		code: "DOORWAY_TOO_NARROW",
		subject: room.id,
		message: `${called(room)} has no loop: ${pipes} pipes should pass the doorway "${doorway.id}" and ${fit} of them can be laid to it. Try a wider doorway, a smaller tail spacing, longer loops or a manifold on the other side.`,
		details: { doorway: doorway.id, pipes, fit },
	}),
	wayTooNarrow: (room: Room, through: Room, doorway: Doorway, { pipes, fit, places }: PipesThrough): RouteNotice => ({
		code: "WAY_TOO_NARROW",
		subject: room.id,
		message: `${called(room)} has no loop: ${pipes} pipes should pass the doorway "${doorway.id}" and ${fit} of them can be laid to it. The doorway itself takes ${places}; "${through.name || through.id}" has no place for more tails on the way there. Try another place for the manifold, another one on the far side, a smaller tail spacing or longer loops.`,
		details: { doorway: doorway.id, pipes, fit, places, through: through.id, throughName: through.name || through.id },
	}),
	overheated: (room: Room, spacing: number): RouteNotice => ({
		code: "ROOM_OVERHEATED",
		subject: room.id,
		message: `${called(room)} would get too warm: the tails that pass lie ${spacing.toFixed(0)} mm apart on average, ${room.spacing} mm are wanted. Put insulating sleeves on tails or hang the manifold elsewhere: the floor must stay below what its covering and local codes allow.`,
		details: { laid: spacing, spacing: room.spacing },
	}),
	heatedByTails: (room: Room, cold: number): RouteNotice => ({
		code: "HEATED_BY_TAILS",
		subject: room.id,
		message: `${called(room)} has no loop of its own: the tails that pass leave ${(100 * cold).toFixed(0)} % of its floor farther than ${room.spacing} mm from a pipe. It has no valve of its own and warms with the rooms that these tails lead to.`,
		details: { cold, spacing: room.spacing },
	}),
	heatedOnTheWay: (room: Room, host: Room, area: number): RouteNotice => ({
		code: "HEATED_ON_THE_WAY",
		subject: room.id,
		message: `${called(room)} has ${area.toFixed(2)} m2 of floor that no loop of its own heats, but that of "${host.name || host.id}" as it passes. That floor has no valve of its own and warms with "${host.name || host.id}".`,
		details: { host: host.id, hostName: host.name || host.id, area },
	}),
};
