import type { Point, Ring } from "@oxturn/geometry";
import type { Strip } from "./strips.ts";

/*
 * The tree whose outline is the pipe. Lanes (strips between lines 2k and 2k + 1) are its nodes; through each gap
 * between two lanes at most one connector runs, at the left or the right end of the gap or in its middle. Without a
 * cycle the outline is one ring without holes, whatever the shape of the floor.
 */

export type Side = "left" | "right";

/** On which side the connectors run: all on one (a comb) or by turns (a zigzag). */
export type Spine = "combLeft" | "combRight" | "zigzagLeft" | "zigzagRight";

export interface LaneTreeOptions {
	/** Centre to centre, mm. */
	readonly spacing: number;
	/** Smallest length of a run beside a connector: room for the turn at its end, mm. */
	readonly minRun: number;
	readonly spine: Spine;
}

interface Mutable {
	bottomLeft: number;
	bottomRight: number;
	topLeft: number;
	topRight: number;
}

interface Lane extends Mutable {
	readonly index: number;
	readonly level: number;
	readonly bottom: number;
	readonly top: number;
	readonly area: number;
	readonly below: Connector[];
	readonly above: Connector[];
}

/** A bridge through a gap, between the upper side of one lane and the lower side of the next. */
interface Connector {
	readonly lower: Lane;
	readonly upper: Lane;
	readonly lowerFrom: number;
	readonly lowerTo: number;
	readonly upperFrom: number;
	readonly upperTo: number;
}

interface Option {
	readonly gap: Strip;
	readonly lower: Lane;
	readonly upper: Lane;
	readonly place: Side | "middle";
	readonly cost: number;
}

export interface LaneTree {
	/** Outline of the thickened tree, not yet rounded, anticlockwise. */
	readonly outline: Ring;
	/** Share of the lanes' area that the tree takes in. */
	readonly reached: number;
}

const laneOf = (strip: Strip, index: number, level: number): Lane => ({
	bottom: strip.bottom,
	top: strip.top,
	bottomLeft: strip.bottomLeft,
	bottomRight: strip.bottomRight,
	topLeft: strip.topLeft,
	topRight: strip.topRight,
	index,
	level,
	area: ((strip.bottomRight - strip.bottomLeft + strip.topRight - strip.topLeft) / 2) * (strip.top - strip.bottom),
	below: [],
	above: [],
});

function preferredSide(spine: Spine, level: number): Side {
	if (spine === "combLeft") return "left";
	if (spine === "combRight") return "right";
	return (level % 2 === 0) === (spine === "zigzagLeft") ? "left" : "right";
}

function optionsOf(lanes: readonly Lane[], gaps: readonly (readonly Strip[])[], spine: Spine): Option[] {
	const options: Option[] = [];
	const levels: Lane[][] = [];
	for (const lane of lanes) {
		const level = levels[lane.level] ?? [];
		levels[lane.level] = level;
		level.push(lane);
	}
	for (const [level, pieces] of gaps.entries()) {
		const lowers = levels[level] ?? [];
		const uppers = levels[level + 1] ?? [];
		const side = preferredSide(spine, level);
		for (const gap of pieces)
			for (const lower of lowers)
				for (const upper of uppers)
					for (const place of ["left", "right", "middle"] as const)
						options.push({ gap, lower, upper, place, cost: place === side ? 0 : place === "middle" ? 2 : 1 });
	}
	return options;
}

interface Span {
	readonly lowerFrom: number;
	readonly lowerTo: number;
	readonly upperFrom: number;
	readonly upperTo: number;
}

/** The parts of a gap's two sides from which both lanes can be reached. */
function reachOf({ gap, lower, upper }: Option): Span {
	return {
		lowerFrom: Math.max(gap.bottomLeft, lower.topLeft),
		lowerTo: Math.min(gap.bottomRight, lower.topRight),
		upperFrom: Math.max(gap.topLeft, upper.bottomLeft),
		upperTo: Math.min(gap.topRight, upper.bottomRight),
	};
}

/** Where the connector's sides meet the two lines; undefined when it does not fit. */
function connectorSpan(option: Option, spacing: number, minRun: number): Span | undefined {
	const reach = reachOf(option);
	const { gap, place } = option;
	if (reach.lowerTo - reach.lowerFrom < spacing * 0.75 || reach.upperTo - reach.upperFrom < spacing * 0.75)
		return undefined;
	const height = gap.top - gap.bottom;
	if (place === "middle") {
		const from = Math.max(reach.lowerFrom, reach.upperFrom);
		const to = Math.min(reach.lowerTo, reach.upperTo);
		if (to - from < spacing) return undefined;
		const start = (from + to - spacing) / 2;
		return { lowerFrom: start, lowerTo: start + spacing, upperFrom: start, upperTo: start + spacing };
	}
	const left = place === "left";
	const slant = (left ? reach.upperFrom - reach.lowerFrom : reach.upperTo - reach.lowerTo) / height;
	const width = spacing * Math.hypot(1, slant);
	const span: Span = left
		? { ...reach, lowerTo: reach.lowerFrom + width, upperTo: reach.upperFrom + width }
		: { ...reach, lowerFrom: reach.lowerTo - width, upperFrom: reach.upperTo - width };
	// A stub of gap too short for its turn is closed: the connector takes the whole width.
	const restLower = left ? reach.lowerTo - span.lowerTo : span.lowerFrom - reach.lowerFrom;
	const restUpper = left ? reach.upperTo - span.upperTo : span.upperFrom - reach.upperFrom;
	if (Math.min(restLower, restUpper) >= minRun) return span;
	return left
		? {
				...reach,
				lowerTo: Math.min(reach.lowerTo, Math.max(span.lowerTo, reach.upperTo)),
				upperTo: Math.min(reach.upperTo, Math.max(span.upperTo, reach.lowerTo)),
			}
		: {
				...reach,
				lowerFrom: Math.max(reach.lowerFrom, Math.min(span.lowerFrom, reach.upperFrom)),
				upperFrom: Math.max(reach.upperFrom, Math.min(span.upperFrom, reach.lowerFrom)),
			};
}

/*
 * Ends of neighbouring pieces that nearly meet are brought together, so that the pipe runs straight up the wall
 * instead of stepping from piece to piece. Ends only ever move inwards.
 */
function alignEnds(lane: Lane, side: "top" | "bottom", span: Span, threshold: number): void {
	const from = side === "top" ? span.lowerFrom : span.upperFrom;
	const to = side === "top" ? span.lowerTo : span.upperTo;
	const left = side === "top" ? "topLeft" : "bottomLeft";
	const right = side === "top" ? "topRight" : "bottomRight";
	if (from > lane[left] && from - lane[left] < threshold) lane[left] = from;
	if (to < lane[right] && lane[right] - to < threshold) lane[right] = to;
}

/** Joins lanes; returns, by lane, the one that stands for all that hang together with it. */
function grow(lanes: readonly Lane[], options: readonly Option[], spacing: number, minRun: number): number[] {
	const group = lanes.map((_, i) => i);
	const find = (i: number): number => {
		let root = i;
		while (group[root] !== root) root = group[root]!;
		return root;
	};
	const ordered = [...options].sort(
		(a, b) =>
			a.cost - b.cost ||
			a.lower.level - b.lower.level ||
			a.lower.index - b.lower.index ||
			a.upper.index - b.upper.index ||
			a.gap.bottomLeft - b.gap.bottomLeft,
	);
	for (const option of ordered) {
		const a = find(option.lower.index);
		const b = find(option.upper.index);
		if (a === b) continue;
		const span = connectorSpan(option, spacing, minRun);
		if (!span) continue;
		const connector: Connector = { lower: option.lower, upper: option.upper, ...span };
		alignEnds(option.lower, "top", span, minRun);
		alignEnds(option.upper, "bottom", span, minRun);
		option.lower.above.push(connector);
		option.upper.below.push(connector);
		group[a] = b;
	}
	return group.map(find);
}

/** Walks once round a lane and, by way of its connectors, round everything that hangs on it. */
function walk(lane: Lane, entry: Connector | undefined, out: Point[]): void {
	const below = [...lane.below].sort((a, b) => a.upperFrom - b.upperFrom);
	const above = [...lane.above].sort((a, b) => b.lowerFrom - a.lowerFrom);
	const steps: (Point | Connector)[] = [
		[lane.bottomLeft, lane.bottom],
		...below,
		[lane.bottomRight, lane.bottom],
		[lane.topRight, lane.top],
		...above,
		[lane.topLeft, lane.top],
	];
	const start = entry ? steps.indexOf(entry) : -1;
	for (let k = 1; k <= steps.length; k++) {
		const step = steps[(start + k) % steps.length]!;
		if (step === entry) continue;
		if (!("lower" in step)) out.push(step);
		else if (step.upper === lane) {
			out.push([step.upperFrom, lane.bottom], [step.lowerFrom, step.lower.top]);
			walk(step.lower, step, out);
			out.push([step.lowerTo, step.lower.top], [step.upperTo, lane.bottom]);
		} else {
			out.push([step.lowerTo, lane.top], [step.upperTo, step.upper.bottom]);
			walk(step.upper, step, out);
			out.push([step.upperFrom, step.upper.bottom], [step.lowerFrom, lane.top]);
		}
	}
}

/**
 * Joins lanes through the gaps into one tree and walks its outline. `lanes[k]` are the pieces of the k-th lane and
 * `gaps[k]` those of the gap above it, bottom up, lines along x. Undefined when there is no lane.
 */
export function laneTree(
	lanes: readonly (readonly Strip[])[],
	gaps: readonly (readonly Strip[])[],
	options: LaneTreeOptions,
): LaneTree | undefined {
	let count = 0;
	const nodes = lanes.flatMap((pieces, level) => pieces.map((strip) => laneOf(strip, count++, level)));
	if (nodes.length === 0) return undefined;
	const groups = grow(nodes, optionsOf(nodes, gaps, options.spine), options.spacing, options.minRun);
	const areas = nodes.map(() => 0);
	let whole = 0;
	for (const { index, area } of nodes) {
		areas[groups[index]!]! += area;
		whole += area;
	}
	let root = nodes[0]!;
	for (const lane of nodes) if (areas[groups[lane.index]!]! > areas[groups[root.index]!]!) root = lane;
	const outline: Point[] = [];
	walk(root, undefined, outline);
	return { outline, reached: areas[groups[root.index]!]! / whole };
}
