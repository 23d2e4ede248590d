import type { Room } from "@oxturn/floor";
import type { Ring } from "@oxturn/geometry";
import { pathData, regionData, regionToPaper, toPaper, type View } from "../paper.ts";
import { pen } from "../tokens.ts";
import { element, escapeXml, group, xmlId } from "../xml.ts";
import type { PlanContext } from "./planContext.ts";
import { roomArea, roomName } from "./roomWords.ts";

/** Floor mm: how thick the walls round the plan are shown; gaps between rooms up to twice as wide close up. */
export const WALL = 120;

/** Rooms on a ground of wall: where the rooms leave a gap, the wall shows. */
export function drawRooms(context: PlanContext): string {
	const { floor } = context;
	return group({ class: "rooms" }, [
		...drawWalls(context),
		...floor.rooms.map((room) => drawRoom(room, context)),
		...floor.rooms.flatMap(({ region }) => region.holes.map((hole) => drawHole(hole, context))),
	]);
}

function drawWalls({ floor, view, colours }: PlanContext): readonly string[] {
	const outlines = (stroke: string, width: number): readonly string[] =>
		floor.rooms.map(({ region }) =>
			element("path", {
				d: ringData(region.outer, view),
				fill: "none",
				stroke,
				"stroke-width": width,
				"stroke-linejoin": "miter",
			}),
		);
	const thickness = (2 * WALL) / view.scale;
	// every outline first a little wider in the faces' colour: what the walls leave of it is their outer face
	return [...outlines(colours.wallFace, thickness + 2 * pen.medium), ...outlines(colours.wall, thickness)];
}

function drawRoom(room: Room, { view, colours }: PlanContext): string {
	return element(
		"path",
		{
			id: xmlId("room", room.id),
			d: regionData(regionToPaper(view, room.region)),
			"fill-rule": "evenodd",
			fill: room.heated ? colours.floor : colours.unheated,
			stroke: colours.wallFace,
			"stroke-width": pen.medium,
			"stroke-linejoin": "miter",
		},
		// a cupboard too small for any label still says on a screen what it is
		element("title", {}, escapeXml(`${roomName(room)}, ${roomArea(room)}`)),
	);
}

function drawHole(hole: Ring, { view, theme }: PlanContext): string {
	return element("path", { d: ringData(hole, view), fill: `url(#void-${theme})` });
}

function ringData(ring: Ring, view: View): string {
	return pathData(
		ring.map((p) => toPaper(view, p)),
		true,
	);
}
