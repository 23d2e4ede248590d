import { dot, type Point, type Region, scale, subtract } from "@oxturn/geometry";
import { beside, type Lane, rightOf, type Side } from "../tails/lanes.ts";
import { depthAhead } from "./depthAhead.ts";
import { laneThrough, type Passage } from "./passages.ts";

/** How pipes lie side by side in doorways, mm. */
export interface DoorLanes {
	/** Centre to centre. */
	readonly pitch: number;
	/** From a jamb to the nearest centreline, where there is room and where there is not. */
	readonly margin: number;
	readonly leastMargin: number;
}

/** Lanes of a door's pipes, the first of them as near to `start` as there is room for, to the right of its middle. */
export function lanesFrom(
	passage: Passage,
	count: number,
	start: number,
	{ pitch, margin: wanted, leastMargin }: DoorLanes,
): Lane[] {
	const width = (count - 1) * pitch;
	const spare = passage.high - passage.low - width;
	const margin = Math.max(leastMargin, Math.min(wanted, spare / 2));
	const first = Math.max(passage.low + margin, Math.min(start, passage.high - margin - width));
	return Array.from({ length: count }, (_, i) => laneThrough(passage, first + i * pitch));
}

/** Where a pipe that follows the wall beside a door comes towards it, to the right of the door's middle. */
function trackBeside(
	space: Region,
	{ middle, axis, halfDepth }: Passage,
	wall: Side,
	wallDistance: number,
	minBendRadius: number,
): number {
	const from = beside(middle, axis, -(halfDepth + wallDistance + minBendRadius), 0);
	const across = wall === "left" ? scale(rightOf(axis), -1) : rightOf(axis);
	const track = depthAhead(space, from, across) - wallDistance;
	return wall === "left" ? -track : track;
}

export interface WallLanesOptions {
	readonly space: Region;
	readonly passage: Passage;
	readonly count: number;
	/** The side on which the wall lies that the pipes follow. */
	readonly wall: Side;
	/** From that wall to the nearest of them, mm. */
	readonly wallDistance: number;
	readonly minBendRadius: number;
	/** Packed to the jamb that the pipes come to last instead of first. */
	readonly isFarJamb: boolean;
}

/** Lanes at the jamb that the pipes come to first, or farther in where their wall leads them past it. */
export function wallLanes(options: WallLanesOptions, doorLanes: DoorLanes): Lane[] {
	const { passage, count, wall } = options;
	const width = (count - 1) * doorLanes.pitch;
	if (options.isFarJamb) return lanesFrom(passage, count, wall === "left" ? passage.high : passage.low, doorLanes);
	const track = trackBeside(options.space, passage, wall, options.wallDistance, options.minBendRadius);
	const start = wall === "left" ? Math.max(track, passage.low) : Math.min(track, passage.high) - width;
	return lanesFrom(passage, count, start, doorLanes);
}

/** Lanes of a door to the side, as near to the entrance as pipes can turn. */
export function sideLanes(
	passage: Passage,
	side: Side,
	count: number,
	from: { readonly entry: Point; readonly axis: Point; readonly nearest: number },
	doorLanes: DoorLanes,
): Lane[] {
	const width = (count - 1) * doorLanes.pitch;
	const packed = lanesFrom(passage, count, side === "left" ? passage.low : passage.high - width, doorLanes);
	const first = side === "left" ? packed[0]! : packed.at(-1)!;
	const short = from.nearest - dot(subtract(first.at, from.entry), from.axis);
	if (short <= 0) return packed;
	const start = dot(subtract(packed[0]!.at, passage.middle), rightOf(passage.axis));
	return lanesFrom(passage, count, side === "left" ? start + short : start - short, doorLanes);
}
