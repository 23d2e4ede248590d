import type { Floor, Room } from "@oxturn/floor";
import { divideFloor } from "../ways/divideFloor.ts";
import type { KeepoutInTheWay } from "./keepoutInFront.ts";

/**
 * The keep-out without which a manifold would reach a room, and that manifold; undefined where no single one bars the
 * way.
 */
export function keepoutBetween(floor: Floor, room: Room): KeepoutInTheWay | undefined {
	for (const keepout of floor.keepouts) {
		const without = { ...floor, keepouts: floor.keepouts.filter((other) => other !== keepout) };
		const { spaces, territories } = divideFloor(without);
		const reaching = territories.find((territory) =>
			[...territory.spaces].some((space) => spaces[space]!.room === room),
		);
		if (reaching) return { manifold: reaching.manifold, keepout };
	}
	return undefined;
}
