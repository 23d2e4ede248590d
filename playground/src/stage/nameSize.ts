import type { NameSize } from "./shapes.ts";

/** Half of a loop's id, and half of a line of a name, px. */
const ID = { across: 14, along: 10 } as const;
const HALF_LINE = 12;
/** Steps from one scale to twice as large. */
const STEPS = 4;

/** px to one mm, in steps: names need not look for another place at every turn of the wheel. Never more than it is. */
export const inSteps = (scale: number): number => 2 ** (Math.floor(STEPS * Math.log2(scale)) / STEPS);

/** What a name takes up on the floor; `letter` is about how wide its letters are, px. */
export function nameSize(name: string, letter: number, scale: number): NameSize {
	const px = 1 / inSteps(scale);
	const half = (letter * name.length) / 2;
	return { half: half * px, across: (half + ID.across) * px, along: (HALF_LINE + ID.along) * px };
}
