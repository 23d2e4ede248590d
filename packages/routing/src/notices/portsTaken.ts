import type { Floor, Manifold, Room } from "@oxturn/floor";
import { divideFloor } from "../ways/divideFloor.ts";

/**
 * The manifold that would serve a room if it had ports enough; undefined where more ports would not bring any pipe there.
 */
export function portsTaken(floor: Floor, room: Room): Manifold | undefined {
	if (floor.manifolds.every(({ ports }) => ports === undefined)) return undefined;
	const manifolds = floor.manifolds.map((manifold): Manifold => ({ ...manifold, ports: undefined }));
	const { spaces, territories } = divideFloor({ ...floor, manifolds });
	const found = territories.find((territory) => [...territory.spaces].some((space) => spaces[space]!.room === room));
	return floor.manifolds.find(({ id, ports }) => id === found?.manifold.id && ports !== undefined);
}
