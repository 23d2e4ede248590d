import type { Point } from "@oxturn/geometry";
import { boxAt, distanceToSegment, pathData } from "../paper.ts";
import { loopColour, pen } from "../tokens.ts";
import { element } from "../xml.ts";
import { type PaperLoop, placeAlong } from "./paperLoop.ts";
import type { PlanContext } from "./planContext.ts";

// mm on paper
const EVERY = 34; // along the pipe
const SHORTEST_RUN = 4.5; // on a shorter straight an arrowhead would sit on a bend
const LENGTH = 1.7;
const CLEARANCE = 0.75; // to the next pipe; closer, an arrowhead would touch it

/** A straight stretch of a pipe: the indices of its ends, and how far along the pipe they are, mm on paper. */
interface Run {
	readonly from: number;
	readonly to: number;
	readonly start: number;
	readonly end: number;
}

/**
 * Arrowheads from the flow port to the return port, solid on the flow half and open on the other; `width` is the
 * pipe's, mm on paper. They keep off other pipes and whatever has its place already.
 */
export function arrowheads(pipe: PaperLoop, width: number, context: PlanContext): readonly string[] {
	const half = Math.max(0.55, width * 1.2);
	const marks: string[] = [];
	let last = -EVERY / 2;
	for (const run of straightRuns(pipe)) {
		if (run.end - run.start < SHORTEST_RUN) continue;
		const place = [0.5, 0.3, 0.7]
			.map((t) => run.start + (run.end - run.start) * t)
			.filter((distance) => distance - last >= EVERY)
			.find((distance) => isClear(placeAlong(pipe, distance).at, half + CLEARANCE, pipe, run, context));
		if (place === undefined) continue;
		context.board.reserve(boxAt(placeAlong(pipe, place).at, LENGTH, LENGTH));
		marks.push(drawArrowhead(pipe, run, place, half, context));
		last = place;
	}
	return marks;
}

function straightRuns({ points, distances }: PaperLoop): readonly Run[] {
	const corners = [0];
	for (let i = 1; i < points.length - 1; i++) {
		const [a, b, c] = [points[corners[corners.length - 1]!]!, points[i]!, points[i + 1]!];
		const cross = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
		const dot = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]);
		if (dot <= 0 || Math.abs(cross) >= 0.005 * dot) corners.push(i);
	}
	if (points.length > 1) corners.push(points.length - 1);
	return corners.slice(1).map((to, i) => {
		const from = corners[i]!;
		return { from, to, start: distances[from]!, end: distances[to]! };
	});
}

function isClear(at: Point, room: number, pipe: PaperLoop, run: Run, { board, grid }: PlanContext): boolean {
	if (!board.isFree(boxAt(at, LENGTH, LENGTH))) return false;
	return grid(boxAt(at, 2 * room, 2 * room)).every(({ pipe: index, end, a, b }) => {
		const isOwn = index === pipe.index && end > run.from && end <= run.to;
		return isOwn || distanceToSegment(at, a, b) >= room;
	});
}

/** `place`: how far along the pipe, `half`: half of the arrowhead's breadth, mm on paper. */
function drawArrowhead(pipe: PaperLoop, run: Run, place: number, half: number, { colours }: PlanContext): string {
	const { at } = placeAlong(pipe, place);
	const [a, b] = [pipe.points[run.from]!, pipe.points[run.to]!];
	const long = run.end - run.start;
	const [dx, dy] = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
	const corner = (ahead: number, aside: number): Point => [
		at[0] + dx * ahead - dy * aside,
		at[1] + dy * ahead + dx * aside,
	];
	const tip = LENGTH / 2;
	const colour = loopColour(colours, pipe.index);
	return element("path", {
		class: "arrow",
		d: pathData([corner(tip, 0), corner(-tip, half), corner(-tip, -half)], true),
		fill: place > pipe.length / 2 ? colours.floor : colour,
		stroke: colour,
		"stroke-width": pen.thin,
		"stroke-linejoin": "round",
	});
}
