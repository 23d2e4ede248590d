import type { Region } from "@oxturn/geometry";
import { type Interval, intervalsAt, type Scan, scanOf } from "./scan.ts";

/** Where a long floor begins and ends across its length, at one place along it, mm. */
export interface Section {
	readonly at: number;
	readonly from: number;
	readonly to: number;
}

/** Sections from one end of a floor to the other. */
export type Profile = readonly Section[];

export interface ProfileOptions {
	/** Centre to centre, mm. */
	readonly spacing: number;
	/** Where less of the width is left, no runs lie along the floor, mm. */
	readonly leastWidth: number;
}

/** Sections are taken this far off vertices, mm, so that none runs along a side. */
const OFF = 0.02;
/** From one section to the next, in spacings. */
const STEP = 1 / 8;
/** A profile may end so far before the floor, in spacings, where that leaves more of it. */
const SPUR = 4;
/** Where its width changes by so much from one section to the next, in spacings. */
const STEEP = 0.25;
/** The sides of a profile lead round steps of the rim by slants of this slope at the most: a pipe hardly bends there. */
const SLOPE = 1;
/** What juts out of a long floor is an arm of it when it is no wider than this and at least so long, in spacings. */
const ARM_WIDTH = 8;
const ARM_LENGTH = 4;

export const widthOf = ({ from, to }: Section): number => to - from;

/** Floor within a profile, mm2. */
export function areaOf(profile: Profile): number {
	let area = 0;
	for (let i = 1; i < profile.length; i++) {
		const [a, b] = [profile[i - 1]!, profile[i]!];
		area += ((b.at - a.at) * (widthOf(a) + widthOf(b))) / 2;
	}
	return area;
}

function placesAlong({ minY, maxY, vertexHeights }: Scan, step: number): number[] {
	const places: number[] = [];
	const count = Math.max(1, Math.ceil((maxY - minY) / step));
	for (let k = 1; k < count; k++) places.push(minY + ((maxY - minY) * k) / count);
	for (const y of vertexHeights) places.push(y - OFF, y + OFF);
	places.sort((a, b) => a - b);
	return places.filter((y, i) => y > minY && y < maxY && y - (places[i - 1] ?? -Infinity) > OFF / 2);
}

const overlap = (a: Interval, b: Interval): number => Math.min(a.to, b.to) - Math.max(a.from, b.from);

/** The sections of a floor that is long along y; where it forks they go on straight. */
export function sectionsOf(floor: Region, spacing: number): Profile {
	const scan = scanOf([floor]);
	const sections: Section[] = [];
	for (const at of placesAlong(scan, STEP * spacing)) {
		const before = sections.at(-1) ?? { from: -Infinity, to: Infinity };
		const [span] = intervalsAt(scan, at).sort((a, b) => overlap(b, before) - overlap(a, before));
		if (span) sections.push({ at, ...span });
	}
	return sections;
}

/** The least line above `values` that nowhere rises or falls by more than the slope. */
function gentlyAbove(profile: Profile, sideOf: (section: Section) => number): number[] {
	const line = profile.map(sideOf);
	const reach = (i: number, from: number): void => {
		line[i] = Math.max(line[i]!, line[from]! - SLOPE * Math.abs(profile[i]!.at - profile[from]!.at));
	};
	for (let i = 1; i < line.length; i++) reach(i, i - 1);
	for (let i = line.length - 2; i >= 0; i--) reach(i, i + 1);
	return line;
}

/** The same floor with its rim led gently round steps. */
function ledGently(profile: Profile): Section[] {
	const from = gentlyAbove(profile, (section) => section.from);
	const to = gentlyAbove(profile, (section) => -section.to);
	return profile.map(({ at }, i) => ({ at, from: from[i]!, to: -to[i]! }));
}

/** Its rim led gently round steps and past spurs at its ends; undefined where little of the width is left. */
export function gentleProfile(profile: Profile, { spacing, leastWidth }: ProfileOptions): Profile | undefined {
	/** The place to end at that leaves the most floor. */
	const best = (ends: readonly number[], upTo: (end: number) => Profile): number => {
		if (ends.length === 1) return ends[0]!;
		const areas = ends.map((end) => areaOf(ledGently(upTo(end))));
		return ends[areas.indexOf(Math.max(...areas))]!;
	};
	const final = profile.length - 1;
	const reach = SPUR * spacing;
	const isStep = (i: number): boolean => Math.abs(widthOf(profile[i]!) - widthOf(profile[i - 1]!)) > STEEP * spacing;
	const steps = profile.flatMap((_, i) => (i > 0 && isStep(i) ? [i] : []));
	const starts = steps.filter((i) => profile[i]!.at - profile[0]!.at <= reach);
	const first = best([0, ...starts], (end) => profile.slice(end));
	const ends = steps.filter((i) => i - 1 > first && profile[final]!.at - profile[i - 1]!.at <= reach);
	const last = best([final, ...ends.map((i) => i - 1)], (end) => profile.slice(first, end + 1));
	const gentle = ledGently(profile.slice(first, last + 1));
	const isWide = (section: Section): boolean => widthOf(section) >= leastWidth;
	const wide = gentle.slice(Math.max(0, gentle.findIndex(isWide)), gentle.findLastIndex(isWide) + 1);
	return wide.length > 1 && wide.every(isWide) ? wide : undefined;
}

/** Values without peaks narrower than a window along the profile. */
function withoutPeaks(profile: Profile, values: readonly number[], window: number): number[] {
	const lowered = values.map(() => -Infinity);
	const last = profile.length - 1;
	for (let i = 0; i <= last; i++) {
		let k = i;
		let least = values[i]!;
		while (k < last && profile[k]!.at - profile[i]!.at < window) least = Math.min(least, values[++k]!);
		if (profile[k]!.at - profile[i]!.at < window) break;
		for (let j = i; j <= k; j++) lowered[j] = Math.max(lowered[j]!, least);
	}
	return lowered;
}

/** A long floor without the arms that jut out of it; undefined where there are none. */
export function withoutArms(profile: Profile, spacing: number): Profile | undefined {
	const widths = profile.map(widthOf);
	if (Math.max(...widths) - Math.min(...widths) <= ARM_LENGTH * spacing) return undefined;
	let hasArms = false;
	const cut = (values: readonly number[]): number[] => {
		const lowered = withoutPeaks(profile, values, ARM_WIDTH * spacing);
		const kept = [...values];
		for (let i = 0; i < values.length; i++) {
			if (lowered[i]! === values[i]!) continue;
			let end = i;
			while (end + 1 < values.length && lowered[end + 1]! < values[end + 1]!) end++;
			const height = Math.max(...values.slice(i, end + 1).map((value, k) => value - lowered[i + k]!));
			if (height > ARM_LENGTH * spacing && height < Infinity) {
				hasArms = true;
				for (let k = i; k <= end; k++) kept[k] = lowered[k]!;
			}
			i = end;
		}
		return kept;
	};
	const from = cut(profile.map((section) => -section.from));
	const to = cut(profile.map((section) => section.to));
	return hasArms ? profile.map(({ at }, i) => ({ at, from: -from[i]!, to: to[i]! })) : undefined;
}
