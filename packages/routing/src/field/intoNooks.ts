import {
	add,
	direction,
	distance,
	leftOf,
	type Point,
	pathLength,
	pointBetween,
	type Region,
	type Ring,
	regionArea,
	scale,
	subtract,
	turnBetween,
	union,
} from "@oxturn/geometry";
import { closedPath } from "../boxes.ts";
import { costOfField, type FieldTerms, type FilledField } from "./fillField.ts";
import { keepsClear } from "./keepsClear.ts";
import type { Nook } from "./nooks.ts";
import { roundOutline, tidyRing } from "./roundOutline.ts";
import type { Field } from "./serpentine.ts";

/** How deep in the field its outline is looked for, in spacings: runs may lie off the rim. */
const INTO_FIELD = [0.3, 0.6, 0.9, 1.2];
/** Pieces that are joined overlap by this, mm. */
const WELD = 1;
/** A nook adds this share of itself to an outline at least, or it was entered by a scrap of it. */
const MOST = 0.8;

/** What fields are compared by, on a map with the nooks in it. */
export interface IntoNooksOptions extends FieldTerms {
	/** No two stretches of pipe come nearer than this, mm. */
	readonly apart: number;
}

/**
 * A field led into those nooks beside it that are worth their turns; undefined where none is. Its cost changes by as much
 * as the nooks are worth.
 */
export function intoNooks(
	field: FilledField,
	nooks: readonly Nook[],
	options: IntoNooksOptions,
): FilledField | undefined {
	const before = costOfField(field, options);
	let best: { readonly field: Field; readonly cost: number } = { field, cost: before.cost };
	for (const nook of nooks) {
		const led = ledInto(best.field, nook, options);
		const cost = led && costOfField(led, options).cost;
		if (led && cost! < best.cost) best = { field: led, cost: cost! };
	}
	return best.field === field ? undefined : { ...field, ...best.field, cost: field.cost + best.cost - before.cost };
}

/** A field with its outline led round a nook too, by whichever depth meets one lane of it. */
function ledInto(field: Field, nook: Nook, { spacing, apart, longest }: IntoNooksOptions): Field | undefined {
	const { outline, rounding } = field;
	const body: Region = { outer: outline, holes: [] };
	const least = regionArea(body) + MOST * regionArea(nook.region);
	for (const depth of INTO_FIELD) {
		const [whole, ...others] = union([body, nook.region, entryTo(nook, depth * spacing)]);
		if (!whole || others.length > 0 || whole.holes.length > 0 || regionArea(whole) < least) continue;
		const eased = easedBeside(nook, whole.outer, rounding.minRadius);
		const ring = roundOutline(eased, rounding);
		if (ring && keepsClear(ring, apart) && pathLength(closedPath(ring)) <= longest)
			return { ...field, ring, outline: eased };
	}
	return undefined;
}

/** The way from so deep in the field into a nook. */
function entryTo({ mouth: [a, b], depth }: Nook, into: number): Region {
	const inwards = leftOf(direction(a, b));
	const at = (p: Point, by: number): Point => add(p, scale(inwards, by));
	const out = -(depth + into);
	return { outer: [at(a, out), at(b, out), at(b, WELD), at(a, WELD)], holes: [] };
}

/**
 * An outline whose steps beside a nook's mouth, where a lane goes on narrower into the nook, are slants that a pipe can
 * follow in two arcs: else rounding would take them out all along the lane.
 */
function easedBeside({ mouth: [a, b] }: Nook, outline: Ring, radius: number): Ring {
	const reach = distance(a, b) / 2 + 2 * radius;
	const ring = tidyRing(outline);
	const turnAt = (i: number): number => turnBetween(subtract(ring[i]!, ring.at(i - 1)!), subtract(after(i), ring[i]!));
	const after = (i: number): Point => ring[(i + 1) % ring.length]!;
	const isNear = (p: Point): boolean => distance(p, pointBetween(a, b, 0.5)) < reach;
	const isStep = (i: number): boolean =>
		distance(ring[i]!, after(i)) < 2 * radius &&
		isNear(ring[i]!) &&
		isNear(after(i)) &&
		turnAt(i) * turnAt((i + 1) % ring.length) < 0;
	return ring.map((p, i) => {
		// The outward corner of a step moves back along its other side, so that the outline nowhere grows.
		const isOutward = turnAt(i) > 0;
		const before = ring.at(i - 1)!;
		if (isOutward && isStep(i)) return movedBack(p, before, slantOver(distance(p, after(i)), radius));
		if (isOutward && isStep((i + ring.length - 1) % ring.length))
			return movedBack(p, after(i), slantOver(distance(p, before), radius));
		return p;
	});
}

/** The length along which two arcs of a radius lead `aside`, mm. */
const slantOver = (aside: number, radius: number): number => aside / Math.tan(Math.acos(1 - aside / (2 * radius)));

const movedBack = (p: Point, towards: Point, by: number): Point =>
	pointBetween(p, towards, Math.min(1, by / distance(p, towards)));
