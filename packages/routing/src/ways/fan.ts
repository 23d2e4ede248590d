import { beside, type Lane } from "../tails/lanes.ts";

/*
 * Pipes that leave side by side at one pitch and go on side by side at another change over on slants, all at one
 * angle. Those that move left begin one after the other from the left, those that move right from the right, so that
 * they keep apart on the slants too.
 */

export interface FanOptions {
	/** Starts, from left to right. */
	readonly lanes: readonly Lane[];
	/** How far each moves to the right, mm; never less than its left neighbour. */
	readonly shifts: readonly number[];
	/** Ahead of the starts, where the first slant may begin, mm. */
	readonly from: number;
	/** Centre to centre on the slants, mm. */
	readonly apart: number;
	readonly minBendRadius: number;
	/** Of the slants against the lanes, radians. */
	readonly slant: number;
}

/** Shifts smaller than this are none, mm. */
const NONE = 0.5;

/** How far ahead of a lane's start the fan is over, mm, and the lanes with their bends. */
export function fanOut(options: FanOptions): { readonly lanes: readonly Lane[]; readonly depth: number } {
	const { lanes, shifts, minBendRadius, slant } = options;
	const ease = minBendRadius * Math.tan(slant / 2) * 1.1;
	const pitch = (i: number): number => {
		const dx = lanes[i + 1]!.at[0] - lanes[i]!.at[0];
		const dy = lanes[i + 1]!.at[1] - lanes[i]!.at[1];
		return Math.hypot(dx, dy);
	};
	const delay = (i: number): number => Math.max(0, (options.apart - pitch(i) * Math.cos(slant)) / Math.sin(slant));
	const starts = shifts.map(() => options.from + ease);
	for (let i = 1; i < lanes.length; i++) if (shifts[i]! < -NONE) starts[i] = starts[i - 1]! + delay(i - 1);
	for (let i = lanes.length - 2; i >= 0; i--) if (shifts[i]! > NONE) starts[i] = starts[i + 1]! + delay(i);
	let depth = options.from;
	const bent = lanes.map((lane, i): Lane => {
		const shift = shifts[i]!;
		if (Math.abs(shift) < NONE) return lane;
		const run = Math.abs(shift) / Math.tan(slant);
		depth = Math.max(depth, starts[i]! + run + ease);
		return {
			...lane,
			bends: [beside(lane.at, lane.axis, starts[i]!, 0), beside(lane.at, lane.axis, starts[i]! + run, shift)],
		};
	});
	return { lanes: bent, depth };
}
