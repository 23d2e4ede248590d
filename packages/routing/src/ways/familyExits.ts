import type { Lane } from "../tails/lanes.ts";
import { lanesFrom, wallLanes } from "./exitLanes.ts";
import { type Family, fromWall } from "./families.ts";
import type { Frame, LayTurnsOptions } from "./laying.ts";

/** Lanes in a doorway to which tails go over the room: as near to others of the family, or to where they come from, as can be. */
function lanesOver({ doors, doorLanes }: LayTurnsOptions, family: Family, door: number): Lane[] {
	const { passage, pipes } = doors[door]!;
	const isAtLow = family.doors.length > 1 ? door === family.doors.at(-1) : family.crossing?.wall === "right";
	return lanesFrom(passage, pipes, isAtLow ? passage.low : passage.high, doorLanes);
}

/** Lanes in the doorways to which families come along a wall. */
export function exitsAlongWalls(options: LayTurnsOptions, families: readonly Family[], { nearest }: Frame): Lane[][] {
	const { doors, doorLanes, farJambs } = options;
	const exits: Lane[][] = doors.map(() => []);
	for (const family of families) {
		if (!family.crossing) continue;
		if (family.crossing.isOver) {
			for (const door of family.doors) exits[door] = lanesOver(options, family, door);
			continue;
		}
		let rank = 0;
		for (const door of fromWall(family)) {
			const { passage, pipes } = doors[door]!;
			exits[door] = wallLanes(
				{
					space: options.space.region,
					passage,
					count: pipes,
					wall: family.crossing.wall,
					wallDistance: nearest + rank * doorLanes.pitch,
					minBendRadius: options.system.pipe.minBendRadius,
					isFarJamb: farJambs.has(door),
				},
				doorLanes,
			);
			rank += pipes;
		}
	}
	return exits;
}
