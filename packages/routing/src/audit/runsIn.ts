import { WALL_SLACK } from "./limits.ts";
import { contains, isClear, isWithin, type Outline } from "./outline.ts";
import { type Segments, stretchCount } from "./segments.ts";

/**
 * Calls `visit` for each run of a segment that lies in the outline, from share `from` to share `to` of the segment.
 * A segment is cut into equal stretches of at most 40 mm, and a stretch belongs where its middle lies; parts that
 * stay clear of every edge are settled without cutting.
 */
export function forEachRunIn(
	outline: Outline,
	segments: Segments,
	visit: (segment: number, from: number, to: number) => void,
): void {
	const { loops, ax, ay, bx, by } = segments;
	const left = outline.minX - WALL_SLACK;
	const right = outline.maxX + WALL_SLACK;
	const bottom = outline.minY - WALL_SLACK;
	const top = outline.maxY + WALL_SLACK;
	for (const { start, end, minX, minY, maxX, maxY } of loops) {
		if (maxX < left || minX > right || maxY < bottom || minY > top) continue;
		for (let i = start; i < end; i++) {
			const cx = ax[i]!;
			const cy = ay[i]!;
			const dx = bx[i]!;
			const dy = by[i]!;
			if ((cx < left && dx < left) || (cx > right && dx > right)) continue;
			if ((cy < bottom && dy < bottom) || (cy > top && dy > top)) continue;
			const count = stretchCount(segments, i);
			const runs: number[] = [];
			settle(outline, cx, cy, dx - cx, dy - cy, count, 0, count, runs);
			for (let k = 0; k < runs.length; k += 2) visit(i, runs[k]! / count, runs[k + 1]! / count);
		}
	}
}

/** Adds the runs among stretches `first` up to `end - 1` as pairs of first and end; a run that goes on is made longer. */
function settle(
	outline: Outline,
	x: number,
	y: number,
	dx: number,
	dy: number,
	count: number,
	first: number,
	end: number,
	runs: number[],
): void {
	const t = (first + 0.5) / count;
	const u = (end - 0.5) / count;
	const px = x + t * dx;
	const py = y + t * dy;
	if (isClear(outline, px, py, x + u * dx, y + u * dy, WALL_SLACK)) {
		if (!contains(outline, px, py)) return;
	} else if (end - first > 1) {
		const middle = (first + end) >> 1;
		settle(outline, x, y, dx, dy, count, first, middle, runs);
		settle(outline, x, y, dx, dy, count, middle, end, runs);
		return;
	} else if (!isWithin(outline, px, py, WALL_SLACK)) return;
	if (runs.at(-1) === first) runs[runs.length - 1] = end;
	else runs.push(first, end);
}
