import type { Floor, Notice } from "@oxturn/floor";
import { notices as build } from "../../packages/routing/src/notices/notices.ts";
import type { AuditFinding } from "../../packages/routing/src/types.ts";

/** A finding as the audit words it. */
export const finding = {
	rule: "clearance",
	message: 'Loops "L1" and "L2" are 38.4 mm apart at (1234, 567), at least 45.2 mm needed.',
	subjects: ["L1", "L2"],
	at: [1234, 567],
	value: 38.4,
	limit: 45.2,
} as const satisfies AuditFinding;

/** One of every notice that routing gives, about a floor's first room. A builder that is missing here does not compile. */
export function everyNotice({
	rooms,
	manifolds,
}: Floor): Readonly<Record<keyof typeof build | "openedForPorts" | "openedForReturns" | "openedForRuns", Notice>> {
	const room = { ...rooms[0]!, spacing: 150 };
	const manifold = { ...manifolds[0]!, ports: 12 };
	const doorway: Floor["doorways"][number] = { id: "door-7", region: room.region, between: ["a", "b"] };
	const keepout = { id: "keepout-3", name: "", region: room.region };
	return {
		noManifold: build.noManifold(room),
		alone: build.alone(room),
		tooManyLoops: build.tooManyLoops(room, manifold, 31, 12),
		noPort: build.noPort(room, manifold),
		noWay: build.noWay(room),
		noFloor: build.noFloor(room),
		behindKeepout: build.behindKeepout(room, manifold, keepout),
		beyondKeepout: build.beyondKeepout(room, manifold, keepout),
		unserved: build.unserved(room),
		partlyServed: build.partlyServed(room, 3),
		loopsTooLong: build.loopsTooLong(room, 2, 86.3, 60),
		coldFloor: build.coldFloor(room, 0.17),
		cutOff: build.cutOff(room, 0.46),
		patternChanged: build.patternChanged(room, "spiral", 2),
		leftOut: build.leftOut(room, finding),
		manifoldTurned: build.manifoldTurned({ ...manifold, facing: 90 }, 57.5),
		portsSpread: build.portsSpread({ ...manifold, portPitch: 54.1 }, 50),
		ruleBroken: build.ruleBroken(finding),
		spacingOpened: build.spacingOpened(room, 162, "length"),
		openedForPorts: build.spacingOpened(room, 162, "ports"),
		openedForReturns: build.spacingOpened(room, 162, "returns"),
		openedForRuns: build.spacingOpened(room, 162, "runs"),
		doorwayTooNarrow: build.doorwayTooNarrow(room, doorway, { pipes: 12, fit: 8, places: 9 }),
		wayTooNarrow: build.wayTooNarrow(room, { ...room, id: "hall", name: "Hall" }, doorway, {
			pipes: 12,
			fit: 6,
			places: 14,
		}),
		overheated: build.overheated(room, 61),
		heatedByTails: build.heatedByTails(room, 0.04),
		heatedOnTheWay: build.heatedOnTheWay(room, { ...room, id: "bath", name: "Bath" }, 2.43),
	};
}
