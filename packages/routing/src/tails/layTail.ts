import {
	add,
	type Curve,
	cross,
	curvesBetween,
	distance,
	dot,
	flattenCurve,
	type Path,
	type Point,
	type Pose,
	scale,
	subtract,
} from "@oxturn/geometry";
import { type ClearanceRules, clearOfPipes, staysOnFloor } from "./clearance.ts";
import type { TailEnd } from "./leads.ts";
import { ahead, poseAt, positionOf, stretch, type Track, type Way } from "./tracks.ts";

export interface LayTailOptions {
	readonly port: Pose;
	readonly track: Track;
	readonly way: Way;
	/** The place at the wall where the zone begins. */
	readonly entry: Point;
	readonly others: readonly Path[];
	readonly rules: ClearanceRules;
	/** Whether many go the same way, so that they have to fan out while they are near to their ports. */
	readonly isFan?: boolean;
}

/** A tail from its port along its track to the zone's entry, and the places where it may leave for the field. */
export interface Tail {
	/** Up to the entry. */
	readonly path: Path;
	readonly ends: readonly TailEnd[];
	/** Places farther on, for fields that begin well behind the entry. */
	readonly later: readonly TailEnd[];
	/** Where it would be so many mm behind the entry. */
	readonly placeAt: (farther: number) => Point;
	/** The same tail to an entry so many mm farther on. */
	readonly continued: (farther: number) => Tail | undefined;
}

const STEP = 60;
const BEFORE_ENTRY = 480;
const AFTER_ENTRY = 240;
const LATER_STEP = 160;
const LATER_REACH = 3200;

/** A track that comes no nearer to a zone than this, mm, has turned back before it, where the floor is too narrow. */
const FAR_OFF = 1500;

const unit = (heading: number): Point => [Math.cos(heading), Math.sin(heading)];

/** Sine of an angle below which two directions are one. */
const PARALLEL = 0.05;

interface Ramp {
	/** Straight on from the port before the curve, mm. */
	readonly straight?: number;
	readonly curve: Curve;
	readonly from: number;
	readonly cost: number;
}

/** Ways from the port on to the track, the nearest first: a pipe that cuts across would bar the next one's way. */
function ramps(options: LayTailOptions, foot: number): Ramp[] {
	const { port, track, way, rules } = options;
	const found: Ramp[] = [];
	// The quarter turn that lands on the track without a slant comes first.
	const places = [rules.minBendRadius];
	for (let along = 0; along <= 12 * rules.minBendRadius; along += 20) places.push(along);
	for (const along of places) {
		const pose = poseAt(track, foot + way * along, way);
		if (!pose.exact) continue;
		for (const curve of curvesBetween(port, pose, rules.minBendRadius).slice(0, 2)) {
			if (curve.turning > 1.2 * Math.PI) continue;
			found.push({ curve, from: along, cost: curve.length + curve.turning * rules.minBendRadius });
		}
	}
	for (const from of places) {
		const pose = poseAt(track, foot + way * from, way);
		if (!pose.exact) continue;
		const early = rampBefore(port, pose, rules);
		if (early) found.push({ ...early, from });
		break;
	}
	return found.sort((a, b) => a.cost - b.cost);
}

/** Slants of a fan reach so far along the track, the longest first, mm. */
const FAN_REACH = 600;
const FAN_STEP = 5;
/** So far before its end the apron's closer limit is not made use of, mm: whole pieces of pipe are granted it or not. */
const FAN_MARGIN = 40;

/**
 * Ways on to the track by a slant at half of the turn, which begins the sooner the longer it is: pipes that turn one
 * behind the other in a quarter circle have to stay beside each other until the last of them turns, and there is the apron
 * at an end.
 */
function slants({ port, track, way, rules }: LayTailOptions, foot: number): Ramp[] {
	const { minBendRadius } = rules;
	const outward = unit(port.heading);
	const found: Ramp[] = [];
	for (let reach = FAN_REACH; reach > 0; reach -= FAN_STEP) {
		const from = minBendRadius + reach;
		const pose = poseAt(track, foot + way * from, way);
		const straight = dot(subtract(pose.at, port.at), outward) - from;
		if (!pose.exact || straight < 0 || Math.abs(dot(unit(pose.heading), outward)) > PARALLEL) continue;
		const start = { at: add(port.at, scale(outward, straight)), heading: port.heading };
		const [curve] = curvesBetween(start, pose, minBendRadius);
		if (curve) found.push({ straight, curve, from, cost: 0 });
	}
	return found;
}

/**
 * Straight on from the port and round on to the line of a pose, where that is before the pose: in an acute corner a
 * track begins so far ahead that any other way to it cuts across those behind it.
 */
function rampBefore(port: Pose, pose: Pose, { minBendRadius }: ClearanceRules): Omit<Ramp, "from"> | undefined {
	const outward = unit(port.heading);
	const along = unit(pose.heading);
	const turn = cross(outward, along);
	if (Math.abs(turn) < PARALLEL) return undefined;
	const between = subtract(pose.at, port.at);
	const straight = cross(between, along) / turn;
	const behind = cross(outward, between) / turn;
	const ease = minBendRadius * Math.tan(Math.atan2(Math.abs(turn), dot(outward, along)) / 2);
	const gap = behind - ease;
	if (straight < ease || gap < 0) return undefined;
	const landing = { at: subtract(pose.at, scale(along, gap)), heading: pose.heading };
	const curve = curvesBetween(port, landing, minBendRadius)[0];
	return curve && { curve, cost: curve.length + gap + curve.turning * minBendRadius };
}

/** Slants first where tails fan out; other ways on to the track are looked for only where none of them serves. */
function* waysOn(options: LayTailOptions, foot: number): Generator<Ramp> {
	if (options.isFan) yield* slants(options, foot);
	yield* ramps(options, foot);
}

/** Undefined when the tail cannot come on to its track clear of what has been placed. */
export function layTail(options: LayTailOptions): Tail | undefined {
	const { port, track, way, rules } = options;
	const outward = unit(port.heading);
	const foot = positionOf(track, add(port.at, scale(outward, 10)));
	const there = positionOf(track, options.entry);
	if (distance(poseAt(track, there, way).at, options.entry) > FAR_OFF) return undefined;
	const entry = ahead(track, foot, there, way);
	const reach = entry > track.length * 0.75 ? 0 : entry;
	const fanRules = { ...rules, apronReach: rules.apronReach - FAN_MARGIN };
	for (const ramp of waysOn(options, foot)) {
		if (ramp.from > reach + AFTER_ENTRY) continue;
		const near = ramp.straight === undefined ? rules : fanRules;
		const points = ramp.straight ? [port.at, ...flattenCurve(ramp.curve)] : flattenCurve(ramp.curve);
		if (!staysOnFloor(points, rules) || !clearOfPipes(points, options.others, near)) continue;
		const pathTo = (length: number): Path => {
			const run = length - ramp.from;
			if (run < 1) return points;
			const onTrack = stretch(track, foot + way * ramp.from, run, way);
			return distance(points.at(-1)!, onTrack[0]!) < 1 ? [...points.slice(0, -1), ...onTrack] : [...points, ...onTrack];
		};
		const whole = pathTo(Math.max(reach, ramp.from));
		if (!clearOfPipes(whole, options.others, rules)) continue;
		const tail = tailAlong({ track, start: foot, way, reach, from: ramp.from, pathTo });
		if (tail) return { ...tail, path: whole };
	}
	return undefined;
}

export interface TailAlongOptions {
	readonly track: Track;
	/** Position on the track from which lengths are counted, mm. */
	readonly start: number;
	readonly way: Way;
	/** How far it is to the zone's entry, mm. */
	readonly reach: number;
	/** The first length at which it may leave the track, mm. */
	readonly from: number;
	/** The last one, mm. */
	readonly longest?: number;
	readonly pathTo: (length: number) => Path;
}

/** Most ends are never tried, so their paths are made when they are. */
function endAt(pose: Pose, makePath: () => Path): TailEnd {
	let path: Path | undefined;
	return {
		pose,
		get path() {
			path ??= makePath();
			return path;
		},
	};
}

/** A tail that follows a track, with the places where it may leave for its field. */
export function tailAlong(options: TailAlongOptions): Tail | undefined {
	const { track, start, way, reach, from, longest = Infinity, pathTo } = options;
	const endsBetween = (first: number, last: number, step: number): TailEnd[] => {
		const ends: TailEnd[] = [];
		for (let at = Math.max(from, first); at <= Math.min(Math.max(from, last), longest); at += step) {
			const pose = poseAt(track, start + way * at, way);
			if (pose.exact) ends.push(endAt(pose, () => pathTo(at)));
		}
		return ends;
	};
	const ends = endsBetween(reach - BEFORE_ENTRY, reach + AFTER_ENTRY, STEP);
	const later = endsBetween(reach + AFTER_ENTRY, reach + LATER_REACH, LATER_STEP);
	if (ends.length + later.length === 0) return undefined;
	return {
		path: pathTo(Math.max(reach, from)),
		ends,
		later,
		placeAt: (farther) => poseAt(track, start + way * (Math.max(reach, from) + farther), way).at,
		continued: (farther) => {
			const next = Math.max(reach, from) + farther;
			return next > longest ? undefined : tailAlong({ ...options, reach: next });
		},
	};
}
