import type { AuditFinding } from "../types.ts";
import { CHORD_ERROR } from "./limits.ts";
import { placeText } from "./plan.ts";
import type { Trace } from "./trace.ts";

/** What a flattened curve of radius `radius` (mm) can show at most. */
interface BendLimits {
	readonly radius: number;
	/** Turning at a vertex, beyond what its length allows, rad. */
	readonly corner: number;
	/** Length over which turning of either sense is summed, mm. */
	readonly windowLength: number;
	/** Turning within that length, rad. */
	readonly window: number;
	/** Longest chord between vertices of one bend, mm. */
	readonly chord: number;
}

interface TightSpot {
	readonly vertex: number;
	/** Measured turning and what its length allows, rad. */
	readonly value: number;
	readonly limit: number;
	readonly what: string;
}

/** Turning beyond its length's worth that flattening and rounding explain, rad. */
const TURN_SLACK = 0.12;

/** A bend of less than this is judged by its corners alone, rad. */
const SMALLEST_BEND = 0.5;

/** Less turning than this at a vertex is straight on, rad. */
const STRAIGHT = 0.01;

/**
 * Finds bends tighter than the pipe can be laid, on a centreline whose arcs were flattened. No single measure
 * sees them all: a vertex can turn too sharply, a run of vertices can turn more than its length allows, a
 * whole bend can be too small though each of its vertices is fine, and a wriggle can turn both ways in too little
 * pipe. What lies within an eighth turn and a bit of the same pipe is one place.
 */
export function findTightBends(minBendRadius: number, traces: readonly Trace[]): AuditFinding[] {
	const limits = bendLimits(minBendRadius);
	return traces.flatMap((trace) => {
		const spots: TightSpot[] = [];
		addSharpCorners(spots, trace, limits);
		addTightRuns(spots, trace, limits, 1);
		addTightRuns(spots, trace, limits, -1);
		addTightBends(spots, trace, limits);
		addWriggles(spots, trace, limits);
		if (spots.length === 0) return [];
		return worstOfPlaces(trace, spots, limits.windowLength).map(({ vertex, value, limit, what }): AuditFinding => {
			const at = [trace.x[vertex]!, trace.y[vertex]!] as const;
			return {
				rule: "bend",
				message: `Loop "${trace.id}": ${what} at ${placeText(...at)}, smallest radius ${minBendRadius} mm.`,
				subjects: [trace.id],
				at,
				value,
				limit,
			};
		});
	});
}

function bendLimits(radius: number): BendLimits {
	const step = 2 * Math.acos(Math.max(-1, 1 - CHORD_ERROR / radius));
	const windowLength = 0.45 * Math.PI * radius;
	return {
		radius,
		corner: Math.max(0.35, step + TURN_SLACK),
		windowLength,
		window: Math.max(Math.PI / 2 + TURN_SLACK, (1.01 * windowLength) / radius + step),
		// chord of sagitta e on a circle: 2 sqrt(2 r e - e^2)
		chord: 1.05 * 2 * Math.sqrt(Math.max(0, CHORD_ERROR * (2 * radius - CHORD_ERROR))),
	};
}

const degrees = (angle: number): string => ((angle * 180) / Math.PI).toFixed(0);

function addSharpCorners(spots: TightSpot[], { turn }: Trace, { corner }: BendLimits): void {
	for (let i = 1; i < turn.length - 1; i++) {
		const value = Math.abs(turn[i]!);
		if (value > corner) spots.push({ vertex: i, value, limit: corner, what: `corner of ${degrees(value)} degrees` });
	}
}

/** Runs of net turning in one sense that outgrow what their length allows: the largest sum over a stretch, taken in one pass. */
function addTightRuns(spots: TightSpot[], { turn, along }: Trace, { corner, radius }: BendLimits, sense: 1 | -1): void {
	let surplus = 0;
	for (let i = 1; i < turn.length - 1; i++) {
		if (surplus > 0) surplus = Math.max(0, surplus - (1.02 * (along[i]! - along[i - 1]!)) / radius);
		surplus = Math.max(0, surplus + sense * turn[i]!);
		if (surplus > corner + 1e-9)
			spots.push({
				vertex: i,
				value: surplus,
				limit: corner,
				what: `${degrees(surplus)} degrees more turning than its length allows`,
			});
	}
}

/** Whole bends: vertices of one sense joined by chords an arc of the smallest radius may have. */
function addTightBends(spots: TightSpot[], { turn, along }: Trace, { chord, radius }: BendLimits): void {
	let first = 0;
	let last = 0;
	let total = 0;
	for (let i = 1; i < turn.length; i++) {
		const here = i < turn.length - 1 ? turn[i]! : 0;
		const isEnd = i === turn.length - 1;
		if (Math.abs(here) < STRAIGHT && !isEnd) continue;
		if (!isEnd && total !== 0 && here > 0 === total > 0 && along[i]! - along[last]! <= chord) {
			total += here;
			last = i;
			continue;
		}
		const turning = Math.abs(total);
		if (turning >= SMALLEST_BEND) {
			// the half chords at both ends belong to the arc as well
			const before = along[first]! - along[first - 1]!;
			const after = along[last + 1]! - along[last]!;
			const length =
				along[last]! - along[first]! + (before <= chord ? before / 2 : 0) + (after <= chord ? after / 2 : 0);
			const limit = length / radius + TURN_SLACK;
			if (turning > limit)
				spots.push({
					vertex: (first + last) >> 1,
					value: turning,
					limit,
					what: `bend of ${degrees(turning)} degrees with a radius of about ${(length / turning).toFixed(0)} mm`,
				});
		}
		first = last = i;
		total = here;
	}
}

/** Turning of both senses together within a window that slides along the pipe. */
function addWriggles(spots: TightSpot[], { turn, along }: Trace, { windowLength, window }: BendLimits): void {
	let sum = 0;
	let first = 1;
	for (let i = 1; i < turn.length - 1; i++) {
		sum += Math.abs(turn[i]!);
		while (along[i]! - along[first]! > windowLength) sum -= Math.abs(turn[first++]!);
		if (sum > window)
			spots.push({
				vertex: i,
				value: sum,
				limit: window,
				what: `${degrees(sum)} degrees of turning within ${windowLength.toFixed(0)} mm`,
			});
	}
}

function worstOfPlaces({ along }: Trace, spots: readonly TightSpot[], apart: number): TightSpot[] {
	const places: TightSpot[] = [];
	let last = -Infinity;
	for (const spot of spots.toSorted((a, b) => a.vertex - b.vertex)) {
		const place = places.at(-1);
		const at = along[spot.vertex]!;
		if (!place || at - last > apart) places.push(spot);
		else if (spot.value - spot.limit > place.value - place.limit) places[places.length - 1] = spot;
		last = at;
	}
	return places;
}
