import type { Point, Region, Ring } from "@oxturn/geometry";
import { featureCollection, intersect, polygon } from "@turf/turf";
import { findContact } from "./findContact.ts";
import { type Box, boxesAreNear, boxOf, cornerAt, isInsideRegion, perimeter, regionArea, ringsOf } from "./rings.ts";
import { distanceBetweenSegments, distanceToSegment } from "./segments.ts";

type Edge = readonly [Point, Point];

function edgesOf(ring: Ring): Edge[] {
	return ring.map((a, i) => [a, cornerAt(ring, i + 1)]);
}

function edgesNear(region: Region, box: Box, margin: number): Edge[] {
	return ringsOf(region)
		.flatMap(edgesOf)
		.filter((edge) => boxesAreNear(boxOf(edge), box, margin));
}

/** Distance from `p` to the region, mm; 0 inside it. */
export function distanceToRegion(p: Point, region: Region): number {
	if (isInsideRegion(p, region)) return 0;
	return nearestEdges(p, region).reduce((least, { distance }) => Math.min(least, distance), Infinity);
}

/** For each ring of the region its edge nearest to `p`, with the distance in mm. */
export function nearestEdges(p: Point, region: Region): { edge: Edge; distance: number }[] {
	return ringsOf(region).map((ring) => {
		let nearest: { edge: Edge; distance: number } = { edge: [p, p], distance: Infinity };
		for (const edge of edgesOf(ring)) {
			const distance = distanceToSegment(p, ...edge);
			if (distance < nearest.distance) nearest = { edge, distance };
		}
		return nearest;
	});
}

/** Whether two regions overlap or come within `margin` mm of each other. */
export function regionsTouch(a: Region, b: Region, margin: number): boolean {
	const boxA = boxOf(a.outer);
	const boxB = boxOf(b.outer);
	if (!boxesAreNear(boxA, boxB, margin)) return false;
	if (isInsideRegion(a.outer[0]!, b) || isInsideRegion(b.outer[0]!, a)) return true;
	const edgesB = edgesNear(b, boxA, margin).map((edge) => ({ edge, box: boxOf(edge) }));
	return edgesNear(a, boxB, margin).some((edgeA) => {
		const box = boxOf(edgeA);
		return edgesB.some(
			(other) => boxesAreNear(box, other.box, margin) && distanceBetweenSegments(...edgeA, ...other.edge) <= margin,
		);
	});
}

function toPolygon(region: Region) {
	return polygon(ringsOf(region).map((ring) => [...ring, ring[0]!].map(([x, y]) => [x, y])));
}

/**
 * Area that two regions share, mm2, slivers left out: pieces whose mean thickness (twice the area over the length
 * round it) is not more than `sliver` mm.
 */
export function overlapArea(a: Region, b: Region, sliver: number): number {
	const isApart =
		!findContact([...ringsOf(a), ...ringsOf(b)]) && !isInsideRegion(a.outer[0]!, b) && !isInsideRegion(b.outer[0]!, a);
	if (isApart) return 0;

	const shared = intersect(featureCollection([toPolygon(a), toPolygon(b)]));
	if (!shared) return 0;
	const { geometry } = shared;
	const pieces = geometry.type === "Polygon" ? [geometry.coordinates] : geometry.coordinates;
	let area = 0;
	for (const piece of pieces) {
		const [outer, ...holes] = piece.map((ring) => ring.slice(0, -1).map(([x, y]): Point => [x!, y!]));
		if (!outer) continue;
		const pieceArea = regionArea({ outer, holes });
		const around = [outer, ...holes].reduce((length, ring) => length + perimeter(ring), 0);
		if ((2 * pieceArea) / around > sliver) area += pieceArea;
	}
	return area;
}
