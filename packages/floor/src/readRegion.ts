import type { Point, Region, Ring } from "@oxturn/geometry";
import { cleanRing, DUPLICATE, MANY_CORNERS, SIMPLIFY, simplifyRing } from "./cleanRing.ts";
import { describePoint } from "./describe.ts";
import { findContact } from "./findContact.ts";
import { MOST_CORNERS } from "./floorSchema.ts";
import { floorNotices, ringName } from "./notices.ts";
import type { Problem } from "./problems.ts";
import { boxOf, distance, isInsideBox, isInsideRing, signedArea } from "./rings.ts";
import type { Notice } from "./types.ts";

/** A ring that encloses no more than this is a line, mm2. */
const NO_AREA = 1;

/** A polygon that has been read: its region when it is in order, else its problems. */
export interface ReadRegion {
	readonly region: Region | undefined;
	readonly problems: readonly Problem[];
	readonly notices: readonly Notice[];
}

function hasThreePoints(points: readonly Point[]): boolean {
	return new Set(points.map(([x, y]) => `${x} ${y}`)).size >= 3;
}

/** What is wrong with a ring as it stands in the document, before any cleaning. */
function findRingProblem(points: readonly Point[]): string | undefined {
	if (points.length > MOST_CORNERS)
		return `found ${points.length} positions, expected at most ${MOST_CORNERS}. Draw the outline with fewer corners.`;
	if (!hasThreePoints(points))
		return `found ${points.length} positions with fewer than 3 different points, expected a closed ring of 3 or more. Draw the whole outline.`;
	const [first, last] = [points[0]!, points.at(-1)!];
	if (distance(first, last) >= DUPLICATE)
		return `found an open ring from ${describePoint(first)} to ${describePoint(last)}, expected the last position to repeat the first. Add the first position again at the end.`;
	return undefined;
}

function findShapeProblem(ring: Ring): string | undefined {
	const contact = ring.length < 3 ? undefined : findContact([ring]);
	if (contact)
		return `found a ring that crosses or touches itself near ${describePoint(contact.point)}, expected a simple outline. Look for corners in the wrong order or drawn twice.`;
	if (Math.abs(signedArea(ring)) <= NO_AREA)
		return "found a ring that encloses no floor (area 0), expected an outline round some floor. Draw the outline or remove the ring.";
	return undefined;
}

/** Whether holes lie where holes can lie: apart, inside the outer ring, and not in each other. */
function findHoleProblems(rings: readonly Ring[]): { index: number; message: string }[] {
	const [outer, ...holes] = rings;
	const contact = findContact(rings);
	if (contact) {
		const [low, high] = [Math.min(...contact.rings), Math.max(...contact.rings)];
		const advice =
			low === 0
				? "Move the hole inwards, or draw the outline round it."
				: "Move the holes apart, or draw them as one hole.";
		return [
			{
				index: high,
				message: `found that ${ringName(high)} crosses or touches ${low === 0 ? `the ${ringName(low)}` : ringName(low)} near ${describePoint(contact.point)}, expected them apart. ${advice}`,
			},
		];
	}
	const boxes = holes.map(boxOf);
	return holes.flatMap((hole, i) => {
		const index = i + 1;
		const corner = hole[0]!;
		if (!isInsideRing(corner, outer!))
			return [
				{
					index,
					message: `found that ${ringName(index)} lies outside the outer ring, near ${describePoint(corner)}, expected it inside. Move it or remove it.`,
				},
			];
		const around = holes.findIndex(
			(other, j) => j !== i && isInsideBox(corner, boxes[j]!) && isInsideRing(corner, other),
		);
		if (around < 0) return [];
		return [
			{
				index,
				message: `found that ${ringName(index)} lies inside ${ringName(around + 1)}, expected them apart. Remove it, or draw a room in the outer hole.`,
			},
		];
	});
}

/**
 * Reads the rings of the polygon of feature `subject`: closed, simple, holes inside. They come out clean, the outer
 * one anticlockwise and holes clockwise, without the closing point, and with fewer corners where there were very many.
 */
export function readRegion(subject: string, coordinates: readonly (readonly Point[])[]): ReadRegion {
	const problems: Problem[] = [];
	const notices: Notice[] = [];
	const report = (index: number, message: string): void => {
		problems.push({ subject, member: `geometry.coordinates.${index}`, message });
	};

	const rings: Ring[] = [];
	for (const [index, points] of coordinates.entries()) {
		const ringProblem = findRingProblem(points);
		if (ringProblem) {
			report(index, ringProblem);
			continue;
		}
		const { ring, spikes, longestSpike } = cleanRing(points.slice(0, -1), index > 0);
		const shapeProblem = findShapeProblem(ring);
		if (shapeProblem) {
			report(index, shapeProblem);
			continue;
		}
		if (longestSpike > 1) notices.push(floorNotices.outlineCleaned(subject, index, spikes, longestSpike));
		rings.push(ring);
	}
	if (problems.length > 0) return { region: undefined, problems, notices };

	if (rings.length > 1) for (const { index, message } of findHoleProblems(rings)) report(index, message);
	if (problems.length > 0) return { region: undefined, problems, notices };

	for (const [index, ring] of rings.entries()) {
		if (ring.length <= MANY_CORNERS) continue;
		const simplified = simplifyRing(ring, index > 0);
		const isSmaller = simplified.length >= 3 && simplified.length < ring.length;
		// where an outline nearly touches itself or a hole, a millimetre can make it cross: then it stays as it was
		if (!isSmaller || findContact(rings.with(index, simplified))) continue;
		rings[index] = simplified;
		notices.push(floorNotices.outlineSimplified(subject, index, ring.length, simplified.length, SIMPLIFY));
	}
	const [outer, ...holes] = rings;
	return { region: { outer: outer!, holes }, problems, notices };
}
