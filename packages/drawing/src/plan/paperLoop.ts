import type { LoopFeature } from "@oxturn/floor";
import { type Point, pointBetween } from "@oxturn/geometry";
import { type Box, boxAt } from "../paper.ts";

/** A loop on paper, mm, with the distance from its flow port to each of its points. */
export interface PaperLoop {
	readonly loop: LoopFeature;
	readonly index: number;
	readonly points: readonly Point[];
	readonly distances: readonly number[];
	readonly length: number;
}

/** Radius of the ring at half of a pipe's length, mm on paper. */
export const RING = 0.75;

export function paperLoop(loop: LoopFeature, index: number, points: readonly Point[]): PaperLoop {
	const distances: number[] = [];
	let length = 0;
	points.forEach((p, i) => {
		const before = points[i - 1];
		if (before !== undefined) length += Math.hypot(p[0] - before[0], p[1] - before[1]);
		distances.push(length);
	});
	return { loop, index, points, distances, length };
}

/** The place `distance` mm along the pipe, and the index of the point after it. */
export function placeAlong(pipe: PaperLoop, distance: number): { readonly at: Point; readonly next: number } {
	const { points, distances } = pipe;
	const found = distances.findIndex((reached, i) => i > 0 && reached >= distance);
	const next = found < 0 ? points.length - 1 : found;
	const a = points[next - 1] ?? points[0]!;
	const b = points[next] ?? a;
	const step = (distances[next] ?? 0) - (distances[next - 1] ?? 0);
	const t = step === 0 ? 0 : (distance - (distances[next - 1] ?? 0)) / step;
	return { at: pointBetween(a, b, t), next };
}

/** Where the ring stands that marks half of the pipe's length. */
export function ringBox(pipe: PaperLoop): Box {
	return boxAt(placeAlong(pipe, pipe.length / 2).at, 2 * RING, 2 * RING);
}
