import type { System } from "@oxturn/floor";
import type { Path, Point } from "@oxturn/geometry";
import type { Entrance } from "../tails/apron.ts";
import type { ClearanceRules } from "../tails/clearance.ts";
import type { Lane } from "../tails/lanes.ts";
import type { BestTurns } from "./bestTurns.ts";
import type { DoorLanes } from "./exitLanes.ts";
import type { Passage } from "./passages.ts";
import type { Space } from "./spaces.ts";
import type { Branch } from "./tree.ts";
import type { Turns } from "./turns.ts";

/*
 * What tails through doorways are laid by, and what comes of it.
 */

/** How many loops a space has of its own: where tails cut it, one number a slot, from left to right. */
export type OwnLoops = readonly number[];

/** Whether tails may leave a wall opposite their door and go straight over a room. */
export interface OverRooms {
	readonly isAllowed: boolean;
	/** And whether they may take short cuts over it, and turn off in bundles too wide for the apron. */
	readonly hasShortCuts: boolean;
	/** What it costs to cut a heated room: its floor may take another loop for every piece, m of pipe. */
	readonly splitPrice: number;
}

export interface LayWaysOptions {
	readonly system: System;
	readonly spaces: readonly Space[];
	readonly loops: readonly OwnLoops[];
	/** By space: which of the `wayVariants` its tails take; the first where it is not named. */
	readonly variants: ReadonlyMap<number, number>;
	/** Spaces that tails may cut in two only where there is no other way. */
	readonly whole: ReadonlySet<number>;
	readonly over: OverRooms;
	/** What has been laid for the same pipes before: most rooms stay as they are from plan to plan. */
	readonly laidBefore: Map<string, BestTurns>;
	/** Whether nothing is laid on once a tail has no place: it is only asked whether all have one. */
	readonly allOrNone: boolean;
	readonly rules: ClearanceRules;
	readonly doorLanes: DoorLanes;
	/** From the wall to the manifold's ports, mm; negative where they lie in the wall. */
	readonly manifoldDepth: number;
}

/** A pipe on its way: laid from its port to the start of `lane`. */
export interface PipeSoFar {
	/** Number of its pair of ports. */
	readonly port: number;
	readonly path: Path;
	readonly lane: Lane;
}

/** What a space gets: the ends of its own loops' tails, and the tails that pass through it. */
export interface LaidSpace {
	readonly space: number;
	readonly passage: Passage | undefined;
	/** Where its own loops begin: one place, or several where tails cut it. */
	readonly slots: readonly Slot[];
	readonly crossing: readonly CrossingBundle[];
	/** How these turn in the space. */
	readonly turns: Turns;
}

/** A place between passing tails for the space's own loops. */
export interface Slot {
	/** Where it opens into the space. */
	readonly at: Point;
	/** Two a loop, from left to right; none where the space has no loop there. */
	readonly pipes: readonly PipeSoFar[];
	/** The tails that pass on its left and on its right, where any do. */
	readonly between: Entrance["between"];
	/** A place on its floor, where that lies behind tails that go over the space. */
	readonly inside: Point | undefined;
	/** The way of its pipes through the space to there; none where they begin as they come in. */
	readonly led: readonly Path[];
	/** From the ends of its pipes on to where it opens, mm. */
	readonly depth: number;
}

/** Tails that cross one room side by side. */
export interface CrossingBundle {
	readonly passage: Passage;
	readonly paths: readonly Path[];
}

export interface LaidWays {
	readonly spaces: readonly LaidSpace[];
	/** Doorways that could not take the tails of what lies beyond. */
	readonly blocked: readonly { readonly branch: Branch; readonly pipes: number; readonly fit: number }[];
}

export interface WayVariant {
	/** How many of the likeliest orders of turns that fit are passed over. */
	readonly skips: number;
	/** Whether tails come in by the far jamb of the space's door. */
	readonly isFarJamb: boolean;
	/** Whether tails through the space close up to its walls: in the order that has a place for all, or in one looked for anew. */
	readonly closeUp: "no" | "as they are" | "anew";
}

/** Ways that tails can take into a space and through it, the likeliest first. */
export const wayVariants: readonly WayVariant[] = [
	{ skips: 0, isFarJamb: false, closeUp: "no" },
	{ skips: 0, isFarJamb: true, closeUp: "no" },
	{ skips: 1, isFarJamb: false, closeUp: "no" },
	{ skips: 2, isFarJamb: false, closeUp: "no" },
	{ skips: 3, isFarJamb: false, closeUp: "no" },
	{ skips: 0, isFarJamb: false, closeUp: "as they are" },
	{ skips: 0, isFarJamb: false, closeUp: "anew" },
];
