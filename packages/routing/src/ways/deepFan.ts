import { distance } from "@oxturn/geometry";
import { beside, type Lane, type Side } from "../tails/lanes.ts";
import { depthAhead } from "./depthAhead.ts";
import { type Families, followers } from "./families.ts";
import { fanOut } from "./fan.ts";
import { closestOnSlants, type Frame, type LayTurnsOptions, outOfTheWay } from "./laying.ts";

/** Tails lie at their pitch so far before the apron ends, mm. */
const BEFORE_END = 20;
/** So much floor is left in front of the bundle for the room's own loops, mm. */
const LEFT_AHEAD = 500;

/**
 * Ports lie closer together than tails may beyond the apron. In a wide bundle that follows a wall the outermost turn off
 * so far ahead that they would leave the apron side by side as they come from the ports, so these spread away from the
 * wall before. Gives their lanes by their index.
 */
export function deepFan(options: LayTurnsOptions, families: Families, frame: Frame): ReadonlyMap<number, Lane> {
	const { lanes, passage } = options;
	if (passage) return new Map();
	return new Map(
		(["left", "right"] as const).flatMap((side) => {
			const count = followers(families, side);
			const first = side === "left" ? 0 : lanes.length - count;
			const bent = fanOf(options, side, lanes.slice(first, first + count), frame);
			return bent.flatMap((lane, i) => (lane.bends.length > 0 ? [[first + i, lane] as const] : []));
		}),
	);
}

/** The lanes of the pipes that follow the wall on a side, from left to right, spread as far as they have to be. */
function fanOf(options: LayTurnsOptions, side: Side, lanes: readonly Lane[], frame: Frame): readonly Lane[] {
	const { space, doorLanes, system, rules, manner } = options;
	const { reachIn, nearest, entry, axis } = frame;
	const fromWall = side === "left" ? lanes : lanes.toReversed();
	const end = rules.apronReach - BEFORE_END;
	const depthOf = (rank: number): number => nearest + rank * doorLanes.pitch;
	const kept = fromWall.findIndex(
		({ at }, rank) => distance(beside(at, axis, reachIn + depthOf(rank), 0), rules.manifold) > end,
	);
	if (kept < 0 || depthOf(lanes.length - 1) + LEFT_AHEAD > depthAhead(space.region, entry, axis)) return [];
	let shift = 0;
	const shifts = fromWall.map(({ at }, rank) => {
		if (rank > kept) shift += doorLanes.pitch - distance(at, fromWall[rank - 1]!.at);
		return side === "left" ? shift : -shift;
	});
	const fan = fanOut({
		lanes,
		shifts: side === "left" ? shifts : shifts.toReversed(),
		from: outOfTheWay(options.lanes.length - lanes.length, frame, doorLanes.pitch),
		apart: closestOnSlants(system),
		minBendRadius: system.pipe.minBendRadius,
		slant: manner.slant,
	});
	return fan.depth > end ? [] : fan.lanes;
}
