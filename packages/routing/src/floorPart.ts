import type { Channel, Floor, Notice, Room } from "@oxturn/floor";
import type { RouteMemory } from "./memory.ts";
import type { RouteOptions } from "./types.ts";
import type { LaidLoop } from "./withoutFaults.ts";

/** What a part of the floor gets: loops in the order of their ports, in the document's own frame. */
export interface FloorPart {
	readonly loops: readonly LaidLoop[];
	readonly channels: readonly Omit<Channel, "id">[];
	readonly notices: readonly Notice[];
	/** Rules that its loops break, judged by themselves. */
	readonly broken: number;
}

/** What the parts of a floor have in common. */
export interface PartSetting {
	readonly floor: Floor;
	readonly options: RouteOptions;
	readonly memory: RouteMemory;
	readonly pulse: (room: Room) => void;
	readonly expired: () => boolean;
}

/** What is not to be tried again: room ids. */
export interface Without {
	/** Rooms that have been found to get no loop that keeps the rules. */
	readonly withoutLoops: ReadonlySet<string>;
	/** Rooms that share no loop, since one that they shared broke a rule. */
	readonly apart: ReadonlySet<string>;
}
