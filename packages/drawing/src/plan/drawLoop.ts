import type { Point } from "@oxturn/geometry";
import { pathData } from "../paper.ts";
import { loopColour, pen } from "../tokens.ts";
import { element, group, xmlId } from "../xml.ts";
import { arrowheads } from "./arrowheads.ts";
import { type PaperLoop, placeAlong, RING } from "./paperLoop.ts";
import type { PlanContext } from "./planContext.ts";

/** Dashes of the half that flows back, mm on paper: long enough to survive a copying machine. */
export const RETURN_DASH = "1.5 0.75";

/**
 * One loop: the half from the flow port solid with filled arrowheads, the half back to the return port dashed with
 * open ones, and a ring where the halves meet.
 */
export function drawLoop(pipe: PaperLoop, context: PlanContext): string {
	const { loop, points } = pipe;
	if (points.length < 2) return "";
	const { floor, view, colours } = context;
	const width = pipeWidth(floor.system.pipe.outerDiameter, view.scale);
	const stroke = loopColour(colours, pipe.index);
	const dot = (at: Point, radius: number, fill: string, weight: number): string =>
		element("circle", { cx: at[0], cy: at[1], r: radius, fill, stroke, "stroke-width": weight });
	const { at, next } = placeAlong(pipe, pipe.length / 2);
	const strokes = { fill: "none", stroke, "stroke-width": width, "stroke-linejoin": "round" };
	return group({ id: xmlId("loop", loop.id), "data-loop": loop.id }, [
		element("path", { class: "flow", d: pathData([...points.slice(0, next), at]), ...strokes }),
		element("path", {
			class: "return",
			d: pathData([at, ...points.slice(next)]),
			...strokes,
			"stroke-dasharray": RETURN_DASH,
		}),
		...arrowheads(pipe, width, context),
		dot(at, RING, colours.floor, pen.medium),
		dot(points[0]!, width * 0.9, stroke, pen.hair),
		dot(points[points.length - 1]!, width * 0.9, colours.floor, pen.hair),
	]);
}

/** Pipe width on paper, mm: to scale where that prints well. */
function pipeWidth(outerDiameter: number, scale: number): number {
	return Math.min(0.8, Math.max(0.25, outerDiameter / scale));
}
