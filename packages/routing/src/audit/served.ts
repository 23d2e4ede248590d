import type { AuditFinding } from "../types.ts";
import { SMALLEST_SERVED } from "./limits.ts";
import { isNamed, type Plan } from "./plan.ts";
import { forEachRunIn } from "./runsIn.ts";
import type { Segments } from "./segments.ts";
import type { Trace } from "./trace.ts";

/** Share of area / spacing that a loop which names the room must lay there. */
const OWN_SHARE = 0.1;

/** Share of area / spacing from which even pipe that only passes heats the room. */
const ANY_SHARE = 0.5;

export interface ServedRooms {
	readonly findings: readonly AuditFinding[];
	/** Ids of the rooms without pipe that a notice owns up to. */
	readonly unserved: readonly string[];
}

/** Every heated room of at least 1 m2 has pipe, or a notice that says it has none (`noticed`: what notices are about). */
export function findUnserved(
	plan: Plan,
	traces: readonly Trace[],
	segments: Segments,
	noticed: readonly unknown[],
): ServedRooms {
	const findings: AuditFinding[] = [];
	const unserved: string[] = [];
	for (const { feature: room, outline } of plan.rooms) {
		if (!room.heated || outline.area < SMALLEST_SERVED) continue;
		const isOwn = traces.map(({ rooms }) => rooms === undefined || rooms.some((key) => isNamed(room, key)));
		let own = 0;
		let any = 0;
		forEachRunIn(outline, segments, (i, from, to) => {
			const length = (to - from) * segments.length[i]!;
			any += length;
			if (isOwn[segments.loop[i]!]) own += length;
		});
		const wanted = outline.area / room.spacing;
		if (own >= OWN_SHARE * wanted || any >= ANY_SHARE * wanted) continue;
		if (noticed.some((key) => isNamed(room, key))) {
			unserved.push(room.id);
			continue;
		}
		findings.push({
			rule: "served",
			message: `Room "${room.id}" of ${(outline.area / 1e6).toFixed(1)} m2 has ${(own / 1000).toFixed(1)} m of pipe from loops that heat it, and no notice says so.`,
			subjects: [room.id],
			...(room.region.outer[0] ? { at: room.region.outer[0] } : {}),
			value: own / 1000,
			limit: (OWN_SHARE * wanted) / 1000,
		});
	}
	return { findings, unserved };
}
