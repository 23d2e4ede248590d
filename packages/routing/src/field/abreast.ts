import { areaOf, type Profile, widthOf } from "./profile.ts";

/*
 * How many runs lie side by side along a long floor. Their number is even, as an outline crosses every section an even
 * number of times; where the width changes it does by two. Cost is in mm2 of floor, weighted.
 */

export const FEWEST = 2;
export const MOST = 6;
const RUNS: readonly number[] = [FEWEST, 4, MOST];

/** Floor farther than this from a run, and farther than that, in spacings, and its weight: as fields are compared. */
const NEAR = 0.55;
const FAR = 1;
const COLD = 5;
/** What a change of their number costs, as a share of the floor. */
const PER_CHANGE = 0.0032;
/** Runs come no nearer than this, in spacings. */
const NARROWEST = 0.65;
/** Stretches with more runs are no shorter than this, in spacings. */
const SHORTEST = 4;

export interface AbreastOptions {
	/** Centre to centre, mm. */
	readonly spacing: number;
	/** Between two runs that are joined by a return, mm. */
	readonly minGap: number;
	/** The outermost runs lie no farther off the rim than this, mm. */
	readonly mostOffRim: number;
}

/** Part of a profile: its first and its last section. */
export interface Stretch {
	readonly first: number;
	readonly last: number;
}

/** From the outermost run to the next as a share of the width: gaps are even, but slots as wide as the return in them. */
export function outerShare(width: number, runs: number, minGap: number): number {
	const inner = runs - 3;
	return Math.min(1 / (runs - 1), (1 - (inner * minGap) / width) / 2);
}

/** How far the outermost runs lie off the rim, mm: where so many would leave floor cold between them, they come closer. */
export const offRim = (width: number, runs: number, { spacing, mostOffRim }: AbreastOptions): number =>
	Math.max(0, Math.min(mostOffRim, (width - (runs - 1) * 2 * NEAR * spacing) / 2));

/** Floor that so many runs leave cold, per mm of length; infinite where they come too near to each other. */
function coldPerLength(width: number, runs: number, options: AbreastOptions): number {
	const { spacing, minGap } = options;
	if (runs > FEWEST && outerShare(width, runs, minGap) * width < NARROWEST * spacing) return Infinity;
	const gap = (width - 2 * offRim(width, runs, options)) / (runs - 1);
	const beyond = (reach: number): number => Math.max(0, gap - 2 * reach * spacing) * (runs - 1);
	return beyond(NEAR) + COLD * beyond(FAR);
}

/** The number of runs at each section that leaves the least floor cold, changes considered. */
function leastCold(profile: Profile, options: AbreastOptions): number[] {
	const perChange = PER_CHANGE * areaOf(profile);
	let costs = RUNS.map(() => 0);
	const cameFrom: number[][] = [costs];
	for (let i = 1; i < profile.length; i++) {
		const [a, b] = [profile[i - 1]!, profile[i]!];
		const width = Math.min(widthOf(a), widthOf(b));
		const before = costs;
		const price = (from: number, to: number): number => before[from]! + perChange * Math.abs(to - from);
		const came = RUNS.map((_, k) => RUNS.reduce((best, _, j) => (price(j, k) < price(best, k) ? j : best), k));
		costs = RUNS.map((runs, k) => price(came[k]!, k) + (b.at - a.at) * coldPerLength(width, runs, options));
		cameFrom.push(came);
	}
	let k = costs.indexOf(Math.min(...costs));
	const runs: number[] = [];
	for (let i = profile.length - 1; i >= 0; i--) {
		runs[i] = RUNS[k]!;
		k = cameFrom[i]![k]!;
	}
	return runs;
}

/** Stretches where at least so many lie side by side. */
export function stretchesWith(runs: readonly number[], least: number): Stretch[] {
	const stretches: Stretch[] = [];
	for (let first = 0; first < runs.length; first++) {
		if (runs[first]! < least) continue;
		let last = first;
		while (last + 1 < runs.length && runs[last + 1]! >= least) last++;
		stretches.push({ first, last });
		first = last;
	}
	return stretches;
}

/** How many runs lie side by side at each section of a profile; more for a short stretch are not worth their turns. */
export function runsAbreast(profile: Profile, options: AbreastOptions): readonly number[] {
	const runs = leastCold(profile, options);
	for (const least of [MOST, MOST - 2])
		for (const { first, last } of stretchesWith(runs, least))
			if (profile[last]!.at - profile[first]!.at < SHORTEST * options.spacing)
				for (let i = first; i <= last; i++) runs[i] = least - 2;
	return runs;
}
