import type { LoopFeature, Point } from "oxturn";
import type { ManifoldFeature } from "../document/draft.ts";
import { facingOfPorts } from "./facingOfPorts.ts";

/** Where the id of a loop stands behind its manifold. */
export interface PortPlace {
	readonly id: string;
	/** The loop's place in the layout. */
	readonly index: number;
	/** Its pair of ports, mm along the wall from the manifold's middle. */
	readonly along: number;
	/** Its id, mm along the wall: ids are spread where ports lie too near for them. */
	readonly spread: number;
	/** Its id on the floor, mm. */
	readonly at: Point;
}

/** The manifold's box reaches this far into the wall, mm. */
export const BOX_DEPTH = 110;
/** Ids stand this far behind the box, px. */
const BEHIND = 22;
/** Room for one id, px: beside each other along a level wall, above each other along an upright one. */
const ROOM = { level: 29, upright: 20 } as const;

/** How far behind the wall ids stand, mm; `px` is what a pixel is on the floor. */
export const idsBehind = (px: number): number => BOX_DEPTH + BEHIND * px;

/** Where the ids of a manifold's loops stand, from left to right as seen from the room; `px` is what a pixel is in mm. */
export function portPlaces(manifold: ManifoldFeature, loops: readonly LoopFeature[], px: number): readonly PortPlace[] {
	const [x, y] = manifold.geometry.coordinates;
	const angle = (facingOfPorts(manifold, loops) * Math.PI) / 180;
	// along the wall, to the right of the way the pipes leave
	const [right, up] = [Math.sin(angle), -Math.cos(angle)];
	const found = loops
		.map((loop, index) => ({ loop, index }))
		.filter(({ loop }) => loop.properties.manifold === manifold.id)
		.map(({ loop, index }) => {
			const [from, to] = [loop.geometry.coordinates[0] ?? [x, y], loop.geometry.coordinates.at(-1) ?? [x, y]];
			const along = ((from[0] + to[0]) / 2 - x) * right + ((from[1] + to[1]) / 2 - y) * up;
			return { id: loop.id, index, along };
		})
		.sort((a, b) => a.along - b.along);
	const isLevel = Math.abs(right) > 0.5;
	const room = (isLevel ? ROOM.level : ROOM.upright) * px;
	const nearest = Math.min(...found.slice(1).map(({ along }, at) => along - (found[at]?.along ?? 0)));
	const pitch = Math.max(room, nearest === Infinity ? 0 : nearest);
	const centre = found.reduce((sum, { along }) => sum + along, 0) / Math.max(1, found.length);
	const behind = idsBehind(px);
	return found.map((one, at) => {
		const spread = centre + (at - (found.length - 1) / 2) * pitch;
		return {
			...one,
			spread,
			at: [x + spread * right - behind * Math.cos(angle), y + spread * up - behind * Math.sin(angle)],
		};
	});
}
