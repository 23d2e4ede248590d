import type { Floor, Layout } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import { layOutManifolds } from "../manifold/layOutManifolds.ts";
import { type Box, boxAround, toPaper, unionOfBoxes, type View } from "../paper.ts";
import { pen } from "../tokens.ts";
import { WALL } from "./drawRooms.ts";

/** What the plan takes up round the floor's origin at `scale`, mm on paper: walls and port labels included. */
export function planExtent(floor: Floor, layout: Layout, scale: number): Box {
	const view: View = { scale, origin: [0, 0] };
	const drawn: readonly (readonly Point[])[] = [
		...floor.rooms.map((room) => room.region.outer),
		...floor.doorways.map((doorway) => doorway.region.outer),
		...floor.keepouts.map((keepout) => keepout.region.outer),
		...layout.features.map((loop) => loop.geometry.coordinates),
		...floor.manifolds.map((manifold) => [manifold.position]),
	];
	const points = drawn.flat().map((p) => toPaper(view, p));
	if (points.length === 0) return { left: 0, top: 0, right: 0, bottom: 0 };
	const strips = layOutManifolds(floor, layout, view, WALL).flatMap((manifold) => manifold.boxes);
	return unionOfBoxes([boxAround(points, WALL / scale + pen.medium), ...strips]);
}
