import type { Floor } from "@oxturn/floor";
import type { Region } from "@oxturn/geometry";
import { type Box, regionToPaper, type View } from "../paper.ts";

/** What a manifold's labels keep clear of, on paper. */
export interface Surroundings {
	readonly rooms: readonly Region[];
	readonly doorways: readonly Region[];
	/** How thick outer walls are shown, mm. */
	readonly wall: number;
	/** What other manifolds take up. */
	readonly taken: readonly Box[];
}

/** `wall`: how thick outer walls are shown, mm of floor. */
export function surroundingsOf(floor: Floor, view: View, wall: number, taken: readonly Box[]): Surroundings {
	return {
		rooms: floor.rooms.map((room) => regionToPaper(view, room.region)),
		doorways: floor.doorways.map((doorway) => regionToPaper(view, doorway.region)),
		wall: wall / view.scale,
		taken,
	};
}
