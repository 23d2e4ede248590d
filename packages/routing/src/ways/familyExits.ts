import type { Lane } from "../tails/lanes.ts";
import { lanesFrom, wallLanes } from "./exitLanes.ts";
import { type Family, fromWall } from "./families.ts";
import type { Frame, LayTurnsOptions } from "./laying.ts";

/** Lanes in the doorways to which tails go over the room: as near to each other, and to where they come from, as can be. */
function exitsOver({ doors, doorLanes }: LayTurnsOptions, family: Family, exits: Lane[][]): void {
	for (const [i, door] of family.doors.entries()) {
		const { passage, pipes } = doors[door]!;
		const isLast = i === family.doors.length - 1;
		const isAtLow = family.doors.length > 1 ? isLast : family.crossing?.wall === "right";
		exits[door] = lanesFrom(passage, pipes, isAtLow ? passage.low : passage.high, doorLanes);
	}
}

/** Lanes in the doorways to which families come along a wall. */
export function exitsAlongWalls(options: LayTurnsOptions, families: readonly Family[], { nearest }: Frame): Lane[][] {
	const { doors, doorLanes, farJambs } = options;
	const exits: Lane[][] = doors.map(() => []);
	for (const family of families) {
		if (!family.crossing) continue;
		if (family.crossing.isOver) {
			exitsOver(options, family, exits);
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
