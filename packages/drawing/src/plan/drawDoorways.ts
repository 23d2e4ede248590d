import type { Doorway, Room } from "@oxturn/floor";
import type { Point, Region } from "@oxturn/geometry";
import {
	distanceToSegment,
	middleBetween,
	pathData,
	regionData,
	regionHolds,
	regionToPaper,
	toPaper,
} from "../paper.ts";
import { pen } from "../tokens.ts";
import { element, group, xmlId } from "../xml.ts";
import type { PlanContext } from "./planContext.ts";

/** mm of floor: a doorway overlaps a room by about a millimetre, or only touches it. */
const THRESHOLD = 5;

/** A doorway breaks the wall; its jambs are the edges that lie in neither room. */
export function drawDoorways(context: PlanContext): string {
	return group(
		{ class: "doorways" },
		context.floor.doorways.flatMap((doorway) => drawDoorway(doorway, context)),
	);
}

function drawDoorway(doorway: Doorway, { floor, view, colours }: PlanContext): readonly string[] {
	return [
		element("path", {
			id: xmlId("doorway", doorway.id),
			d: regionData(regionToPaper(view, doorway.region)),
			fill: colours.floor,
			stroke: colours.floor,
			// a little more than the line of the wall's face, to wipe it off the threshold
			"stroke-width": pen.medium * 1.4,
		}),
		...jambs(doorway, floor.rooms).map((edge) =>
			element("path", {
				d: pathData(edge.map((p) => toPaper(view, p))),
				stroke: colours.wallFace,
				"stroke-width": pen.medium,
			}),
		),
	];
}

function jambs(doorway: Doorway, rooms: readonly Room[]): (readonly [Point, Point])[] {
	const joined = rooms.filter((room) => doorway.between.includes(room.id));
	return edgesOf(doorway.region).filter(([a, b]) => {
		const middle = middleBetween(a, b);
		return !joined.some(({ region }) => regionHolds(region, middle) || isAtOutline(middle, region));
	});
}

function isAtOutline(point: Point, region: Region): boolean {
	return edgesOf(region).some(([a, b]) => distanceToSegment(point, a, b) < THRESHOLD);
}

function edgesOf({ outer }: Region): (readonly [Point, Point])[] {
	return outer.map((p, i) => [p, outer[(i + 1) % outer.length]!]);
}
