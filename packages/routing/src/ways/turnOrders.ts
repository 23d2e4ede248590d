import { distance, dot, nearestOnRing, type Point, type Region, subtract } from "@oxturn/geometry";
import { beside, rightOf } from "../tails/lanes.ts";
import { positionOf, trackOf } from "../tails/tracks.ts";
import { opposite } from "./crossRoom.ts";
import { depthAhead } from "./depthAhead.ts";
import { laneThrough, type Passage } from "./passages.ts";
import { type ShortCut, shortCutsOf } from "./shortCuts.ts";
import { type Door, isStraightOn, sideOf, slotsOf, type Turns, type Way } from "./turns.ts";

export interface TurnsOptions {
	readonly space: Region;
	/** In the middle of the pipes that come in, and the way they go. */
	readonly at: Point;
	readonly axis: Point;
	readonly doors: readonly Door[];
	/** Whether tails may leave a wall opposite their door and go straight over the room. */
	readonly mayGoOver: boolean;
	/** And whether they may take short cuts. */
	readonly mayCut: boolean;
	/** What it costs to cut the room in two, m. */
	readonly splitPrice: number;
}

interface Placed extends Door {
	readonly index: number;
	/** Along the wall on the left, mm. */
	readonly along: number;
	/** The place opposite: along the wall on the left, and how far straight over, mm. Columns are no wall to follow. */
	readonly opposite: { readonly along: number; readonly over: number } | undefined;
}

/** A short cut, and where its ends lie along the wall on its side, mm. */
interface PlacedCut {
	readonly shortCut: ShortCut;
	readonly from: number;
	readonly to: number;
	readonly length: number;
}

const ON_WALL = 1;
/** It is not worth while to go over for less, mm. */
const LEAST_SAVING = 1500;
/** Doors that are reached over the room together lie no farther apart, mm. */
const OVER_APART = 1500;

const isInView = (passage: Passage, at: Point, axis: Point): boolean =>
	isStraightOn(passage, at, axis) || sideOf(passage, at, axis) !== undefined;

const manhattan = (p: Point, at: Point, axis: Point): number =>
	Math.abs(dot(subtract(p, at), axis)) + Math.abs(dot(subtract(p, at), rightOf(axis)));

/** Whether the way over to a door from the wall on a side is shorter than along it. */
function isOver({ along, opposite }: Placed, side: "left" | "right"): boolean {
	if (!opposite) return false;
	return (side === "left" ? along - opposite.along : opposite.along - along) - opposite.over > LEAST_SAVING;
}

/** Doors that are reached over a room, grouped where they lie side by side; undefined where one is better reached along the wall. */
function overGroups(doors: readonly Placed[], side: "left" | "right"): (readonly Placed[])[] | undefined {
	if (!doors.every((door) => isOver(door, side))) return undefined;
	const groups: Placed[][] = [];
	for (const [i, door] of doors.entries()) {
		const before = doors[i - 1]?.opposite;
		const apart = before ? before.along - door.opposite!.along : Infinity;
		if (apart < 0) return undefined;
		if (apart < OVER_APART) groups.at(-1)!.push(door);
		else groups.push([door]);
	}
	return groups;
}

/** A stretch of the doors, in order of the wall, with the pipe that leads to them. */
interface Part {
	readonly groups: readonly { readonly way: Way; readonly doors: readonly Placed[]; readonly shortCut?: ShortCut }[];
	/** mm */
	readonly length: number;
	/** Where a short cut comes to the wall, along that on its side, mm; 0 without one. */
	readonly reach: number;
}

/** The room as who comes in sees it. */
interface View {
	readonly at: Point;
	readonly axis: Point;
	/** How far it is across straight ahead, and where that comes to the wall, along it on the left, mm. */
	readonly depth: number;
	readonly ahead: number;
	/** Length of all the wall, mm. */
	readonly total: number;
	readonly shortCuts: readonly PlacedCut[];
}

const walk = (list: readonly Placed[], along: (door: Placed) => number): number =>
	list.reduce((sum, door) => sum + door.pipes * along(door), 0);

/** Over the room from the wall on a side; undefined where one of the doors is better reached along it. */
function partOver(side: "left" | "right", doors: readonly Placed[], { total }: View): Part | undefined {
	const groups = overGroups(doors, side);
	const along = ({ opposite }: Placed): number => (side === "left" ? opposite!.along : total - opposite!.along);
	const way = side === "left" ? "overLeft" : "overRight";
	return (
		groups && {
			groups: groups.map((group) => ({ way, doors: group })),
			length: walk(doors, (door) => along(door) + door.opposite!.over),
			reach: 0,
		}
	);
}

/**
 * By short cuts from the wall on a side: back along the wall where these end, or on along it. `before` and `after` are the
 * doors that come first and last along the wall on the left.
 */
function partsByCuts(
	side: "left" | "right",
	[before, doors, after]: readonly (readonly Placed[])[],
	{ total, shortCuts }: View,
): Part[] {
	const along = (door: Placed): number => (side === "left" ? door.along : total - door.along);
	const nearer = (side === "left" ? before!.at(-1) : after![0]) ?? undefined;
	const farther = (side === "left" ? after![0] : before!.at(-1)) ?? undefined;
	return shortCuts.flatMap(({ shortCut, from, to, length }): Part[] => {
		if (shortCut.side !== side || (nearer && along(nearer) >= to)) return [];
		const isBack = (door: Placed): boolean => along(door) < to;
		const [back, on] = [doors!.filter(isBack), doors!.filter((door) => !isBack(door))];
		const saved = (door: Placed): number => along(door) - (from + length + Math.abs(to - along(door)));
		if (!doors!.every((door) => along(door) > from && saved(door) > LEAST_SAVING)) return [];
		if (back.length > 0 && ((farther && isBack(farther)) || !shortCut.goesOn)) return [];
		const groups: Part["groups"] = [
			{ way: side === "left" ? "backLeft" : "backRight", doors: back, shortCut },
			{ way: side === "left" ? "onLeft" : "onRight", doors: on, shortCut },
		];
		return [
			{
				groups: (side === "left" ? groups : groups.toReversed()).filter((group) => group.doors.length > 0),
				length: walk(doors!, (door) => along(door) - saved(door)),
				reach: to,
			},
		];
	});
}

/** All ways over the room from the wall on a side to some of the doors: `from` to before `to`. */
function partsOver(
	side: "left" | "right",
	placed: readonly Placed[],
	[from, to]: readonly [from: number, to: number],
	view: View,
): Part[] {
	const doors = placed.slice(from, to);
	const over = partOver(side, doors, view);
	const byCuts = from < to ? partsByCuts(side, [placed.slice(0, from), doors, placed.slice(to)], view) : [];
	return [...(over ? [over] : []), ...byCuts];
}

/** All ways to doors that are reached straight ahead. */
function partsAhead(doors: readonly Placed[], { at, axis, depth, ahead }: View): Part[] {
	if (doors.length === 0) return [{ groups: [], length: 0, reach: 0 }];
	const part = (left: readonly Placed[], on: readonly Placed[], right: readonly Placed[], turn: number): Part => ({
		groups: [
			{ way: "farLeft", doors: left },
			{ way: "direct", doors: on },
			{ way: "farRight", doors: right },
		],
		length:
			walk([...left, ...right], ({ along }) => depth + Math.abs(turn - along)) +
			walk(on, ({ passage }) => manhattan(passage.middle, at, axis)),
		reach: 0,
	});
	const before = doors.filter(({ along }) => along <= ahead);
	const parts = [part(before, [], doors.slice(before.length), ahead)];
	if (doors.every(({ passage }) => isInView(passage, at, axis))) parts.push(part([], doors, [], 0));
	for (const [k, door] of doors.entries())
		if (doors.length > 1 && isStraightOn(door.passage, at, axis))
			parts.push(part(doors.slice(0, k), [door], doors.slice(k + 1), door.along));
	return parts;
}

/** The doors in the order of the wall from the left. */
function placeDoors({ space, doors }: TurnsOptions, leftTo: (p: Point) => number): Placed[] {
	const place = (door: Door, index: number): Placed => {
		const { passage } = door;
		const facing = opposite(space, laneThrough(passage, 0), passage.halfDepth);
		const isOuter = nearestOnRing(space.outer, facing).distance < ON_WALL;
		return {
			...door,
			index,
			along: leftTo(passage.middle),
			opposite: isOuter ? { along: leftTo(facing), over: distance(facing, passage.middle) } : undefined,
		};
	};
	return doors.map(place).sort((a, b) => a.along - b.along || a.index - b.index);
}

/** The doors on either side of three ways over a room and ahead, by how many come before each of these and after. */
type Split = readonly [i: number, a: number, b: number, j: number];

function* splitsOf(n: number): Generator<Split> {
	for (let i = 0; i <= n; i++)
		for (let a = i; a <= n; a++) for (let b = a; b <= n; b++) for (let j = b; j <= n; j++) yield [i, a, b, j];
}

/** Whether no short cut meets another, or what goes straight ahead. */
function areApart(overLeft: Part, middle: Part, overRight: Part, { ahead, total }: View): boolean {
	if (overLeft.reach + overRight.reach > total) return false;
	return middle.groups.length === 0 || (overLeft.reach <= ahead && overRight.reach <= total - ahead);
}

/** The orders of turns in parts from left to right that keep the tails from crossing. */
function* ordersOf(placed: readonly Placed[], view: View, mayGoOver: boolean): Generator<readonly Part[]> {
	const known = new Map<string, Part[]>();
	const over = (side: "left" | "right", from: number, to: number): Part[] => {
		const key = `${side} ${from} ${to}`;
		const found = known.get(key) ?? (from < to && !mayGoOver ? [] : partsOver(side, placed, [from, to], view));
		known.set(key, found);
		return found;
	};
	for (const [i, a, b, j] of splitsOf(placed.length)) {
		const [overLefts, overRights] = [over("left", i, a), over("right", b, j)];
		if (overLefts.length === 0 || overRights.length === 0) continue;
		const [left, right] = [placed.slice(0, i), placed.slice(j)];
		const first: Part = { groups: [{ way: "left", doors: left }], length: walk(left, ({ along }) => along), reach: 0 };
		const length = walk(right, ({ along }) => view.total - along);
		const last: Part = { groups: [{ way: "right", doors: right }], length, reach: 0 };
		for (const middle of partsAhead(placed.slice(a, b), view))
			for (const overLeft of overLefts)
				for (const overRight of overRights)
					if (areApart(overLeft, middle, overRight, view)) yield [first, overLeft, middle, overRight, last];
	}
}

/** The short cuts of a room, as who comes in sees them. */
function placeCuts(space: Region, leftTo: (p: Point) => number, total: number): PlacedCut[] {
	return shortCutsOf(space).flatMap((shortCut) => {
		const { side } = shortCut;
		const along = (p: Point): number => (side === "left" ? leftTo(p) : total - leftTo(p));
		const [from, to] = [along(shortCut.from), along(shortCut.to)];
		const length = distance(shortCut.from, shortCut.to);
		return to - from - length > LEAST_SAVING ? [{ shortCut, from, to, length }] : [];
	});
}

/** Every order of turns that keeps the tails from crossing, the cheapest first. */
export function turnsOf(options: TurnsOptions): Turns[] {
	const { space, at, axis, splitPrice } = options;
	const rim = trackOf(space.outer);
	const total = rim.length;
	const start = positionOf(rim, at);
	/** Distances along the wall on the left. The ring runs anticlockwise, so that way is backwards. */
	const leftTo = (p: Point): number => (start - positionOf(rim, p) + 2 * total) % total;
	const depth = depthAhead(space, at, axis);
	const shortCuts = options.mayCut ? placeCuts(space, leftTo, total) : [];
	const view: View = { at, axis, depth, total, ahead: leftTo(beside(at, axis, depth, 0)), shortCuts };
	const turnsIn = (parts: readonly Part[]): Turns => {
		const groups = parts.flatMap((part) =>
			part.groups.map((group) => ({ ...group, doors: group.doors.map(({ index }) => index) })),
		);
		const length = parts.reduce((sum, part) => sum + part.length, 0);
		const cuts = slotsOf({ groups, cost: 0 }).length - 1;
		return { groups, cost: length / 1000 + cuts * splitPrice };
	};
	const found = [...ordersOf(placeDoors(options, leftTo), view, options.mayGoOver)].map(turnsIn);
	return found.sort((a, b) => a.cost - b.cost);
}
