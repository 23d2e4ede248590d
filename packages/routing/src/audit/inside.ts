import type { AuditFinding } from "../types.ts";
import { KEEPOUT_SLACK, MOST_PIECES, PORT_REACH, WALL_SLACK } from "./limits.ts";
import { contains, edgeDistance, isClear, isInBox, isWithin, type Outline } from "./outline.ts";
import { isNearManifold, type Plan, placeText } from "./plan.ts";
import type { Trace } from "./trace.ts";

/** Faults no farther apart than this along the pipe are one place, mm. */
const SAME_PLACE = 100;

/**
 * Every loop lies on rooms and doorways and off keep-outs, its skin too except where it leaves a manifold.
 * A straight piece that stays a pipe's radius from all edges of the room it starts in is settled in one go.
 * Other pieces are halved until they are, down to neighbouring points at most 25 mm (and one pipe) apart,
 * which are looked at one by one.
 */
export function findOutside(plan: Plan, traces: readonly Trace[]): AuditFinding[] {
	const { outerDiameter } = plan.floor.system.pipe;
	const radius = outerDiameter / 2;
	const wantedStep = Math.min(25, Math.max(5, outerDiameter));
	const spaces = [...plan.rooms, ...plan.doorways].map(({ outline }) => outline);
	const keepouts = plan.keepouts.map(({ outline }) => outline);
	const excessAt = excessMeter(plan, spaces, keepouts, radius);

	return traces.flatMap((trace) => {
		const step = Math.max(wantedStep, trace.length / MOST_PIECES);
		const places: { x: number; y: number; excess: number; last: number }[] = [];
		const look = (x: number, y: number, along: number): void => {
			const excess = excessAt(x, y);
			if (excess === 0) return;
			const place = places.at(-1);
			if (!place || along - place.last > SAME_PLACE) places.push({ x, y, excess, last: along });
			else {
				place.last = along;
				if (excess > place.excess) Object.assign(place, { x, y, excess });
			}
		};

		/** The space that the pipe is known to be in at the vertex just passed. */
		let home: Outline | undefined;
		const isSafe = (ax: number, ay: number, bx: number, by: number): boolean => {
			const margin = radius + 1e-6;
			let space = home;
			if (!space || !isClear(space, ax, ay, bx, by, margin)) {
				space = spaces.find(
					(other) => other !== home && contains(other, ax, ay) && isClear(other, ax, ay, bx, by, margin),
				);
			}
			for (const keepout of keepouts)
				if (space && (!isClear(keepout, ax, ay, bx, by, margin) || contains(keepout, ax, ay))) space = undefined;
			home = space;
			return space !== undefined;
		};

		const { x, y, along } = trace;
		look(x[0]!, y[0]!, 0);
		for (let i = 1; i < x.length; i++) {
			const ax = x[i - 1]!;
			const ay = y[i - 1]!;
			const dx = x[i]! - ax;
			const dy = y[i]! - ay;
			const length = along[i]! - along[i - 1]!;
			const count = Math.max(1, Math.ceil(length / step));
			const settle = (first: number, last: number): void => {
				const t = first / count;
				const u = last / count;
				if (isSafe(ax + t * dx, ay + t * dy, ax + u * dx, ay + u * dy)) return;
				if (last - first === 1) {
					look(ax + u * dx, ay + u * dy, along[i - 1]! + u * length);
					return;
				}
				const middle = (first + last) >> 1;
				settle(first, middle);
				settle(middle, last);
			};
			settle(0, count);
		}
		return places.map(
			({ x, y, excess }): AuditFinding => ({
				rule: "inside",
				message: `Loop "${trace.id}" reaches ${excess.toFixed(1)} mm beyond the free floor at ${placeText(x, y)}.`,
				subjects: [trace.id],
				at: [x, y],
				value: excess,
				limit: 0,
			}),
		);
	});
}

/** Tells how far the pipe round a point lies beyond the free floor, mm; 0 where all is well. */
function excessMeter(
	plan: Plan,
	spaces: readonly Outline[],
	keepouts: readonly Outline[],
	radius: number,
): (x: number, y: number) => number {
	const skin = Array.from({ length: 8 }, (_, k) => [
		radius * Math.cos((k * Math.PI) / 4),
		radius * Math.sin((k * Math.PI) / 4),
	]);
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
		for (const [dx, dy] of skin) excess = Math.max(excess, beyondBy(x + dx!, y + dy!));
		return excess;
	};
}
