import type { LoopFeature } from "@oxturn/floor";
import { type Point, pointBetween } from "@oxturn/geometry";
import type { LabelBoard } from "./labels.ts";
import { type Box, boxAt, distanceToSegment, pathData } from "./paper.ts";
import type { PipeGrid } from "./pipeGrid.ts";
import { loopColour, pen, type Tokens } from "./tokens.ts";
import { element, group, xmlId } from "./xml.ts";

/** A loop on paper, mm, with the distance from its flow port to each of its points. */
export interface PaperLoop {
	readonly loop: LoopFeature;
	readonly index: number;
	readonly points: readonly Point[];
	readonly distances: readonly number[];
	readonly length: number;
}

const ARROW_EVERY = 34; // mm on paper along the pipe
const ARROW_RUN = 4.5; // mm on paper: on a shorter straight an arrowhead would sit on a bend
const ARROW_LENGTH = 1.7;
const ARROW_CLEARANCE = 0.75; // mm on paper to the next pipe; closer, an arrowhead would touch it

/** Radius of the ring at half of a pipe's length, mm on paper. */
export const RING = 0.75;

/** Dashes of the half that flows back, mm on paper: long enough to survive a copying machine. */
export const RETURN_DASH = "1.5 0.75";

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

/** Pipe width on paper, mm: to scale where that prints well. */
export function pipeWidth(outerDiameter: number, scale: number): number {
	return Math.min(0.8, Math.max(0.25, outerDiameter / scale));
}

/** Where the ring stands that marks half of the pipe's length. */
export function ringBox(pipe: PaperLoop): Box {
	return boxAt(placeAlong(pipe, pipe.length / 2).at, 2 * RING, 2 * RING);
}

/**
 * One loop: the half from the flow port solid with filled arrowheads, the half back to the return port dashed with
 * open ones, and a ring where the halves meet.
 */
export function drawLoop(pipe: PaperLoop, grid: PipeGrid, board: LabelBoard, width: number, colours: Tokens): string {
	const { loop, points } = pipe;
	if (points.length < 2) return "";
	const colour = loopColour(colours, pipe.index);
	const { at, next } = placeAlong(pipe, pipe.length / 2);
	const stroke = { fill: "none", stroke: colour, "stroke-width": width, "stroke-linejoin": "round" } as const;
	return group({ id: xmlId("loop", loop.id), "data-loop": loop.id }, [
		element("path", { class: "flow", d: pathData([...points.slice(0, next), at]), ...stroke }),
		element("path", {
			class: "return",
			d: pathData([at, ...points.slice(next)]),
			...stroke,
			"stroke-dasharray": RETURN_DASH,
		}),
		...arrows(pipe, grid, board, width, colour, colours.floor),
		element("circle", {
			cx: at[0],
			cy: at[1],
			r: RING,
			fill: colours.floor,
			stroke: colour,
			"stroke-width": pen.medium,
		}),
		...[points[0]!, points[points.length - 1]!].map((p, i) =>
			element("circle", {
				cx: p[0],
				cy: p[1],
				r: width * 0.9,
				fill: i === 0 ? colour : colours.floor,
				stroke: colour,
				"stroke-width": pen.hair,
			}),
		),
	]);
}

interface Run {
	readonly from: number;
	readonly to: number;
}

/** Straight stretches as pairs of point indices. */
function straightRuns(points: readonly Point[]): Run[] {
	const runs: Run[] = [];
	let from = 0;
	for (let i = 1; i < points.length - 1; i++) {
		const [a, b, c] = [points[from]!, points[i]!, points[i + 1]!];
		const cross = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
		const dot = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]);
		if (dot > 0 && Math.abs(cross) < 0.005 * dot) continue;
		runs.push({ from, to: i });
		from = i;
	}
	if (points.length > 1) runs.push({ from, to: points.length - 1 });
	return runs;
}

function arrows(
	pipe: PaperLoop,
	grid: PipeGrid,
	board: LabelBoard,
	width: number,
	colour: string,
	hollow: string,
): readonly string[] {
	const marks: string[] = [];
	const half = Math.max(0.55, width * 1.2);
	let last = -ARROW_EVERY / 2;
	for (const run of straightRuns(pipe.points)) {
		const start = pipe.distances[run.from] ?? 0;
		const end = pipe.distances[run.to] ?? 0;
		if (end - start < ARROW_RUN) continue;
		const room = half + ARROW_CLEARANCE;
		const place = [0.5, 0.3, 0.7]
			.map((t) => start + (end - start) * t)
			.filter((distance) => distance - last >= ARROW_EVERY)
			.find((distance) => {
				const { at } = placeAlong(pipe, distance);
				const isFree = board.isFree(boxAt(at, ARROW_LENGTH, ARROW_LENGTH));
				return isFree && nearestOther(at, pipe, run, grid, room) >= room;
			});
		if (place === undefined) continue;
		const { at } = placeAlong(pipe, place);
		board.reserve(boxAt(at, ARROW_LENGTH, ARROW_LENGTH));
		const a = pipe.points[run.from]!;
		const b = pipe.points[run.to]!;
		const [dx, dy] = [(b[0] - a[0]) / (end - start), (b[1] - a[1]) / (end - start)];
		const corner = (ahead: number, aside: number): Point => [
			at[0] + dx * ahead - dy * aside,
			at[1] + dy * ahead + dx * aside,
		];
		const tip = ARROW_LENGTH / 2;
		const isReturn = place > pipe.length / 2;
		marks.push(
			element("path", {
				class: "arrow",
				d: pathData([corner(tip, 0), corner(-tip, half), corner(-tip, -half)], true),
				fill: isReturn ? hollow : colour,
				stroke: colour,
				"stroke-width": pen.thin,
				"stroke-linejoin": "round",
			}),
		);
		last = place;
	}
	return marks;
}

/** Distance to the nearest pipe but the straight it stands on; `Infinity` when none is within `reach`, mm on paper. */
function nearestOther(at: Point, pipe: PaperLoop, run: Run, grid: PipeGrid, reach: number): number {
	let nearest = Infinity;
	for (const { pipe: index, end, a, b } of grid(boxAt(at, 2 * reach, 2 * reach))) {
		if (index === pipe.index && end > run.from && end <= run.to) continue;
		nearest = Math.min(nearest, distanceToSegment(at, a, b));
	}
	return nearest;
}
