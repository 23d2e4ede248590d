import { type Point, pointSegmentDistance2, type Region } from "@oxturn/geometry";
import type { Profile } from "./profile.ts";

/** A line along a long floor: how far across it lies at each section of the profile, mm. */
export type Line = readonly number[];

/** The integral of a line up to a place; places are asked for in ascending order. */
function integralOf(profile: Profile, line: Line): (at: number) => number {
	let i = 0;
	let sum = 0;
	return (at) => {
		for (; i + 2 < profile.length && profile[i + 1]!.at < at; i++)
			sum += ((line[i]! + line[i + 1]!) / 2) * (profile[i + 1]!.at - profile[i]!.at);
		const step = at - profile[i]!.at;
		const slope = (line[i + 1]! - line[i]!) / (profile[i + 1]!.at - profile[i]!.at);
		return sum + line[i]! * step + (slope * step * step) / 2;
	};
}

/** Means over a window along the floor, so that a line shifts gently; towards the ends the window narrows. */
export function shiftedGently(profile: Profile, line: Line, window: number): Line {
	const [upper, lower] = [integralOf(profile, line), integralOf(profile, line)];
	const [start, end] = [profile[0]!.at, profile.at(-1)!.at];
	return line.map((value, i) => {
		const { at } = profile[i]!;
		const reach = Math.min(window / 2, at - start, end - at);
		return reach > 1 ? (upper(at + reach) - lower(at - reach)) / (2 * reach) : value;
	});
}

/** Leaves out points of a path that lie within `tolerance` mm of the line without them (Douglas and Peucker 1973). */
function straightened(path: readonly Point[], tolerance: number): Point[] {
	const keep = path.map((_, i) => i === 0 || i === path.length - 1);
	const between = (from: number, to: number): void => {
		let [worst, at] = [tolerance * tolerance, -1];
		for (let i = from + 1; i < to; i++) {
			const off = pointSegmentDistance2(path[i]!, path[from]!, path[to]!);
			if (off > worst) [worst, at] = [off, i];
		}
		if (at < 0) return;
		keep[at] = true;
		between(from, at);
		between(at, to);
	};
	between(0, path.length - 1);
	return path.filter((_, i) => keep[i]);
}

/** The part of a line from one place to another. */
function partOf(profile: Profile, line: Line, begin: number, end: number): Point[] {
	const points: Point[] = [];
	for (let i = 0; i + 1 < profile.length; i++) {
		const a = profile[i]!.at;
		const b = profile[i + 1]!.at;
		if (b < begin || a > end || b <= a) continue;
		const slope = (line[i + 1]! - line[i]!) / (b - a);
		const add = (at: number): void => {
			points.push([line[i]! + slope * (at - a), at]);
		};
		if (points.length === 0) add(Math.max(a, begin));
		add(Math.min(b, end));
	}
	return points;
}

/** The piece between two lines from one place to another, its sides straightened by `tolerance` mm. */
export function pieceBetween(
	profile: Profile,
	[from, to]: readonly [Line, Line],
	[begin, end]: readonly [number, number],
	tolerance: number,
): Region {
	const side = (line: Line): Point[] => straightened(partOf(profile, line, begin, end), tolerance);
	return { outer: [...side(to), ...side(from).reverse()], holes: [] };
}
