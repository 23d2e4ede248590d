import type { Room } from "@oxturn/floor";
import type { Point, Region } from "@oxturn/geometry";
import {
	boxAround,
	boxAt,
	boxInside,
	centroid,
	regionMeetsBox,
	regionToPaper,
	type Size,
	segmentMeetsBox,
} from "../paper.ts";
import { ground } from "../plate.ts";
import { shorten, textAt, textWidth } from "../text.ts";
import { letter, type Tokens } from "../tokens.ts";
import { cleanText, group } from "../xml.ts";
import { type Candidate, placesOver } from "./labelBoard.ts";
import type { PipeSegment } from "./pipeGrid.ts";
import type { PlanContext } from "./planContext.ts";
import { roomArea, roomName } from "./roomWords.ts";

/** A name gives way this far to each loop of another room whose tails it would hide, mm on paper. */
const BUNDLE_WEIGHT = 16;

/** Places that are tried along either side of a room. */
const STEPS = 24;

/** Letters that are smaller by more than this are for names that have to be shortened as well. */
const SMALLEST_WHOLE = 0.7;

/** Shares of its room's width to which a name is cut in turn: a room at an angle holds no box as wide as it is itself. */
const CUTS = [1, 0.7, 0.5, 0.35];

/** A room's name and, below it, its figures. */
interface RoomLabel extends Size {
	readonly name: string;
	readonly figures: string;
	/** Letter heights, mm on paper. */
	readonly nameSize: number;
	readonly figuresSize: number;
}

/** What a room's label has to mind, on paper. */
interface Floorspace {
	readonly region: Region;
	readonly places: readonly Point[];
	readonly middle: Point;
	readonly keepouts: readonly Region[];
	/** Pipes that heat other rooms. */
	readonly strangers: readonly PipeSegment[];
}

/** Names and areas; a room too small for its name has it shortened. */
export function labelRooms(context: PlanContext): string {
	return group(
		{ class: "room-labels" },
		context.floor.rooms.map((room) => labelRoom(room, context)),
	);
}

function labelRoom(room: Room, context: PlanContext): string {
	const space = floorspaceOf(room, context);
	const { left, right } = boxAround(space.region.outer);
	for (const label of labelsFor(room, (right - left) * 0.9 - 1.6)) {
		const at = context.board.place(candidatesFor(label, space), label.width, label.height);
		if (at !== undefined) return drawLabel(room, label, at, context.colours);
	}
	return "";
}

function floorspaceOf(room: Room, { floor, view, grid, pipes }: PlanContext): Floorspace {
	const region = regionToPaper(view, room.region);
	const own = new Set(pipes.filter(({ loop }) => loop.properties.rooms.includes(room.id)).map(({ index }) => index));
	return {
		region,
		places: placesOver(region, STEPS),
		middle: centroid(region.outer),
		keepouts: floor.keepouts.map((keepout) => regionToPaper(view, keepout.region)),
		strangers: grid(boxAround(region.outer)).filter(({ pipe }) => !own.has(pipe)),
	};
}

/** How the room may be labelled, the best first; a name of more than `widest` mm of paper is shortened. */
function labelsFor(room: Room, widest: number): readonly RoomLabel[] {
	const area = roomArea(room);
	const detail = room.heated ? `${area} · ${Math.round(room.spacing)} mm` : `${area} · unheated`;
	const sizes: readonly (readonly [shrink: number, figures: string])[] = [
		[1, detail],
		[0.85, detail],
		[0.85, area],
		[0.7, area],
		[0.55, area],
	];
	const labels = (tried: typeof sizes, width: number): readonly RoomLabel[] =>
		tried.map(([shrink, figures]) => roomLabel(roomName(room), figures, shrink, width));
	const fits = (shrink: number): boolean => textWidth(cleanText(roomName(room)), letter.name * shrink, true) <= widest;
	// a name a little smaller says more than half a name
	const whole = sizes.filter(([shrink]) => shrink >= SMALLEST_WHOLE && fits(shrink));
	return [...labels(whole, widest), ...CUTS.flatMap((share) => labels(sizes, widest * share))];
}

function roomLabel(name: string, figures: string, shrink: number, widest: number): RoomLabel {
	const [nameSize, figuresSize] = [letter.name * shrink, letter.body * shrink];
	const shown = shorten(name, widest, nameSize, true);
	return {
		name: shown,
		figures,
		nameSize,
		figuresSize,
		width: Math.max(textWidth(shown, nameSize, true), textWidth(figures, figuresSize)) + 1.6,
		height: (nameSize + figuresSize) * 1.25 + 0.8,
	};
}

/** On floor where pipes may lie, near the middle of the room and off the tails of other rooms. */
function candidatesFor({ width, height }: Size, space: Floorspace): readonly Candidate[] {
	const { region, places, middle, keepouts, strangers } = space;
	return places
		.map((centre) => ({ centre, box: boxAt(centre, width, height) }))
		.filter(({ box }) => boxInside(region, box) && !keepouts.some((keepout) => regionMeetsBox(keepout, box)))
		.map(({ centre, box }) => {
			const hidden = new Set(strangers.filter(({ a, b }) => segmentMeetsBox(a, b, box)).map(({ pipe }) => pipe));
			const away = Math.hypot(centre[0] - middle[0], centre[1] - middle[1]);
			return { centre, cost: away + BUNDLE_WEIGHT * hidden.size };
		});
}

function drawLabel(room: Room, label: RoomLabel, at: Point, colours: Tokens): string {
	const { name, figures, nameSize, figuresSize } = label;
	return group({ "data-room": room.id }, [
		ground(at, label, { rx: 0.5, fill: colours.floor, "fill-opacity": "0.9" }),
		textAt(at[0], at[1] - figuresSize * 0.62, name, {
			size: nameSize,
			fill: colours.ink,
			bold: true,
			anchor: "middle",
		}),
		textAt(at[0], at[1] + nameSize * 0.62, figures, { size: figuresSize, fill: colours.muted, anchor: "middle" }),
	]);
}
