import type { Floor, Layout } from "@oxturn/floor";
import { drawManifold } from "../manifold/drawManifold.ts";
import { layOutManifolds } from "../manifold/layOutManifolds.ts";
import { toPaper, type View } from "../paper.ts";
import { type Theme, tokens } from "../tokens.ts";
import { group } from "../xml.ts";
import { drawChannels } from "./drawChannels.ts";
import { drawDoorways } from "./drawDoorways.ts";
import { drawKeepouts } from "./drawKeepouts.ts";
import { drawLoop } from "./drawLoop.ts";
import { drawRooms, WALL } from "./drawRooms.ts";
import { labelBoard } from "./labelBoard.ts";
import { labelChannels } from "./labelChannels.ts";
import { labelKeepouts } from "./labelKeepouts.ts";
import { labelLoops } from "./labelLoops.ts";
import { labelRooms } from "./labelRooms.ts";
import { paperLoop, ringBox } from "./paperLoop.ts";
import { pipeGrid } from "./pipeGrid.ts";
import type { PlanContext } from "./planContext.ts";

/**
 * Everything that belongs to the floor. Who chooses a place first differs from what is painted first: names go before
 * arrowheads, arrowheads before loops' labels, and all labels are painted on top.
 */
export function drawFloor(floor: Floor, layout: Layout, view: View, theme: Theme): string {
	const context = planContext(floor, layout, view, theme);
	const { board, colours, pipes } = context;
	const manifolds = layOutManifolds(floor, layout, view, WALL);
	for (const box of manifolds.flatMap(({ boxes }) => boxes)) board.reserve(box);
	for (const pipe of pipes) if (pipe.points.length > 1) board.reserve(ringBox(pipe));
	const names = [labelRooms(context), labelKeepouts(context)];
	const loops = pipes.map((pipe) => drawLoop(pipe, context));
	const tags = [labelLoops(context), labelChannels(layout.channels, context)];
	return group({ class: "plan" }, [
		drawRooms(context),
		drawDoorways(context),
		drawKeepouts(context),
		drawChannels(layout.channels, context),
		group({ class: "loops" }, loops),
		...manifolds.map((manifold) => drawManifold(manifold, colours)),
		...names,
		...tags,
	]);
}

function planContext(floor: Floor, layout: Layout, view: View, theme: Theme): PlanContext {
	const pipes = layout.features.map((loop, index) => {
		const points = loop.geometry.coordinates.map((p) => toPaper(view, p));
		return paperLoop(loop, index, points);
	});
	return { floor, view, theme, colours: tokens[theme], board: labelBoard(), pipes, grid: pipeGrid(pipes) };
}
