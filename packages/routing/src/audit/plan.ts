import type { Doorway, Floor, Keepout, Manifold, Room } from "@oxturn/floor";
import { type Outline, outlineOf } from "./outline.ts";

/** A room, a doorway or a keep-out with its edges prepared. */
export interface Space<Feature extends Room | Doorway | Keepout> {
	readonly feature: Feature;
	readonly outline: Outline;
}

/** The floor as the audit asks about it. */
export interface Plan {
	readonly floor: Floor;
	readonly rooms: readonly Space<Room>[];
	readonly doorways: readonly Space<Doorway>[];
	readonly keepouts: readonly Space<Keepout>[];
}

/** Prepares a floor's outlines. */
export function planOf(floor: Floor): Plan {
	const prepare = <Feature extends Room | Doorway | Keepout>(feature: Feature): Space<Feature> => ({
		feature,
		outline: outlineOf(feature.region),
	});
	return {
		floor,
		rooms: floor.rooms.map(prepare),
		doorways: floor.doorways.map(prepare),
		keepouts: floor.keepouts.map(prepare),
	};
}

/** Whether a loop or a notice that says `key` means this room: ids and names both serve. */
export const isNamed = (room: Room, key: unknown): boolean =>
	key === room.id || (room.name !== "" && key === room.name);

/** Whether a point lies at most `reach` mm from some manifold. */
export function isNearManifold(manifolds: readonly Manifold[], x: number, y: number, reach: number): boolean {
	for (const { position } of manifolds)
		if ((position[0] - x) ** 2 + (position[1] - y) ** 2 <= reach * reach) return true;
	return false;
}

/** A place as messages name it. */
export const placeText = (x: number, y: number): string => `(${x.toFixed(0)}, ${y.toFixed(0)}) mm`;
