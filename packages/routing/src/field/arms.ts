import { type Point, type Region, union } from "@oxturn/geometry";
import type { AbreastOptions } from "./abreast.ts";
import { gentleProfile, type ProfileOptions, sectionsOf } from "./profile.ts";
import { mapped, rectangle } from "./shapes.ts";
import { slottedStrips } from "./slottedStrip.ts";
import { take } from "./take.ts";

/** What strips of floor are laid by. */
export type StripOptions = AbreastOptions & ProfileOptions;

/** Ways of laying an arm that are tried. */
const MOST_WAYS = 3;
/** Width of an arm's joint, and how far it reaches into the trunk, in spacings: the lane there may lie off the rim. */
const JOINT = 1;
const INTO = 0.4;
/** And into the arm, mm. */
const WELD = 1;

/** A quarter turn, and back. */
const quarter = ([x, y]: Point): Point => [-y, x];
const quarterBack = ([x, y]: Point): Point => [y, -x];

/** From a run to the arm beyond it. */
export const gapToArm = ({ spacing, minGap }: StripOptions): number => Math.max(spacing, minGap);

/** An arm beside the trunk, in the trunk's frame. */
export interface Arm {
	/** Ways of laying it, not yet rounded. */
	readonly outlines: readonly Region[];
	/** Bars that may join it to the trunk. */
	readonly joints: readonly Region[];
}

/** An arm to the right or the left of a trunk along y. */
export function armOf(piece: Region, isRight: boolean, options: StripOptions): Arm | undefined {
	const { spacing, minGap } = options;
	const profile = gentleProfile(sectionsOf(mapped(piece, quarter), spacing), options);
	if (!profile) return undefined;
	const near = isRight ? profile[0]! : profile.at(-1)!;
	const gap = gapToArm(options) + INTO * spacing;
	const [y0, y1] = isRight ? [near.at - gap, near.at + WELD] : [near.at - WELD, near.at + gap];
	const bar = (x0: number, x1: number): Region => mapped(rectangle(x0, x1, y0, y1), quarterBack);
	const width = JOINT * spacing;
	const isWide = near.to - near.from > width + minGap;
	const joints = isWide
		? [bar(near.from, near.from + width), bar(near.to - width, near.to)]
		: [bar(near.from, near.to)];
	const outlines = take(slottedStrips(profile, options), MOST_WAYS).map((outline) => mapped(outline, quarterBack));
	return { outlines, joints };
}

/** A trunk with an arm, laid and joined to it in the first way that makes one outline. */
export function joinedTo(trunk: Region, { outlines, joints }: Arm): Region | undefined {
	for (const outline of outlines)
		for (const joint of joints) {
			const [whole, ...others] = union([trunk, outline, joint]);
			if (whole && others.length === 0 && whole.holes.length === 0) return whole;
		}
	return undefined;
}
