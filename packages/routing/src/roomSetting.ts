import type { PatternName, Room, System } from "@oxturn/floor";
import type { Path, Region, Ring } from "@oxturn/geometry";
import type { WallWays } from "./tails/alongWall.ts";
import type { Entrance } from "./tails/apron.ts";
import type { ClearanceRules } from "./tails/clearance.ts";
import type { TrackSource } from "./tails/tracks.ts";
import type { WallPlaces } from "./zones/entries.ts";

/** One room to be served through one entrance. */
export interface RoomSetting {
	readonly room: Room;
	/** Room less keep-outs: the piece that its entrance leads into. */
	readonly floor: Region;
	/** The same between its walls, passing tails or not. */
	readonly walls: Region;
	readonly entrance: Entrance;
	readonly system: System;
	readonly pattern: PatternName;
	/** Pipes that are there already. */
	readonly others: readonly Path[];
	/** Centre to centre in the field, mm: the room's, or a little wider to stay within the loop length. */
	readonly spacing: number;
	readonly rules: ClearanceRules;
	/** What tails follow: the same for every way of cutting the room. */
	readonly tracks: TrackSource;
	readonly wallWays: WallWays;
	/** Where zones come to the wall is looked for from the manifold on. */
	readonly wall: WallPlaces;
	/** Whether time is up, so that the likeliest will have to do. */
	readonly expired: () => boolean;
	/** Where its loops go on to; nowhere when it is left out. */
	readonly onward?: Onward | undefined;
}

/** Floor beyond the room that its one loop heats too. */
export interface Onward {
	/** Pipe that it takes, about, mm. */
	readonly length: number;
	/** A field's outline, led round that floor as well: the ways in which it can be, the best first. */
	readonly rings: (ring: Ring, others: readonly Path[]) => readonly Ring[];
}
