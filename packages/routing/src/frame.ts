import type { Floor, Manifold } from "@oxturn/floor";
import { degrees, type Path, type Point, type Region, type Ring, radians, rotate, subtract } from "@oxturn/geometry";
import { wallDirections } from "./field/wallDirections.ts";

/** A frame of a room's own: manifold at the origin, its longest walls along x. A room is routed alike however it lies. */
export interface Frame {
	readonly origin: Point;
	/** Of the frame's x axis, radians. */
	readonly angle: number;
}

/** Positions (mm) and facings (degrees) in the frame are rounded to this, so that rounding after a turn decides nothing. */
const GRID = 0.01;

/** Facings of 0 and 90 degrees in the frame lie well inside the half turn that starts here, radians. */
const HALF_TURN_FROM = -Math.PI / 4;

export function frameOf(floor: Region, manifold: Manifold): Frame {
	const wall = wallDirections([floor.outer], 1)[0] ?? 0;
	const facing = radians(manifold.facing) - wall - HALF_TURN_FROM;
	const turns = Math.floor(facing / Math.PI);
	return { origin: manifold.position, angle: wall + turns * Math.PI };
}

/** Never -0, which is another number to a fingerprint. */
const snap = (value: number): number => Math.round(value / GRID) * GRID + 0;

function intoFrame(frame: Frame, p: Point): Point {
	const [x, y] = rotate(subtract(p, frame.origin), Math.cos(frame.angle), -Math.sin(frame.angle));
	return [snap(x), snap(y)];
}

/** The ring from its leftmost point on, the lowest of them: where a drawing begins must not matter. */
function fromLeftmost(ring: Ring): Ring {
	let first = 0;
	for (const [i, [x, y]] of ring.entries()) {
		const [leftX, leftY] = ring[first]!;
		if (x < leftX || (x === leftX && y < leftY)) first = i;
	}
	return [...ring.slice(first), ...ring.slice(0, first)];
}

export function regionInFrame(frame: Frame, region: Region): Region {
	const ring = (points: Ring): Ring => fromLeftmost(points.map((p) => intoFrame(frame, p)));
	return { outer: ring(region.outer), holes: region.holes.map(ring) };
}

export function manifoldInFrame(frame: Frame, manifold: Manifold): Manifold {
	const turned = snap(manifold.facing - degrees(frame.angle)) % 360;
	return { ...manifold, position: intoFrame(frame, manifold.position), facing: turned < 0 ? turned + 360 : turned };
}

/** A whole floor in the frame. */
export function floorInFrame(frame: Frame, floor: Floor): Floor {
	const turned = <Feature extends { readonly region: Region }>(feature: Feature): Feature => ({
		...feature,
		region: regionInFrame(frame, feature.region),
	});
	return {
		...floor,
		rooms: floor.rooms.map(turned),
		doorways: floor.doorways.map(turned),
		keepouts: floor.keepouts.map(turned),
		manifolds: floor.manifolds.map((manifold) => manifoldInFrame(frame, manifold)),
	};
}

/** A path in the frame, back on the floor, with every coordinate rounded by `round`. */
export function outOfFrame({ origin, angle }: Frame, path: Path, round: (coordinate: number) => number): Point[] {
	const cos = Math.cos(angle);
	const sin = Math.sin(angle);
	const x0 = origin[0];
	const y0 = origin[1];
	return path.map((p): Point => [round(p[0] * cos - p[1] * sin + x0), round(p[0] * sin + p[1] * cos + y0)]);
}
