import type { PatternName, Room, System } from "@oxturn/floor";
import type { Path, Region, Ring } from "@oxturn/geometry";
import type { Nook } from "../field/nooks.ts";
import type { WallWays } from "../tails/alongWall.ts";
import type { Entrance } from "../tails/apron.ts";
import type { Berth } from "../tails/berth.ts";
import type { Bundle } from "../tails/bundles.ts";
import type { ClearanceRules } from "../tails/clearance.ts";
import type { TrackSource } from "../tails/tracks.ts";
import type { WallPlaces } from "../zones/entries.ts";
import type { BesideWays } from "./closeTails.ts";
import type { RoutedLoop } from "./routeZones.ts";

/** One room to be served through one entrance. */
interface RoomAtEntrance {
	readonly room: Room;
	/** Room less keep-outs: the piece that its entrance leads into. */
	readonly floor: Region;
	/** The same between its walls, passing tails or not. */
	readonly walls: Region;
	readonly entrance: Entrance;
	readonly system: System;
	readonly pattern: PatternName;
	readonly rules: ClearanceRules;
	/** Pipes that are there already. */
	readonly others: readonly Path[];
	/** Where its one loop goes on to; nowhere when it is left out. */
	readonly onward?: Onward | undefined;
	/** Whether time is up, so that the likeliest will have to do. */
	readonly expired: () => boolean;
}

/** How a room is to be routed. */
export interface RoomOptions extends RoomAtEntrance {
	/** Loops to lay; as many as are needed when it is left out. */
	readonly count?: number;
	/** Loops that its manifold takes; as many as one may like when it is left out. */
	readonly places?: number;
	/** Factors by which the spacing may open to stay within the loop length, before another loop is taken. */
	readonly stretches: readonly number[];
	/** How many rules a set of loops breaks. */
	readonly faults: (loops: readonly RoutedLoop[]) => number;
	/** Called between attempts; throws to stop. */
	readonly pulse: () => void;
}

/** The spacing may open this far to stay within the loop length, before another loop is taken. */
export const STRETCHES: readonly number[] = [1.04, 1.08];

/** And this far for want of ports, or of pipes through a doorway: rather a little less heat than none. */
export const MOST_OPENED = 1.5;

/** For loops within the limit, for want of ports, for a pipe that can return beside its runs, or for long runs. */
export type WidenedFor = "length" | "ports" | "returns" | "runs";

/** What came of it. */
export interface RoutedRoom {
	readonly loops: readonly RoutedLoop[];
	readonly bundles: readonly Bundle[];
	/** Centre to centre as laid, mm. */
	readonly spacing: number;
	/** Why that is wider than wanted, where it is. */
	readonly widenedFor: WidenedFor;
	/** Zones that no loop could be laid to. */
	readonly missing: number;
	/** Loops over the limit. */
	readonly tooLong: number;
	/** How many of them are left out, since measuring does not make up for it, and how long they would be, m. */
	readonly leftOut: number;
	readonly longest: number;
	/** Share of the floor that stays farther than one spacing from a pipe. */
	readonly cold: number;
	/** Rules that the loops break. */
	readonly broken: number;
}

/** A room while its loops are laid at one spacing. */
export interface RoomSetting extends RoomAtEntrance {
	/** Centre to centre in the field, mm: the room's, or a little wider to stay within the loop length. */
	readonly spacing: number;
	/** What tails follow: the same for every way of cutting the room. */
	readonly tracks: TrackSource;
	readonly wallWays: WallWays;
	readonly besideWays: BesideWays;
	/** Where zones come to the wall is looked for from the manifold on. */
	readonly wall: WallPlaces;
	/** Parts of the floor too narrow for zones that a field may go on into: all of the room's, or those of one zone. */
	readonly nooks: readonly Nook[];
	/** What pipes beside others keep out of. */
	readonly berth: Berth;
	/** Counts what is dear, in tries to join a field. */
	readonly spend: (effort: number) => void;
	/** Whether so much of it has been made, or time is up, that the dearest ways to a zone are left out. */
	readonly isSparing: () => boolean;
}

/** Floor beyond the room that its one loop heats too. */
export interface Onward {
	/** Pipe that it takes, about, mm. */
	readonly length: number;
	/** A field's outline, led round that floor as well: the ways in which it can be, the best first. */
	readonly rings: (ring: Ring, others: readonly Path[]) => readonly Ring[];
}
