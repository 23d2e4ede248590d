import type { Floor, Layout } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import { drawManifold } from "../manifold/drawManifold.ts";
import { layOutManifolds } from "../manifold/layOutManifolds.ts";
import { type Box, boxAround, toPaper, unionOfBoxes, type View } from "../paper.ts";
import { pen, type Theme, tokens } from "../tokens.ts";
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

/** What the plan takes up round the floor's origin at `scale`, mm on paper: walls and port labels included. */
export function planExtent(floor: Floor, layout: Layout, scale: number): Box {
	const view: View = { scale, origin: [0, 0] };
	const drawn: readonly (readonly Point[])[] = [
		...floor.rooms.map((room) => room.region.outer),
		...floor.doorways.map((doorway) => doorway.region.outer),
		...floor.keepouts.map((keepout) => keepout.region.outer),
		...layout.features.map((loop) => loop.geometry.coordinates),
		...floor.manifolds.map((manifold) => [manifold.position]),
	];
	const points = drawn.flat().map((p) => toPaper(view, p));
	if (points.length === 0) return { left: 0, top: 0, right: 0, bottom: 0 };
	const strips = layOutManifolds(floor, layout, view, WALL).flatMap((manifold) => manifold.boxes);
	return unionOfBoxes([boxAround(points, WALL / scale + pen.medium), ...strips]);
}
