import { difference, type Region } from "@oxturn/geometry";
import {
	type AbreastOptions,
	FEWEST,
	MOST,
	offRim,
	outerShare,
	runsAbreast,
	type Stretch,
	stretchesWith,
} from "./abreast.ts";
import { type Line, pieceBetween, shiftedGently } from "./alongLines.ts";
import { type Profile, widthOf } from "./profile.ts";
import { rectangle } from "./shapes.ts";

/*
 * Runs along a strip of floor, as the outline of the strip with slots in it. The outermost runs follow the rim; where
 * the strip is wide enough for four runs a slot parts it into two lanes, and where it is wide enough for six a third
 * lane lies in the slot. Every slot is open at one end, and a lane in it is joined to a neighbour at one end, so that
 * the outline is one ring.
 */

type End = "start" | "end";

/** Where slots are open, at which end a lane in one is joined, and to which side; slots off the strip's ends open there too. */
interface Joining {
	readonly open: End;
	readonly joined: End;
	readonly side: "from" | "to";
}

/** Inner runs shift over this length where the width steps, and are straightened by so much, in spacings. */
const SHIFT = 1.2;
const STRAIGHTENED = 0.06;
/** The same of the rim, mm. */
const RIM_STRAIGHTENED = 1;
/** A lane in a slot is so many times longer than wide at least. */
const SHORTEST_LANE = 2;
/** Farther than any floor reaches, mm. */
const BEYOND = 1e5;
/** Pieces that are cut off together overlap by this, mm. */
const WELD = 1;

/** The lines of a strip, each with a run along it where there are enough. */
interface Lines {
	readonly from: Line;
	readonly to: Line;
	/** On either side of a slot. */
	readonly slotFrom: Line;
	readonly slotTo: Line;
	/** On either side of the lane in it. */
	readonly laneFrom: Line;
	readonly laneTo: Line;
}

function linesOf(profile: Profile, runs: readonly number[], options: AbreastOptions): Lines {
	const { spacing, minGap } = options;
	const off = shiftedGently(
		profile,
		profile.map((section, i) => offRim(widthOf(section), runs[i]!, options)),
		SHIFT * spacing,
	);
	const from = profile.map((section, i) => section.from + off[i]!);
	const to = profile.map((section, i) => section.to - off[i]!);
	const shares = profile.map((_, i) => outerShare(to[i]! - from[i]!, Math.max(FEWEST + 2, runs[i]!), minGap));
	const lineAt = (shareOf: (outer: number) => number): Line => {
		const line = profile.map((_, i) => from[i]! + (to[i]! - from[i]!) * shareOf(shares[i]!));
		return shiftedGently(profile, line, SHIFT * spacing);
	};
	return {
		from,
		to,
		slotFrom: lineAt((outer) => outer),
		slotTo: lineAt((outer) => 1 - outer),
		laneFrom: lineAt((outer) => (1 + outer) / 3),
		laneTo: lineAt((outer) => (2 - outer) / 3),
	};
}

/** A strip with all that the ways of slotting it share. */
interface Strip {
	readonly profile: Profile;
	readonly lines: Lines;
	readonly whole: Region;
	/** Stretches with a slot, and those with a lane in it. */
	readonly slots: readonly Stretch[];
	readonly lanes: readonly Stretch[];
	readonly tolerance: number;
}

/** A slot from place to place, and which of its ends lie at those of the strip. */
interface Slot extends Stretch {
	readonly begin: number;
	readonly end: number;
	readonly atStart: boolean;
	readonly atEnd: boolean;
	readonly open: End;
}

function slotAt({ profile, lines }: Strip, stretch: Stretch, open: End): Slot {
	const { first, last } = stretch;
	const atStart = first === 0;
	const atEnd = last === profile.length - 1;
	const openAt = atStart === atEnd ? open : atStart ? "start" : "end";
	// A slot that is closed at an end of the strip leaves a lane there.
	const laneAt = (i: number): number => lines.slotFrom[i]! - lines.from[i]!;
	const begin = profile[first]!.at + (atStart && openAt === "end" ? laneAt(first) : 0);
	const end = profile[last]!.at - (atEnd && openAt === "start" ? laneAt(last) : 0);
	return { first, last, begin, end, atStart, atEnd, open: openAt };
}

/** What opens a slot: at the end of the strip, or where it has none there through the lane on one side. */
function openingOf({ lines }: Strip, slot: Slot, side: Joining["side"]): Region {
	const i = slot.open === "start" ? slot.first : slot.last;
	const [from, to] = [lines.slotFrom[i]!, lines.slotTo[i]!];
	if (slot.open === "start" && slot.atStart) return rectangle(from, to, slot.begin - BEYOND, slot.begin + WELD);
	if (slot.open === "end" && slot.atEnd) return rectangle(from, to, slot.end - WELD, slot.end + BEYOND);
	const [y0, y1] = slot.open === "start" ? [slot.begin, slot.begin + to - from] : [slot.end - to + from, slot.end];
	return side === "from" ? rectangle(-BEYOND, from + WELD, y0, y1) : rectangle(to - WELD, BEYOND, y0, y1);
}

/** The lane in a slot and its joint; undefined where it would be too short. */
function laneIn(strip: Strip, slot: Slot, { first, last }: Stretch, { joined, side }: Joining): Region[] | undefined {
	const { profile, lines, tolerance } = strip;
	const middle = (first + last) >> 1;
	const gap = lines.laneTo[middle]! - lines.laneFrom[middle]!;
	const isFirst = slot.atStart && first === slot.first;
	const isLast = slot.atEnd && last === slot.last;
	// It ends before its slot does, but where it is joined and where both are open at the end of the strip.
	const reachesStart = joined === "start" || (isFirst && slot.open === "start");
	const reachesEnd = joined === "end" || (isLast && slot.open === "end");
	const begin = Math.max(profile[first]!.at, slot.begin) + (reachesStart ? 0 : gap);
	const end = Math.min(profile[last]!.at, slot.end) - (reachesEnd ? 0 : gap);
	if (end - begin < SHORTEST_LANE * gap) return undefined;
	const lane = pieceBetween(profile, [lines.laneFrom, lines.laneTo], [begin, end], tolerance);
	// Where the slot is closed at the end of the strip, the lane there joins all three.
	if (joined === "start" ? isFirst && slot.open === "end" : isLast && slot.open === "start") return [lane];
	const joint = joined === "start" ? ([begin, begin + gap] as const) : ([end - gap, end] as const);
	const across =
		side === "from" ? ([lines.slotFrom, lines.laneTo] as const) : ([lines.laneFrom, lines.slotTo] as const);
	return [lane, pieceBetween(profile, across, joint, tolerance)];
}

function slotted(strip: Strip, joining: Joining): Region | undefined {
	const { profile, lines, tolerance } = strip;
	const cut: Region[] = [];
	for (const stretch of strip.slots) {
		const slot = slotAt(strip, stretch, joining.open);
		const lanes: Region[] = [];
		for (const inner of strip.lanes) {
			if (inner.first < slot.first || inner.last > slot.last) continue;
			const lane = laneIn(strip, slot, inner, joining);
			if (!lane) return undefined;
			lanes.push(...lane);
		}
		const open = pieceBetween(profile, [lines.slotFrom, lines.slotTo], [slot.begin, slot.end], tolerance);
		cut.push(...difference([open, openingOf(strip, slot, joining.side)], lanes));
	}
	if (cut.length === 0) return strip.whole;
	const [outline, ...others] = difference([strip.whole], cut);
	return outline && others.length === 0 && outline.holes.length === 0 ? outline : undefined;
}

/** Ways of joining that differ on a strip. */
function joiningsOf({ profile, slots, lanes }: Strip): Joining[] {
	const ends = ({ first, last }: Stretch): number => Number(first === 0) + Number(last === profile.length - 1);
	const either: readonly End[] = ["start", "end"];
	const opens = slots.some((slot) => ends(slot) !== 1) ? either : either.slice(0, 1);
	const joins = lanes.length > 0 ? either : either.slice(0, 1);
	const hasSides = lanes.length > 0 || slots.some((slot) => ends(slot) === 0);
	const sides = hasSides ? (["from", "to"] as const) : (["from"] as const);
	return sides.flatMap((side) => joins.flatMap((joined) => opens.map((open): Joining => ({ open, joined, side }))));
}

/** The outlines of runs along a strip, not yet rounded. */
export function* slottedStrips(profile: Profile, options: AbreastOptions): Generator<Region> {
	const runs = runsAbreast(profile, options);
	const lines = linesOf(profile, runs, options);
	const ends = [profile[0]!.at, profile.at(-1)!.at] as const;
	const strip: Strip = {
		profile,
		lines,
		whole: pieceBetween(profile, [lines.from, lines.to], ends, RIM_STRAIGHTENED),
		slots: stretchesWith(runs, FEWEST + 2),
		lanes: stretchesWith(runs, MOST),
		tolerance: STRAIGHTENED * options.spacing,
	};
	for (const joining of joiningsOf(strip)) {
		const outline = slotted(strip, joining);
		if (outline) yield outline;
	}
}
