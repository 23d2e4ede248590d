import type { Floor, Layout, LoopFeature, Notice } from "@oxturn/floor";
import { difference, distance, type Point, pathLength, regionContains, nearestOnRing } from "@oxturn/geometry";
import { routeRoom } from "./routeRoom.ts";
import type { RouteOptions } from "./types.ts";

const round = (p: Point): Point => [Math.round(p[0] * 1000) / 1000, Math.round(p[1] * 1000) / 1000];

/** Routes every heated room from the manifold that stands in it. */
export function routeFloor(floor: Floor, options: RouteOptions = {}): Layout {
	const features: LoopFeature[] = [];
	const notices: Notice[] = [];
	for (const room of floor.rooms) {
		if (!room.heated) continue;
		const manifold = floor.manifolds.find(
			(m) => regionContains(room.region, m.position) || nearestOnRing(room.region.outer, m.position).distance < 100,
		);
		if (!manifold) continue;
		const pieces = difference([room.region], floor.keepouts.map((k) => k.region));
		const piece = pieces.map((p) => ({ p, d: regionContains(p, manifold.position) ? 0 : nearestOnRing(p.outer, manifold.position).distance })).sort((a, b) => a.d - b.d)[0];
		if (!piece) continue;
		const routed = routeRoom({ room, floor: piece.p, manifold, system: floor.system, pattern: options.pattern ?? room.pattern });
		for (const loop of routed.loops) {
			const coordinates = loop.path.map(round).filter((p, i, all) => i === 0 || distance(p, all[i - 1]!) > 0.005);
			features.push({
				type: "Feature",
				id: `L${features.length + 1}`,
				geometry: { type: "LineString", coordinates },
				properties: { kind: "loop", manifold: manifold.id, port: loop.port, rooms: [room.id], pattern: loop.pattern, spacing: loop.spacing, length: Math.round(pathLength(coordinates)) / 1000 },
			});
		}
	}
	return { type: "FeatureCollection", units: "mm", name: floor.name, features, channels: [], notices };
}
