import type { Point, Region } from "@oxturn/geometry";

/** A rectangle along the axes. */
export const rectangle = (x0: number, x1: number, y0: number, y1: number): Region => ({
	outer: [
		[x0, y0],
		[x1, y0],
		[x1, y1],
		[x0, y1],
	],
	holes: [],
});

/** A region with all its points moved. */
export const mapped = ({ outer, holes }: Region, move: (p: Point) => Point): Region => ({
	outer: outer.map(move),
	holes: holes.map((hole) => hole.map(move)),
});
