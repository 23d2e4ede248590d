import type { Point, Region } from "@oxturn/geometry";
import { type Box, boxAround, boxAt, boxesOverlap, centroid } from "../paper.ts";

/** A place that a label could take, and how unwelcome it is there (0: perfectly placed). */
export interface Candidate {
	readonly centre: Point;
	readonly cost: number;
}

/** Remembers which parts of the sheet are taken, so that no label lands on another. */
export interface LabelBoard {
	readonly reserve: (box: Box) => void;
	readonly isFree: (box: Box) => boolean;
	/** Takes and returns the cheapest free place; `undefined`, taking nothing, when every candidate is taken. */
	readonly place: (candidates: readonly Candidate[], width: number, height: number) => Point | undefined;
}

// mm on paper: labels closer than this read as one
const AIR = 0.4;

export function labelBoard(): LabelBoard {
	const taken: Box[] = [];
	const isFree = (box: Box): boolean => !taken.some((other) => boxesOverlap(box, other));
	const reserve = (box: Box): void => {
		taken.push({ left: box.left - AIR, top: box.top - AIR, right: box.right + AIR, bottom: box.bottom + AIR });
	};
	return {
		reserve,
		isFree,
		place(candidates, width, height) {
			const ordered = candidates.map((candidate, index) => ({ ...candidate, index }));
			ordered.sort((a, b) => a.cost - b.cost || a.index - b.index);
			for (const { centre } of ordered) {
				const box = boxAt(centre, width, height);
				if (!isFree(box)) continue;
				reserve(box);
				return centre;
			}
			return undefined;
		},
	};
}

/** Places all over a region, row by row from one end of its bounds to the other in so many steps; its middle is the last. */
export function placesOver({ outer }: Region, steps: number): readonly Point[] {
	const { left, right, top, bottom } = boxAround(outer);
	const grid = Array.from({ length: (steps + 1) ** 2 }, (_, i): Point => {
		const [column, row] = [i % (steps + 1), Math.floor(i / (steps + 1))];
		return [left + ((right - left) * column) / steps, top + ((bottom - top) * row) / steps];
	});
	return [...grid, centroid(outer)];
}
