import type { LoopFeature } from "oxturn";
import type { ManifoldFeature } from "../document/draft.ts";

/**
 * The way a manifold's pipes leave, degrees anticlockwise from +x: square to its wall, along which every loop's return
 * port lies to the right of its flow port as seen from the room; as its facing says where it feeds no loop.
 */
export function facingOfPorts({ id, properties }: ManifoldFeature, loops: readonly LoopFeature[]): number {
	const { coordinates = [] } = loops.find((loop) => loop.properties.manifold === id)?.geometry ?? {};
	const [flow, back] = [coordinates[0], coordinates.at(-1)];
	if (!flow || !back || (flow[0] === back[0] && flow[1] === back[1])) return properties.facing;
	const square = (Math.atan2(back[1] - flow[1], back[0] - flow[0]) * 180) / Math.PI - 90;
	// no full turn away from what the document says
	return square + 360 * Math.round((properties.facing - square) / 360);
}
