import type { System } from "@oxturn/floor";
import type { Point, Region } from "@oxturn/geometry";
import type { ClearanceRules } from "../tails/clearance.ts";
import { beside, type Lane } from "../tails/lanes.ts";
import { EASE, type Track } from "../tails/tracks.ts";
import type { DoorLanes } from "./exitLanes.ts";
import type { Families, Family } from "./families.ts";
import type { Passage } from "./passages.ts";
import type { ShortCut } from "./shortCuts.ts";
import type { Space } from "./spaces.ts";
import type { Door, Turns } from "./turns.ts";

/** How closely the tails of a room are laid. */
export interface Manner {
	/** Of a fan's slants against its lanes, radians. */
	readonly slant: number;
	/** How far a fan's pipes lie apart on the slants: 0 as close as may be, 1 as far as beyond them. */
	readonly spreading: number;
	/** How much farther from walls than need be the nearest tail lies, in bend radii. */
	readonly standOff: number;
	/** Whether tails that follow a near wall beside the ports, or those of a wide bundle, fan out in front of these. */
	readonly fansAside: boolean;
}

/** What is to be laid in one room. */
export interface LayTurnsOptions {
	readonly space: Space;
	/** The doorway that the pipes come in by; undefined at the manifold. */
	readonly passage: Passage | undefined;
	/** From the wall to the manifold's ports, mm; negative where they lie in the wall. */
	readonly manifoldDepth: number;
	readonly doors: readonly Door[];
	readonly turns: Turns;
	/** All pipes that come in, from left to right. */
	readonly lanes: readonly Lane[];
	/** Loops of the space itself, a slot each, from left to right. */
	readonly own: readonly number[];
	readonly manner: Manner;
	/** Doors whose pipes are packed to the jamb that they come to last. */
	readonly farJambs: ReadonlySet<number>;
	/** Whether bundles too wide for the apron may spread in front of the ports. */
	readonly mayFanDeep: boolean;
	/** Whether tails close up to the walls as far as they may. */
	readonly isTight: boolean;
	/** Gives up when more pipes than this do not fit. */
	readonly mostFailed: number;
	readonly doorLanes: DoorLanes;
	readonly system: System;
	readonly rules: ClearanceRules;
}

/** From the wall to the nearest pipe beyond the bend, mm. */
export const SLACK = 2;
/** As near to walls as they may, the nearest tail lies this far from them, in bend radii. */
const TIGHT = 0.45;
/** Lanes that shift less than this keep their line, mm. */
export const NO_SHIFT = 0.5;
/** Walls to the side of the ports matter to a fan this far in front of where its pipes come in, mm. */
export const IN_FRONT = 250;
/** So much floor is left at the least between pipes on the slants of a fan, mm. */
const BETWEEN_SLANTS = 3;

/** Measures of the room that all of its pipes share. */
export interface Frame {
	/** Where the first pipe comes in to the room, and the way it goes. */
	readonly entry: Point;
	readonly axis: Point;
	/** From a pipe's start to where it comes in, mm. */
	readonly reachIn: number;
	/** From the wall to the nearest tail, mm. */
	readonly nearest: number;
	/** How much nearer it lies from the first corner on, mm. */
	readonly closer: number;
}

export function frameOf({ passage, manifoldDepth, lanes, manner, isTight, doorLanes, system }: LayTurnsOptions): Frame {
	const { at, axis } = lanes[0]!;
	const reachIn = passage ? passage.halfDepth : -manifoldDepth;
	const { minBendRadius } = system.pipe;
	const nearest = (EASE + manner.standOff) * minBendRadius + SLACK + (passage ? 0 : Math.max(0, manifoldDepth));
	const closer = isTight
		? Math.max(0, EASE * minBendRadius - Math.max(TIGHT * minBendRadius, doorLanes.leastMargin))
		: 0;
	return { entry: beside(at, axis, passage ? reachIn : 0, 0), axis, reachIn, nearest, closer };
}

/** How far ahead of their start so many pipes that turn off to a side are out of the way of what shifts there, mm. */
export const outOfTheWay = (turning: number, { reachIn, nearest }: Frame, pitch: number): number =>
	turning > 0 ? nearest + (turning - 1) * pitch + reachIn : Math.max(0, reachIn) + SLACK;

/** How close to each other the pipes of a fan may lie on its slants, centre to centre, mm. */
export const closestOnSlants = ({ pipe }: System): number => pipe.outerDiameter + BETWEEN_SLANTS;

/** One pipe that follows a wall. */
export interface PipeToLay {
	readonly family: Family;
	/** Counted from the leftmost that comes in. */
	readonly index: number;
	/** The lane by which it leaves, `reachOut` mm outside the room. */
	readonly exit: Lane;
	readonly reachOut: number;
}

/** How pipes are laid across one room. */
export interface Laying {
	readonly options: LayTurnsOptions;
	readonly rim: Track;
	readonly frame: Frame;
	readonly families: Families;
	readonly exits: readonly (readonly Lane[])[];
	/** The lane by which each pipe comes in. */
	readonly laneOf: (index: number) => Lane;
	/** The room, shrunk by the distance of the nearest tail. */
	readonly inside: readonly Region[];
	/** What short cuts that tails take leave of it. */
	readonly rests: ReadonlyMap<ShortCut, FollowedFloor>;
}

/** Floor whose wall tails follow. */
export interface FollowedFloor {
	readonly region: Region;
	readonly rim: Track;
	/** Shrunk by the distance of the nearest tail. */
	readonly inside: readonly Region[];
}
