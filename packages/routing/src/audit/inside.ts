import type { AuditFinding } from "../types.ts";
import { KEEPOUT_SLACK, MOST_PIECES, PORT_REACH, WALL_SLACK } from "./limits.ts";
import { contains, edgeDistance, hasEdgeIn, isClear, isInBox, isWithin, type Outline } from "./outline.ts";
import { isNearManifold, type Plan, placeText } from "./plan.ts";
import type { Trace } from "./trace.ts";

/** Faults no farther apart than this along the pipe are one place, mm. */
const SAME_PLACE = 100;

/** Vertices that are first looked at together, in the box round them. */
const RUN = 16;

/**
 * Every loop lies on rooms and doorways and off keep-outs, its skin too except where it leaves a manifold.
 * A run of vertices, or else a straight piece, that stays a pipe's radius from all edges of the room it starts in is
 * settled in one go. Other pieces are halved until they are, down to neighbouring points at most 25 mm (and one pipe)
 * apart, which are looked at one by one.
 */
export function findOutside(plan: Plan, traces: readonly Trace[]): AuditFinding[] {
	const { outerDiameter } = plan.floor.system.pipe;
	const radius = outerDiameter / 2;
	const wantedStep = Math.min(25, Math.max(5, outerDiameter));
	const floor: FreeFloor = {
		spaces: [...plan.rooms, ...plan.doorways].map(({ outline }) => outline),
		keepouts: plan.keepouts.map(({ outline }) => outline),
		margin: radius + 1e-6,
	};
	const excessAt = excessMeter(plan, floor, radius);
	return traces.flatMap((trace) =>
		placesOutside(trace, floor, Math.max(wantedStep, trace.length / MOST_PIECES), excessAt).map(
			({ x, y, excess }): AuditFinding => ({
				rule: "inside",
				message: `Loop "${trace.id}" reaches ${excess.toFixed(1)} mm beyond the free floor at ${placeText(x, y)}.`,
				subjects: [trace.id],
				at: [x, y],
				value: excess,
				limit: 0,
			}),
		),
	);
}

/** Where pipe may lie, and how far off its edges it is safe, mm. */
interface FreeFloor {
	readonly spaces: readonly Outline[];
	readonly keepouts: readonly Outline[];
	readonly margin: number;
}

interface Place {
	x: number;
	y: number;
	excess: number;
	/** Distance along the pipe where it was last seen, mm. */
	last: number;
}

/** The places where one loop leaves the free floor, followed in steps of `step` mm where that is in doubt. */
function placesOutside(
	{ x, y, along }: Trace,
	floor: FreeFloor,
	step: number,
	excessAt: (x: number, y: number) => number,
): Place[] {
	const places: Place[] = [];
	const look = (px: number, py: number, position: number): void => {
		const excess = excessAt(px, py);
		if (excess === 0) return;
		const place = places.at(-1);
		if (!place || position - place.last > SAME_PLACE) places.push({ x: px, y: py, excess, last: position });
		else {
			place.last = position;
			if (excess > place.excess) Object.assign(place, { x: px, y: py, excess });
		}
	};
	/** The space that the pipe is known to be in at the vertex just passed. */
	let home: Outline | undefined;
	/** Looks at stretches `first` up to `last` of the `count` that piece i is cut into. */
	const settle = (i: number, count: number, first: number, last: number): void => {
		const ax = x[i - 1]!;
		const ay = y[i - 1]!;
		const dx = x[i]! - ax;
		const dy = y[i]! - ay;
		const t = first / count;
		const u = last / count;
		home = safeSpace(floor, home, ax + t * dx, ay + t * dy, ax + u * dx, ay + u * dy);
		if (home) return;
		if (last - first === 1) {
			look(ax + u * dx, ay + u * dy, along[i - 1]! + u * (along[i]! - along[i - 1]!));
			return;
		}
		const middle = (first + last) >> 1;
		settle(i, count, first, middle);
		settle(i, count, middle, last);
	};
	look(x[0]!, y[0]!, 0);
	for (let i = 1; i < x.length; i++) {
		if (home && i % RUN === 1 && i + RUN <= x.length && isRunSafe(floor, home, x, y, i - 1, i + RUN)) {
			i += RUN - 1;
			continue;
		}
		const count = Math.max(1, Math.ceil((along[i]! - along[i - 1]!) / step));
		settle(i, count, 0, count);
	}
	return places;
}

/** The space in which the segment a-b stays safely off all edges; looked for first where the pipe was before. */
function safeSpace(
	{ spaces, keepouts, margin }: FreeFloor,
	home: Outline | undefined,
	ax: number,
	ay: number,
	bx: number,
	by: number,
): Outline | undefined {
	const isHome = home !== undefined && isClear(home, ax, ay, bx, by, margin);
	const space = isHome
		? home
		: spaces.find((other) => other !== home && contains(other, ax, ay) && isClear(other, ax, ay, bx, by, margin));
	if (!space) return undefined;
	for (const keepout of keepouts)
		if (!isClear(keepout, ax, ay, bx, by, margin) || contains(keepout, ax, ay)) return undefined;
	return space;
}

/** Whether a run of vertices from `first` up to `end - 1`, which starts in a space, stays safely off all edges. */
function isRunSafe(
	{ keepouts, margin }: FreeFloor,
	home: Outline,
	x: Float64Array,
	y: Float64Array,
	first: number,
	end: number,
): boolean {
	let left = Infinity;
	let right = -Infinity;
	let bottom = Infinity;
	let top = -Infinity;
	for (let i = first; i < end; i++) {
		left = Math.min(left, x[i]!);
		right = Math.max(right, x[i]!);
		bottom = Math.min(bottom, y[i]!);
		top = Math.max(top, y[i]!);
	}
	left -= margin;
	right += margin;
	bottom -= margin;
	top += margin;
	if (hasEdgeIn(home, left, right, bottom, top)) return false;
	for (const { minX, maxX, minY, maxY } of keepouts)
		if (minX <= right && maxX >= left && minY <= top && maxY >= bottom) return false;
	return true;
}

/** Eight directions all round. */
const ROUND = Array.from({ length: 8 }, (_, k) => [Math.cos((k * Math.PI) / 4), Math.sin((k * Math.PI) / 4)] as const);

/** Tells how far the pipe round a point lies beyond the free floor, mm; 0 where all is well. */
function excessMeter(plan: Plan, { spaces, keepouts }: FreeFloor, radius: number): (x: number, y: number) => number {
	const outsideBy = (x: number, y: number): number => {
		if (spaces.some((space) => isWithin(space, x, y, WALL_SLACK))) return 0;
		return spaces.reduce((nearest, space) => Math.min(nearest, edgeDistance(space, x, y)), Infinity);
	};
	const keepoutDepth = (x: number, y: number): number => {
		let depth = 0;
		for (const keepout of keepouts)
			if (isInBox(keepout, x, y, 0) && contains(keepout, x, y)) depth = Math.max(depth, edgeDistance(keepout, x, y));
		return depth > KEEPOUT_SLACK ? depth : 0;
	};
	const beyondBy = (x: number, y: number): number => Math.max(outsideBy(x, y), keepoutDepth(x, y));
	return (x, y) => {
		const centre = beyondBy(x, y);
		if (centre > 0) return centre + radius;
		if (isNearManifold(plan.floor.manifolds, x, y, PORT_REACH)) return 0;
		let excess = 0;
		for (const [dx, dy] of ROUND) excess = Math.max(excess, beyondBy(x + radius * dx, y + radius * dy));
		return excess;
	};
}
