import { type Draft, roomsOf } from "../document/draft.ts";
import { type SystemNumber, systemNumber } from "../edit/settings.ts";

/** What a number may be: mm, but for the longest loop, which is m. */
export interface Limits {
	readonly least: number;
	readonly most: number;
	readonly step: number;
	readonly unit: "mm" | "m" | "";
}

/** What the library takes where nothing is stated: mm, and m for the longest loop. */
export const defaults = {
	spacing: 200,
	outerDiameter: 16,
	wallThickness: 2,
	maxLoopLength: 100,
	tailSpacing: 50,
	portPitch: 50,
} as const;

/** The number as stated, or what the library takes without it; a room's edge distance has no single default. */
export function effectiveNumber(draft: Draft, name: Exclude<SystemNumber, "edgeDistance">): number {
	const stated = systemNumber(draft, name);
	if (stated !== undefined) return stated;
	return name === "minBendRadius" ? 5 * effectiveNumber(draft, "outerDiameter") : defaults[name];
}

// common practice for wet systems, no source; the library takes a little more
const spacing: Limits = { least: 75, most: 400, step: 5, unit: "mm" };

/** Limits of a room's own spacing. */
export const roomSpacingLimits = spacing;
export const portPitchLimits: Limits = { least: 30, most: 200, step: 5, unit: "mm" };
export const portsLimits: Limits = { least: 1, most: 100, step: 1, unit: "" };

/**
 * What a number of the system may be beside the others: the library refuses a bend tighter than the pipe is wide, tails
 * that touch, and pipe in the wall.
 */
export function limitsOf(draft: Draft, name: SystemNumber): Limits {
	const diameter = effectiveNumber(draft, "outerDiameter");
	switch (name) {
		case "spacing":
			return spacing;
		case "edgeDistance":
			return { least: Math.max(30, Math.ceil(diameter / 2)), most: 400, step: 5, unit: "mm" };
		case "outerDiameter":
			return { least: 8, most: Math.floor(widestPipe(draft)), step: 1, unit: "mm" };
		case "wallThickness":
			return { least: 0.5, most: Math.min(5, Math.ceil(diameter / 2) - 0.5), step: 0.1, unit: "mm" };
		case "minBendRadius":
			return { least: Math.ceil(diameter), most: 400, step: 5, unit: "mm" };
		case "maxLoopLength":
			return { least: 20, most: 200, step: 5, unit: "m" };
		case "tailSpacing":
			return { least: Math.ceil(diameter) + 1, most: 300, step: 5, unit: "mm" };
	}
}

/** The widest pipe that agrees with everything stated beside it, mm. */
function widestPipe(draft: Draft): number {
	const bend = systemNumber(draft, "minBendRadius") ?? Infinity;
	const tails = effectiveNumber(draft, "tailSpacing") - 1;
	const edge = 2 * (systemNumber(draft, "edgeDistance") ?? smallestSpacing(draft) / 2);
	return Math.max(8, Math.min(32, bend, tails, edge));
}

function smallestSpacing(draft: Draft): number {
	return Math.min(
		effectiveNumber(draft, "spacing"),
		...roomsOf(draft).map(({ properties }) => properties.spacing ?? Infinity),
	);
}
