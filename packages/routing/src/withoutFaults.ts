import type { Floor, LoopFeature, Manifold, Notice, Room } from "@oxturn/floor";
import { featureOf, findingsAbout } from "./loopFeatures.ts";
import { notices as say } from "./notices/notices.ts";
import type { RoutedLoop } from "./room/routeZones.ts";
import type { AuditFinding } from "./types.ts";

/** A loop in the document's own frame. */
export interface LaidLoop {
	/** The room that its tails lead to comes first. */
	readonly rooms: readonly Room[];
	readonly manifold: Manifold;
	readonly loop: RoutedLoop;
}

/** A loop that is left out: the rooms that go without, and what is told of it. */
interface LeftOut {
	readonly rooms: readonly Room[];
	readonly notices: readonly Notice[];
}

/** Loops as the layout lists them, numbered in their order. */
export const featuresOf = (laid: readonly LaidLoop[]): LoopFeature[] =>
	laid.map(({ loop, rooms, manifold }, i) => featureOf(loop, `L${i + 1}`, rooms, manifold));

/** The same named by their rooms: while some are still to be left out, no number is the one that the layout gives. */
function namedByRooms(laid: readonly LaidLoop[]): LoopFeature[] {
	const counts = new Map<string, number>();
	return laid.map(({ loop, rooms, manifold }) => {
		const [{ id }] = rooms as readonly [Room, ...Room[]];
		const count = (counts.get(id) ?? 0) + 1;
		counts.set(id, count);
		return featureOf(loop, `${id} ${count}`, rooms, manifold);
	});
}

/**
 * The loops that break no rule. Where some do, the one that breaks most is left out, until none does: a fitter can lay
 * a loop less, but not two that cross.
 */
export function withoutFaults(
	floor: Floor,
	laid: readonly LaidLoop[],
): { features: readonly LoopFeature[]; leftOut: readonly LeftOut[] } {
	const leftOut: LeftOut[] = [];
	let kept = laid;
	for (;;) {
		const features = namedByRooms(kept);
		const findings = findingsAbout(floor, features);
		const about = (id: string): AuditFinding[] => findings.filter(({ subjects }) => subjects.includes(id));
		const worst = features
			.map(({ id }, index) => ({ index, faults: about(id) }))
			.sort((a, b) => b.faults.length - a.faults.length)[0];
		if (!worst || worst.faults.length === 0)
			return {
				features: featuresOf(kept),
				leftOut: [...leftOut, ...findings.map((finding) => ({ rooms: [], notices: [say.ruleBroken(finding)] }))],
			};
		const { rooms } = kept[worst.index]!;
		leftOut.push({ rooms, notices: rooms.map((room) => say.leftOut(room, worst.faults[0]!)) });
		kept = kept.filter((_, i) => i !== worst.index);
	}
}
