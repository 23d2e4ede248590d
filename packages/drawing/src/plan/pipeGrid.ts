import type { Point } from "@oxturn/geometry";
import { type Box, segmentMeetsBox } from "../paper.ts";

/** A stretch between two neighbouring points of a pipe. */
export interface PipeSegment {
	/** Index of the pipe in the list that the grid was made from. */
	readonly pipe: number;
	/** Index of the stretch's second point. */
	readonly end: number;
	readonly a: Point;
	readonly b: Point;
}

/** The stretches of pipe that touch a box, each once, in the order of the pipes. */
export type PipeGrid = (box: Box) => PipeSegment[];

const CELL = 6; // mm on paper, a little more than the labels and arrowheads that ask

/** Sorts pipes into square cells, so that placing labels on a big floor does not look at every stretch each time. */
export function pipeGrid(pipes: readonly { readonly points: readonly Point[] }[]): PipeGrid {
	const cells = new Map<string, PipeSegment[]>();
	for (const [pipe, { points }] of pipes.entries())
		for (let end = 1; end < points.length; end++) {
			const [a, b] = [points[end - 1]!, points[end]!];
			const segment: PipeSegment = { pipe, end, a, b };
			for (const key of cellsOf({
				left: Math.min(a[0], b[0]),
				right: Math.max(a[0], b[0]),
				top: Math.min(a[1], b[1]),
				bottom: Math.max(a[1], b[1]),
			})) {
				const held = cells.get(key);
				if (held === undefined) cells.set(key, [segment]);
				else held.push(segment);
			}
		}
	return (box) => {
		const found = new Set<PipeSegment>();
		for (const key of cellsOf(box))
			for (const segment of cells.get(key) ?? []) if (segmentMeetsBox(segment.a, segment.b, box)) found.add(segment);
		return [...found].sort((p, q) => p.pipe - q.pipe || p.end - q.end);
	};
}

/** How many pipes, leaving out the one at index `self`, run through the box. */
export function pipesIn(grid: PipeGrid, box: Box, self?: number): number {
	const met = new Set(grid(box).map(({ pipe }) => pipe));
	if (self !== undefined) met.delete(self);
	return met.size;
}

function cellsOf(box: Box): string[] {
	const keys: string[] = [];
	for (let column = Math.floor(box.left / CELL); column <= Math.floor(box.right / CELL); column++)
		for (let row = Math.floor(box.top / CELL); row <= Math.floor(box.bottom / CELL); row++)
			keys.push(`${column},${row}`);
	return keys;
}
