import type { LoopFeature, Point } from "oxturn";
import type { ManifoldFeature } from "../document/draft.ts";
import { portPlaces } from "./portPlaces.ts";
import { halvesOf } from "./shapes.ts";

/** Where loops carry their ids, in their middles and at their ports, mm; `px` is what a pixel is on the floor. */
export function idPlaces(
	manifolds: readonly ManifoldFeature[],
	loops: readonly LoopFeature[],
	px: number,
): readonly Point[] {
	return [
		...loops.map(({ geometry }) => halvesOf(geometry.coordinates).middle),
		...manifolds.flatMap((manifold) => portPlaces(manifold, loops, px).map(({ at }) => at)),
	];
}
