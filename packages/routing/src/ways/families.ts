import { sum } from "../sum.ts";
import type { Side } from "../tails/lanes.ts";
import type { Crossing } from "./crossRoom.ts";
import { type Door, type Group, slotsOf, type Turns, type Way } from "./turns.ts";

/** Tails that cross a room in the same way. */
export interface Family extends Group {
	/** Undefined when they follow no wall. */
	readonly crossing: Crossing | undefined;
	/** Which of the pipes that come in is their first, and how many they are. */
	readonly from: number;
	readonly count: number;
}

/** Where own loops come in: their pipes are those from the first to before the second. */
export interface OwnPipes {
	readonly from: number;
	readonly to: number;
	/** The tails over the room behind which their floor lies. */
	readonly behind: Family | undefined;
}

export interface Families {
	/** From left to right. */
	readonly all: readonly Family[];
	/** The own loops, in one place, or in several where tails cut the room. */
	readonly own: readonly OwnPipes[];
}

/** Ways over the room, behind which some of its floor lies, by the side on which they leave it. */
const OVER: Readonly<Record<Side, readonly Way[]>> = {
	left: ["overLeft", "backLeft", "onLeft"],
	right: ["overRight", "backRight", "onRight"],
};

/** How tails come to their doors along walls; those that take a short cut from where it ends. */
const CROSSINGS: Readonly<Record<Way, Crossing | undefined>> = {
	left: { wall: "left", across: undefined, isOver: false },
	overLeft: { wall: "left", across: undefined, isOver: true },
	backLeft: { wall: "right", across: "left", isOver: false },
	onLeft: { wall: "left", across: undefined, isOver: false },
	farLeft: { wall: "right", across: "left", isOver: false },
	direct: undefined,
	farRight: { wall: "left", across: "right", isOver: false },
	onRight: { wall: "right", across: undefined, isOver: false },
	backRight: { wall: "left", across: "right", isOver: false },
	overRight: { wall: "right", across: undefined, isOver: true },
	right: { wall: "right", across: undefined, isOver: false },
};

/** Loops by slot: those that were counted for other slots are shared out evenly. */
function sharedOut(loops: readonly number[], slots: number): readonly number[] {
	if (loops.length === slots) return loops;
	const all = sum(loops);
	return Array.from({ length: slots }, (_, slot) => Math.floor((all + slots - 1 - slot) / slots));
}

/** Who goes which way, from left to right, with the own loops between them: so many a slot, from left to right. */
export function familiesOf(turns: Turns, doors: readonly Door[], loops: readonly number[]): Families {
	let next = 0;
	const familyOf = (group: Group): Family => {
		const count = group.doors.reduce((sum, door) => sum + doors[door]!.pipes, 0);
		next += count;
		return { ...group, crossing: CROSSINGS[group.way], from: next - count, count };
	};
	const slots = slotsOf(turns);
	const inSlot = sharedOut(loops, slots.length);
	const all: Family[] = [];
	const places: { from: number; to: number; before: number }[] = [];
	for (const [i, group] of turns.groups.entries()) {
		const slot = slots.indexOf(i);
		if (slot >= 0) {
			places.push({ from: next, to: next + 2 * inSlot[slot]!, before: i });
			next += 2 * inSlot[slot]!;
		}
		all.push(familyOf(group));
	}
	const own = places.map(({ from, to, before }): OwnPipes => {
		const [onLeft, onRight] = [all[before - 1]!, all[before]!];
		const behind = OVER.left.includes(onRight.way) ? onRight : OVER.right.includes(onLeft.way) ? onLeft : undefined;
		return { from, to, behind };
	});
	return { all, own };
}

/** The side of the wall that a family follows from where it comes in. */
const firstWall = ({ crossing, shortCut }: Family): Side | undefined =>
	shortCut ? shortCut.side : crossing?.across ? undefined : crossing?.wall;

/** How many pipes follow the wall on a side from where they come in. */
export function followers({ all }: Families, side: Side): number {
	const along = all.filter((family) => family.count > 0 && firstWall(family) === side);
	if (along.length === 0) return 0;
	if (side === "left") return Math.max(...along.map(({ from, count }) => from + count));
	const last = all.at(-1)!;
	return last.from + last.count - along[0]!.from;
}

/** A family's doors in order from the wall that it follows. */
export const fromWall = ({ doors, crossing }: Family): readonly number[] =>
	crossing?.wall === "right" ? [...doors].reverse() : doors;
