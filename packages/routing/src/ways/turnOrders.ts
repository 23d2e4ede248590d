import { distance, dot, nearestOnRing, type Point, type Region, subtract } from "@oxturn/geometry";
import { beside, rightOf } from "../tails/lanes.ts";
import { positionOf, trackOf } from "../tails/tracks.ts";
import { opposite } from "./crossRoom.ts";
import { depthAhead } from "./depthAhead.ts";
import { laneThrough, type Passage } from "./passages.ts";
import { type Door, isStraightOn, sideOf, slotsOf, type Turns, type Way } from "./turns.ts";

export interface TurnsOptions {
	readonly space: Region;
	/** In the middle of the pipes that come in, and the way they go. */
	readonly at: Point;
	readonly axis: Point;
	readonly doors: readonly Door[];
	/** Whether tails may leave a wall opposite their door and go straight over the room. */
	readonly mayGoOver: boolean;
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
	readonly groups: readonly { readonly way: Way; readonly doors: readonly Placed[] }[];
	/** mm */
	readonly length: number;
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
		}
	);
}

/** All ways to doors that are reached straight ahead. */
function partsAhead(doors: readonly Placed[], { at, axis, depth, ahead }: View): Part[] {
	if (doors.length === 0) return [{ groups: [], length: 0 }];
	const part = (left: readonly Placed[], on: readonly Placed[], right: readonly Placed[], turn: number): Part => ({
		groups: [
			{ way: "farLeft", doors: left },
			{ way: "direct", doors: on },
			{ way: "farRight", doors: right },
		],
		length:
			walk([...left, ...right], ({ along }) => depth + Math.abs(turn - along)) +
			walk(on, ({ passage }) => manhattan(passage.middle, at, axis)),
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

/** The orders of turns in parts from left to right that keep the tails from crossing. */
function* ordersOf(placed: readonly Placed[], view: View, mayGoOver: boolean): Generator<readonly Part[]> {
	const n = placed.length;
	const over = (side: "left" | "right", from: number, to: number): Part | undefined =>
		from < to && !mayGoOver ? undefined : partOver(side, placed.slice(from, to), view);
	for (let i = 0; i <= n; i++)
		for (let a = i; a <= n; a++) {
			const overLeft = over("left", i, a);
			if (!overLeft) break;
			for (let b = a; b <= n; b++) {
				const middles = partsAhead(placed.slice(a, b), view);
				for (let j = b; j <= n; j++) {
					const overRight = over("right", b, j);
					if (!overRight) break;
					const [left, right] = [placed.slice(0, i), placed.slice(j)];
					const first: Part = { groups: [{ way: "left", doors: left }], length: walk(left, ({ along }) => along) };
					const length = walk(right, ({ along }) => view.total - along);
					const last: Part = { groups: [{ way: "right", doors: right }], length };
					for (const middle of middles) yield [first, overLeft, middle, overRight, last];
				}
			}
		}
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
	const view: View = { at, axis, depth, total, ahead: leftTo(beside(at, axis, depth, 0)) };
	const turnsIn = (parts: readonly Part[]): Turns => {
		const groups = parts.flatMap((part) =>
			part.groups.map(({ way, doors }) => ({ way, doors: doors.map(({ index }) => index) })),
		);
		const length = parts.reduce((sum, part) => sum + part.length, 0);
		const cuts = slotsOf({ groups, cost: 0 }).length - 1;
		return { groups, cost: length / 1000 + cuts * splitPrice };
	};
	const found = [...ordersOf(placeDoors(options, leftTo), view, options.mayGoOver)].map(turnsIn);
	return found.sort((a, b) => a.cost - b.cost);
}
