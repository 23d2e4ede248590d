import type { PatternName } from "oxturn";
import { type Draft, isRoom } from "../document/draft.ts";
import { setPattern, setSystemNumber } from "../edit/settings.ts";

/** The numbers that one side of a comparison may have for itself: mm, and m for the longest loop. */
export const VARIANT_NUMBERS = [
	"spacing",
	"edgeDistance",
	"outerDiameter",
	"minBendRadius",
	"maxLoopLength",
	"tailSpacing",
] as const;
export type VariantNumber = (typeof VARIANT_NUMBERS)[number];

/** How one side of a comparison differs from the floor as it is drawn. */
export interface Variant {
	/** For every room; without it each keeps its own. */
	readonly pattern?: PatternName;
	readonly numbers: Readonly<Partial<Record<VariantNumber, number>>>;
}

/**
 * The floor with a variant's settings. With a room's id only that room is heated: it is piped from the floor's own
 * manifold, through the rooms that lie between.
 */
export function draftOf(draft: Draft, { pattern, numbers }: Variant, room?: string): Draft {
	const patterned = pattern === undefined ? draft : setPattern(draft, pattern);
	const numbered = VARIANT_NUMBERS.reduce(
		(made, name) => (numbers[name] === undefined ? made : setSystemNumber(made, name, numbers[name])),
		patterned,
	);
	const features = numbered.features.map((feature) => {
		if (!isRoom(feature)) return feature;
		const { spacing: own, ...properties } = feature.properties;
		// a spacing that is tried out is meant for every room
		const spacing = numbers.spacing === undefined && own !== undefined ? { spacing: own } : {};
		const heated = room === undefined ? {} : { heated: feature.id === room };
		return { ...feature, properties: { ...properties, ...spacing, ...heated } };
	});
	return { ...numbered, features };
}
