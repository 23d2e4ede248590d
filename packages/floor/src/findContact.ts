import type { Point, Ring } from "@oxturn/geometry";
import { cornerAt } from "./rings.ts";
import { orientation, segmentContact } from "./segments.ts";

/** A place where rings meet that should not; `rings` are their indices, equal when a ring meets itself. */
export interface Contact {
	readonly point: Point;
	readonly rings: readonly [number, number];
}

interface Edge {
	readonly ring: number;
	/** The end that the sweep meets first. */
	readonly start: Point;
	readonly end: Point;
}

interface Corner {
	readonly ring: number;
	readonly point: Point;
	readonly edges: readonly [Edge, Edge];
}

/** Left to right, then bottom to top: the same as sweeping with a line that leans a hair. */
function comparePoints(a: Point, b: Point): number {
	return a[0] - b[0] || a[1] - b[1];
}

function samePoint(a: Point, b: Point): boolean {
	return a[0] === b[0] && a[1] === b[1];
}

function cornersOf(ring: Ring, index: number): Corner[] {
	const edges = ring.map((a, i): Edge => {
		const b = cornerAt(ring, i + 1);
		const [start, end] = comparePoints(a, b) < 0 ? [a, b] : [b, a];
		return { ring: index, start, end };
	});
	return ring.map((point, i) => ({ ring: index, point, edges: [edges.at(i - 1)!, edges[i]!] }));
}

/** Neighbours in a ring share one corner, which is no contact; running back over each other is. */
function edgeContact(a: Edge, b: Edge): Point | undefined {
	if (samePoint(a.start, b.start)) return orientation(a.start, a.end, b.end) === 0 ? a.start : undefined;
	if (samePoint(a.end, b.end)) return orientation(a.start, a.end, b.start) === 0 ? a.end : undefined;
	if (samePoint(a.end, b.start) || samePoint(a.start, b.end)) return undefined;
	return segmentContact(a.start, a.end, b.start, b.end);
}

/**
 * Finds a place where the rings cross, touch or run along each other or themselves; `undefined` when they are all
 * simple and apart. Rings have at least three corners and no two equal ones in a row.
 *
 * A line sweeps over the corners and keeps the edges it cuts in order, bottom to top. Edges that meet are neighbours
 * just before they do, so only neighbours are compared: n log n, whatever the shape. Every decision goes through an
 * exact predicate, so the order never lies.
 */
export function findContact(rings: readonly Ring[]): Contact | undefined {
	const corners = rings.flatMap(cornersOf).sort((a, b) => comparePoints(a.point, b.point));
	const cut: Edge[] = [];

	const firstNotBelow = (point: Point): number => {
		let [low, high] = [0, cut.length];
		while (low < high) {
			const middle = (low + high) >> 1;
			if (orientation(cut[middle]!.start, cut[middle]!.end, point) > 0) low = middle + 1;
			else high = middle;
		}
		return low;
	};
	const contactAt = (index: number): Contact | undefined => {
		const below = cut[index];
		const above = cut[index + 1];
		const point = below && above && edgeContact(below, above);
		return point && { point, rings: [below.ring, above.ring] };
	};

	for (const [i, { point, ring, edges }] of corners.entries()) {
		const next = corners[i + 1];
		if (next && samePoint(next.point, point)) return { point, rings: [ring, next.ring] };

		const index = firstNotBelow(point);
		const ending = edges.filter((edge) => edge.end === point);
		const starting = edges.filter((edge) => edge.start === point);
		let count = 0;
		for (let edge = cut[index]; edge && orientation(edge.start, edge.end, point) === 0; edge = cut[index + count]) {
			if (!ending.includes(edge)) return { point, rings: [ring, edge.ring] };
			count++;
		}
		starting.sort((a, b) => -orientation(a.start, a.end, b.end));
		cut.splice(index, count, ...starting);
		for (let k = index - 1; k < index + starting.length; k++) {
			const contact = contactAt(k);
			if (contact) return contact;
		}
	}
	return undefined;
}
