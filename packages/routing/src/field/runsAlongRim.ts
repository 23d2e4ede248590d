import {
	boundingBox,
	difference,
	distance,
	largestFirst,
	offset,
	type Path,
	type Point,
	pathLength,
	pointBetween,
	type Region,
	type Ring,
	regionArea,
	rotate,
} from "@oxturn/geometry";
import { closedPath, comesNear, stretchesIn } from "../boxes.ts";
import { pieceBetween } from "./alongLines.ts";
import { armOf, gapToArm, joinedTo, type StripOptions } from "./arms.ts";
import { gentleProfile, type Profile, sectionsOf, withoutArms } from "./profile.ts";
import { roundOutline } from "./roundOutline.ts";
import type { Field, SerpentineOptions } from "./serpentine.ts";
import { mapped } from "./shapes.ts";
import { slottedStrips } from "./slottedStrip.ts";
import { take } from "./take.ts";

/*
 * Runs along a floor that is narrow and long, such as a hall beside a bundle of tails: they follow its rim and its
 * steps, and lead round its corners into its arms.
 */

/** Floors wider than this, in spacings, are wide enough for other fields. */
const NARROW = 6;
/** And those not so many times longer than wide have no length to lay runs along. */
const LONG = 2;
/** Arms of less floor than this, in squares of the spacing, are left out. */
const LEAST_ARM = 4;
/** Runs lie along a strip where it is as wide as this, in spacings, or as the pipe returns in. */
const LEAST_WIDTH = 0.75;
/** A pipe this near to the rim, in spacings, warms it: tails do, and runs of other zones lie farther off. */
const WARMING = 0.9;
/** Where tails warm this share of the rim or more, the outermost runs may lie so far off it, in spacings. */
const MOSTLY = 0.5;
const OFF_RIM = 0.3;
/** The rim is looked at every so many spacings. */
const LOOK = 1;
/** Ways of laying a floor that are tried. */
const MOST_FIELDS = 4;
/** A trunk is known to this, mm. */
const KNOWN = 1;
/** Directions that a floor may be long in. */
const MOST_DIRECTIONS = 2;

/** About how wide a long floor is, however it bends, mm. */
const meanWidth = (floor: Region): number => (2 * regionArea(floor)) / pathLength(closedPath(floor.outer));

/** Whether a floor is narrow enough and long enough along y. */
function isLong(floor: Region, spacing: number): boolean {
	const [, low, , high] = boundingBox(floor.outer);
	const mean = regionArea(floor) / (high - low);
	return mean <= NARROW * spacing && high - low >= LONG * mean;
}

/** Outlines of runs along a trunk along y and along the arms beside it. */
function* withArms(floor: Region, sections: Profile, trunk: Profile, options: StripOptions): Generator<Region> {
	const profile = gentleProfile(trunk, options);
	if (!profile) return;
	const ends = [trunk[0]!.at, trunk.at(-1)!.at] as const;
	const body = pieceBetween(trunk, [trunk.map(({ from }) => from), trunk.map(({ to }) => to)], ends, KNOWN);
	if (!isLong(body, options.spacing)) return;
	const isRightOf = ({ outer }: Region): boolean => {
		const [x0, y0, x1, y1] = boundingBox(outer);
		const beside = trunk[sections.findLastIndex(({ at }) => at <= (y0 + y1) / 2)] ?? trunk[0]!;
		return x0 + x1 > beside.from + beside.to;
	};
	const arms = difference([floor], offset([body], gapToArm(options)))
		.filter((piece) => regionArea(piece) > LEAST_ARM * options.spacing ** 2)
		.flatMap((piece) => armOf(piece, isRightOf(piece), options) ?? []);
	for (const outline of slottedStrips(profile, options)) {
		let whole: Region | undefined = outline;
		for (const arm of arms) whole = whole && joinedTo(whole, arm);
		if (whole) yield whole;
	}
}

/** Outlines of runs along a floor, if it is narrow and long along y. */
function* outlinesAlong(floor: Region, options: StripOptions): Generator<Region> {
	const { spacing } = options;
	const sections = sectionsOf(floor, spacing);
	const trunk = withoutArms(sections, spacing);
	if (trunk) yield* withArms(floor, sections, trunk, options);
	else if (isLong(floor, spacing)) {
		const profile = gentleProfile(sections, options);
		if (profile) yield* slottedStrips(profile, options);
	}
}

/**
 * Whether tails pass along most of a floor's rim, and warm it. A strip at a wall here and there is then no colder for runs
 * that lie off the rim than strips between runs would be.
 */
function isWarmAround({ outer }: Region, { spacing, others }: RunsAlongRimOptions): boolean {
	const [minX, minY, maxX, maxY] = boundingBox(outer);
	const reach = WARMING * spacing;
	const passing = stretchesIn(others, [minX - reach, minY - reach, maxX + reach, maxY + reach]);
	if (passing.length === 0) return false;
	const places = placesAlong(closedPath(outer), LOOK * spacing);
	const warm = places.filter((place) => passing.some((path) => comesNear(path, place, reach)));
	return warm.length >= MOSTLY * places.length;
}

/** Places on a path, one every `step` mm. */
function placesAlong(path: Path, step: number): Point[] {
	const places: Point[] = [];
	let next = step / 2;
	for (let i = 1; i < path.length; i++) {
		const [a, b] = [path[i - 1]!, path[i]!];
		const length = distance(a, b);
		for (; next < length; next += step) places.push(pointBetween(a, b, next / length));
		next -= length;
	}
	return places;
}

/** How far a floor reaches along a direction, mm. */
function extentAlong({ outer }: Region, direction: number): number {
	const [cos, sin] = [Math.cos(direction), Math.sin(direction)];
	const along = outer.map(([x, y]) => x * cos + y * sin);
	return Math.max(...along) - Math.min(...along);
}

interface RunsAlongRimOptions extends Omit<SerpentineOptions, "direction" | "rim"> {
	readonly directions: readonly number[];
	/** Pipes that lie already. */
	readonly others: readonly Path[];
}

/** Fields of runs along a floor that is narrow and long, whichever of the directions that is in; none where it is not. */
export const runsAlongRim = (options: RunsAlongRimOptions): Field[] => take(fieldsAlong(options), MOST_FIELDS);

function* fieldsAlong(options: RunsAlongRimOptions): Generator<Field> {
	const { spacing, minBendRadius } = options;
	const [floor] = largestFirst(options.floor);
	if (!floor || floor.holes.length > 0 || meanWidth(floor) > NARROW * spacing) return;
	const minGap = Math.max(2 * minBendRadius, options.apart);
	const leastWidth = Math.min(minGap, LEAST_WIDTH * spacing);
	const mostOffRim = isWarmAround(floor, options) ? OFF_RIM * spacing : 0;
	const stripOptions = { spacing, minGap, leastWidth, mostOffRim };
	const rounding = { minRadius: minBendRadius, radius: Math.max(minBendRadius, spacing / 2) };
	const longestFirst = options.directions
		.slice(0, MOST_DIRECTIONS)
		.sort((a, b) => extentAlong(floor, b) - extentAlong(floor, a));
	for (const direction of longestFirst) {
		const angle = Math.PI / 2 - direction;
		const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
		let isAny = false;
		const turned = mapped(floor, (p) => rotate(p, cos, sin));
		for (const { outer } of outlinesAlong(turned, stripOptions)) {
			const ring = roundOutline(outer, rounding);
			if (!ring) continue;
			isAny = true;
			const turnedBack = (points: Ring): Ring => points.map((p) => rotate(p, cos, -sin));
			yield { ring: turnedBack(ring), outline: turnedBack(outer), rounding, reached: 1 };
		}
		if (isAny) return;
	}
}
