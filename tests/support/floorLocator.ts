import type { Floor } from "@oxturn/floor";
import type { Point, Region, Ring } from "@oxturn/geometry";
import * as turf from "@turf/turf";

/** Rooms and doorways that are no farther apart than twice this are one floor; flattening and rounding, mm. */
const SLACK = 1.5;
/** Places looked at round a pipe. */
const ROUND = 8;

/** Tells what a place on the floor belongs to, by means of a library that routing knows nothing of. */
export interface FloorLocator {
	/** The room or doorway at a place, rooms first; undefined in a wall, a hole or outside. */
	readonly partAt: (place: Point) => string | undefined;
	/** Whether a circle lies on floor of rooms and doorways, clear of keep-outs. */
	readonly isFloor: (centre: Point, radius: number) => boolean;
}

interface Part {
	readonly id: string;
	readonly rings: readonly Ring[];
	readonly polygon: ReturnType<typeof turf.polygon>;
	/** x0, y0, x1, y1 in mm. */
	readonly box: readonly [number, number, number, number];
}

const closed = (ring: Ring): [number, number][] => [...ring, ring[0]!].map(([x, y]) => [x, y]);

function partOf(id: string, { outer, holes }: Region): Part {
	const xs = outer.map(([x]) => x);
	const ys = outer.map(([, y]) => y);
	return {
		id,
		rings: [outer, ...holes],
		polygon: turf.polygon([closed(outer), ...holes.map(closed)]),
		box: [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)],
	};
}

function distanceToRing([x, y]: Point, ring: Ring): number {
	let nearest = Infinity;
	for (const [i, [bx, by]] of ring.entries()) {
		const [ax, ay] = ring.at(i - 1)!;
		const [dx, dy] = [bx - ax, by - ay];
		const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)));
		nearest = Math.min(nearest, Math.hypot(ax + t * dx - x, ay + t * dy - y));
	}
	return nearest;
}

/** How far a place lies from the outline of a part, mm; negative outside. */
function depthIn({ rings, polygon }: Part, place: Point): number {
	const away = Math.min(...rings.map((ring) => distanceToRing(place, ring)));
	return turf.booleanPointInPolygon([...place], polygon) ? away : -away;
}

const isNear = ({ box: [x0, y0, x1, y1] }: Part, [x, y]: Point, reach: number): boolean =>
	x > x0 - reach && x < x1 + reach && y > y0 - reach && y < y1 + reach;

export function floorLocator(floor: Floor): FloorLocator {
	const parts = [...floor.rooms, ...floor.doorways].map(({ id, region }) => partOf(id, region));
	const keepouts = floor.keepouts.map(({ id, region }) => partOf(id, region));
	const blocks = (place: Point, reach: number): boolean =>
		keepouts.some((part) => isNear(part, place, reach) && depthIn(part, place) > SLACK - reach);
	const isOnFloor = (place: Point): boolean =>
		parts.some((part) => isNear(part, place, SLACK) && depthIn(part, place) > -SLACK);
	return {
		partAt: (place) =>
			parts.find((part) => isNear(part, place, 0) && turf.booleanPointInPolygon([...place], part.polygon))?.id,
		isFloor: (centre, radius) => {
			if (blocks(centre, radius)) return false;
			const depths = parts.filter((part) => isNear(part, centre, radius + SLACK)).map((part) => depthIn(part, centre));
			if (depths.some((depth) => depth >= radius - SLACK)) return true;
			if (!depths.some((depth) => depth > -SLACK)) return false;
			// Partly in one room or doorway, partly in another: every side has to be on some floor.
			return Array.from({ length: ROUND }, (_, i): Point => {
				const angle = (2 * Math.PI * i) / ROUND;
				return [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)];
			}).every(isOnFloor);
		},
	};
}
