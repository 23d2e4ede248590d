import { type Path, type Point, pathLength, type Region } from "@oxturn/geometry";
import { closedPath } from "../boxes.ts";
import { type FloorMap, shortfall } from "./coverage.ts";
import { keepsClear } from "./keepsClear.ts";
import { quarterTurns } from "./quarterTurns.ts";
import { runsAlongRim } from "./runsAlongRim.ts";
import { type Field, type Serpentine, serpentine } from "./serpentine.ts";
import { spiral } from "./spiral.ts";

export interface FillFieldOptions {
	/** Where the pipe's centreline may lie. */
	readonly floor: readonly Region[];
	/** The floor to be warmed, for comparing fields. */
	readonly map: FloorMap;
	/** Centre to centre, mm. */
	readonly spacing: number;
	readonly minBendRadius: number;
	readonly pattern: "serpentine" | "spiral" | "auto";
	/** Directions of the runs to try, radians. */
	readonly directions: readonly number[];
	/** Where the tails arrive. */
	readonly gate: Point;
	/** How far a pipe may swell out of `floor` at its rim, mm. */
	readonly rim: number;
	/** No two stretches of pipe come nearer than this, mm. */
	readonly apart: number;
	/** Pipes that lie already: some of them may pass beside the floor. */
	readonly others: readonly Path[];
	/** Longest outline that leaves room for the tails, mm; longer ones come last. */
	readonly longest: number;
	/** How many are tried. Thoroughly, fields that are fine are mirrored too: they are as good, but open elsewhere. */
	readonly care: "hurried" | "usual" | "thorough";
}

export interface FilledField extends Field {
	readonly pattern: "serpentine" | "spiral";
	/** What the field is short of, the lower the better. */
	readonly cost: number;
	/** The part of it that is floor left cold or pipe too long. */
	readonly lack: number;
	/** The part of that which is pipe too long. */
	readonly excess: number;
}

/*
 * The score by which `auto` chooses: floor beyond 0.55 spacing counts once, floor beyond one spacing five times more,
 * every quarter turn as much as 0.08 % of the floor, and an outline too long for its loop rules itself out.
 */
const COLD = 5;
const PER_TURN = 0.0008;
const TOO_LONG = 10;
/** Any excess counts as much as this share of the longest more. */
const AT_ALL = 0.1;

export type FieldTerms = Pick<FillFieldOptions, "map" | "spacing" | "longest">;

/** What a field is short of on a map. */
export function costOfField(field: Field, options: FieldTerms): Pick<FilledField, "cost" | "lack" | "excess"> {
	const closed = closedPath(field.ring);
	const { beyond055, beyond100 } = shortfall(options.map, [closed], options.spacing);
	const over = Math.max(0, pathLength(closed) / options.longest - 1);
	const excess = over > 0 ? TOO_LONG * (AT_ALL + over) : 0;
	const lack = beyond055 + COLD * beyond100 + excess;
	const turns = quarterTurns([...field.ring, field.ring[0]!, field.ring[1]!]);
	return { lack, cost: lack + PER_TURN * turns, excess };
}

/** Directions that every spine is tried in, after one spine has been tried in all. */
const FOLLOWED = 2;
const FOLLOWED_IF_ROUGH = 3;
/** A comb that costs so much more than one that is fine is not followed. */
const NEAR_BEST = 0.01;
/** On a floor where every comb lacks more than this, every direction is followed, and runs are tried closer together. */
const ROUGH = 0.05;
const CLOSER = 0.92;
/** A comb that lacks no more than this is not tried as a zigzag. */
const FINE = 0.025;
/** A field that lacks no more than this is not tried mirrored, unless that is wanted. */
const SUPERB = 0.01;

/** A field that is longer than the longest by more than this share is so in a mirror too, and by another spine. */
const FAR = 0.02;

const isFarTooLong = (field: FilledField | undefined): boolean =>
	field !== undefined && field.lack > TOO_LONG * (AT_ALL + FAR);

/** Long runs that lack more than this give way to short ones on a floor that those do not leave rough. */
const SPARSE = 0.08;
/** Where a field that is fine has fewer quarter turns per mm of pipe, its runs are as long as the floor allows. */
const FEW_TURNS = 0.0008;

const isCalm = ({ lack, cost, ring }: FilledField): boolean =>
	lack < FINE && (cost - lack) / PER_TURN < FEW_TURNS * pathLength(closedPath(ring));

const lacksLess = (field: FilledField | undefined, limit: number): boolean => field !== undefined && field.lack < limit;

/**
 * Every way of filling a field that the pattern allows and that keeps clear of itself, the best first. A shape that no
 * spiral can be made of is filled with serpentines.
 */
export function fillField(options: FillFieldOptions): FilledField[] {
	const found: FilledField[] = [];
	const filled = (pattern: FilledField["pattern"], field: Field | undefined): FilledField | undefined => {
		// Spirals are measured where they are made.
		if (!field || (pattern !== "spiral" && !keepsClear(field.ring, options.apart))) return undefined;
		const { ring, outline, rounding, reached } = field;
		const { cost, lack, excess } = costOfField(field, options);
		return { ring, outline, rounding, reached, pattern, cost, lack, excess };
	};
	const add = (pattern: FilledField["pattern"], field: Field | undefined): FilledField | undefined => {
		const one = filled(pattern, field);
		if (one) found.push(one);
		return one;
	};
	if (options.pattern !== "spiral") addSerpentines(options, (field) => add("serpentine", field));
	if (options.pattern !== "serpentine") {
		const coil = spiral(options);
		const coiled = add("spiral", coil("arriving"));
		const enough = options.care === "hurried" ? Infinity : SUPERB;
		const isWorthMirroring = !lacksLess(coiled, enough) && !isFarTooLong(coiled);
		if (options.care === "thorough" || isWorthMirroring) add("spiral", coil("leaving"));
	}
	if (options.pattern !== "spiral" && !found.some(isCalm)) {
		const along = runsAlongRim(options).flatMap((field) => filled("serpentine", field) ?? []);
		const mostLack = found.some((field) => lacksLess(field, ROUGH)) ? SPARSE : Infinity;
		found.push(...along.filter((field) => lacksLess(field, mostLack)));
	}
	if (found.length === 0 && options.pattern === "spiral") return fillField({ ...options, pattern: "serpentine" });
	return found.sort((a, b) => a.cost - b.cost);
}

/** How far a floor reaches across a direction, mm. */
function extentAcross(floor: readonly Region[], direction: number): number {
	const [cos, sin] = [Math.cos(direction), Math.sin(direction)];
	let [low, high] = [Infinity, -Infinity];
	for (const { outer } of floor)
		for (const [x, y] of outer) {
			const across = y * cos - x * sin;
			low = Math.min(low, across);
			high = Math.max(high, across);
		}
	return high - low;
}

/** Runs in a direction, so far apart from centre to centre, mm. */
const runsIn = (
	{ floor, minBendRadius, apart, rim }: FillFieldOptions,
	direction: number,
	spacing: number,
): Serpentine => serpentine({ floor, spacing, minBendRadius, apart, direction, rim });

/** One spine in every direction first; the others only where that leaves something to gain. */
function addSerpentines(options: FillFieldOptions, add: (field: Field | undefined) => FilledField | undefined): void {
	const scouted: { readonly direction: number; readonly join: Serpentine; readonly field: FilledField | undefined }[] =
		[];
	const shortestFirst = options.directions
		.map((direction) => ({ direction, across: Math.round(extentAcross(options.floor, direction)) }))
		.sort((a, b) => a.across - b.across);
	for (const { direction } of shortestFirst) {
		const join = runsIn(options, direction, options.spacing);
		const field = add(join("combLeft"));
		scouted.push({ direction, join, field });
		// Runs across a longer way are more in number, and so are their turns: little is left to gain by them.
		if (options.care !== "thorough" && lacksLess(field, options.care === "hurried" ? ROUGH : SUPERB)) break;
	}
	const cost = (field: FilledField | undefined): number => field?.cost ?? Infinity;
	scouted.sort((a, b) => cost(a.field) - cost(b.field));
	const rough = !scouted.some(({ field }) => lacksLess(field, ROUGH));
	if (options.care === "hurried" && cost(scouted[0]?.field) < Infinity) return;
	const [best] = scouted;
	const followed = scouted.slice(0, rough ? FOLLOWED_IF_ROUGH : FOLLOWED);
	if (rough)
		for (const { direction } of followed) {
			const closer = runsIn(options, direction, CLOSER * options.spacing);
			for (const spine of ["combLeft", "combRight"] as const) add(closer(spine));
		}
	for (const { join, field } of followed) {
		if (options.care !== "thorough" && lacksLess(best?.field, FINE) && cost(field) > cost(best?.field) + NEAR_BEST)
			break;
		if (isFarTooLong(field) && !isFarTooLong(best?.field)) break;
		if (options.care === "thorough" || !lacksLess(field, SUPERB)) add(join("combRight"));
		if (lacksLess(field, FINE)) continue;
		for (const spine of ["zigzagLeft", "zigzagRight"] as const) add(join(spine));
	}
}
