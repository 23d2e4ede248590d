import { stretchCount } from "./clearance.ts";
import { WALL_SLACK } from "./limits.ts";
import { contains, isClear, isWithin, type Outline } from "./outline.ts";
import type { Segments } from "./segments.ts";

/**
 * Calls `visit` for each run of a segment that lies in the outline, from share `from` to share `to` of the segment.
 * A segment is cut into equal stretches of at most 40 mm, and a stretch belongs where its middle lies; parts that
 * stay clear of every edge are settled without cutting.
 */
export function forEachRunIn(
	outline: Outline,
	{ count, ax, ay, bx, by, length }: Segments,
	visit: (segment: number, from: number, to: number) => void,
): void {
	const { minX, minY, maxX, maxY } = outline;
	for (let i = 0; i < count; i++) {
		const x = ax[i]!;
		const y = ay[i]!;
		const dx = bx[i]! - x;
		const dy = by[i]! - y;
		if (Math.max(x, x + dx) < minX - WALL_SLACK || Math.min(x, x + dx) > maxX + WALL_SLACK) continue;
		if (Math.max(y, y + dy) < minY - WALL_SLACK || Math.min(y, y + dy) > maxY + WALL_SLACK) continue;
		const stretches = stretchCount(length[i]!);
		let start = 0;
		let end = 0;
		const add = (first: number, last: number): void => {
			if (first !== end) {
				if (end > start) visit(i, start / stretches, end / stretches);
				start = first;
			}
			end = last + 1;
		};
		const settle = (first: number, last: number): void => {
			const t = (first + 0.5) / stretches;
			const u = (last + 0.5) / stretches;
			const px = x + t * dx;
			const py = y + t * dy;
			if (isClear(outline, px, py, x + u * dx, y + u * dy, WALL_SLACK)) {
				if (contains(outline, px, py)) add(first, last);
			} else if (first === last) {
				if (isWithin(outline, px, py, WALL_SLACK)) add(first, last);
			} else {
				const middle = (first + last) >> 1;
				settle(first, middle);
				settle(middle + 1, last);
			}
		};
		settle(0, stretches - 1);
		if (end > start) visit(i, start / stretches, end / stretches);
	}
}
