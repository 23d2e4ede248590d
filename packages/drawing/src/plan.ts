import type { Channel, Doorway, Floor, Keepout, Room } from "@oxturn/floor";
import type { Point, Region } from "@oxturn/geometry";
import type { Candidate, LabelBoard } from "./labels.ts";
import {
	type Box,
	boxAround,
	boxAt,
	boxInside,
	centroid,
	distanceToSegment,
	middleBetween,
	pathData,
	regionArea,
	regionData,
	regionHolds,
	regionMeetsBox,
	regionToPaper,
	segmentMeetsBox,
	toPaper,
	type View,
} from "./paper.ts";
import type { PipeGrid } from "./pipeGrid.ts";
import { type PaperLoop, placeAlong } from "./pipes.ts";
import { plate } from "./plate.ts";
import { shorten, textAt, textWidth } from "./text.ts";
import { letter, loopColour, pen, type Theme, type Tokens } from "./tokens.ts";
import { cleanText, element, escapeXml, group, xmlId } from "./xml.ts";

/** Floor mm: how thick the walls round the plan are shown; gaps between rooms up to twice as wide close up. */
export const WALL = 120;

/** Enough to see the band, little enough not to hide the pipes' dashes. */
export const CHANNEL_OPACITY = "0.3";

/** What the parts of the plan share. */
export interface PlanContext {
	readonly floor: Floor;
	readonly view: View;
	readonly theme: Theme;
	readonly colours: Tokens;
	readonly board: LabelBoard;
	readonly pipes: readonly PaperLoop[];
	readonly grid: PipeGrid;
}

/** Hatches, referred to by url; named after the theme so that both can stand in one page. */
export function hatches(theme: Theme, colours: Tokens): string {
	const hatch = (id: string, pitch: number, turn: number, ground: string): string =>
		element(
			"pattern",
			{ id, width: pitch, height: pitch, patternUnits: "userSpaceOnUse", patternTransform: `rotate(${turn})` },
			element("rect", { width: pitch, height: pitch, fill: ground }),
			element("path", {
				d: pathData([
					[0, 0],
					[0, pitch],
				]),
				stroke: colours.keepoutLine,
				"stroke-width": pen.medium,
			}),
		);
	return element(
		"defs",
		{},
		hatch(`keepout-${theme}`, 1.6, 45, colours.keepout),
		hatch(`void-${theme}`, 3, -45, colours.void),
	);
}

/** Rooms on a ground of wall: where the rooms leave a gap, the wall shows. */
export function drawRooms({ floor, view, theme, colours }: PlanContext): string {
	const drawn = floor.rooms.map((room) => ({ room, d: regionData(regionToPaper(view, room.region)) }));
	// every outline first a little wider in the faces' colour: what the walls leave of it is their outer face
	const grounds = (stroke: string, width: number): string[] =>
		floor.rooms.map((room) =>
			element("path", {
				d: pathData(
					room.region.outer.map((p) => toPaper(view, p)),
					true,
				),
				fill: "none",
				stroke,
				"stroke-width": width,
				"stroke-linejoin": "miter",
			}),
		);
	const thickness = (2 * WALL) / view.scale;
	const walls = [...grounds(colours.wallFace, thickness + 2 * pen.medium), ...grounds(colours.wall, thickness)];
	const holes = floor.rooms.flatMap((room) =>
		room.region.holes.map((hole) =>
			element("path", {
				d: pathData(
					hole.map((p) => toPaper(view, p)),
					true,
				),
				fill: `url(#void-${theme})`,
			}),
		),
	);
	const rooms = drawn.map(({ room, d }) =>
		element(
			"path",
			{
				id: xmlId("room", room.id),
				d,
				"fill-rule": "evenodd",
				fill: room.heated ? colours.floor : colours.unheated,
				stroke: colours.wallFace,
				"stroke-width": pen.medium,
				"stroke-linejoin": "miter",
			},
			// a cupboard too small for any label still says on a screen what it is
			element("title", {}, escapeXml(`${roomName(room)}, ${roomArea(room)}`)),
		),
	);
	return group({ class: "rooms" }, [...walls, ...rooms, ...holes]);
}

/** A doorway breaks the wall; its jambs are the edges that lie in neither room. */
export function drawDoorways({ floor, view, colours }: PlanContext): string {
	return group(
		{ class: "doorways" },
		floor.doorways.flatMap((doorway) => [
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
		]),
	);
}

function jambs(doorway: Doorway, rooms: readonly Room[]): (readonly [Point, Point])[] {
	const THRESHOLD = 5; // mm of floor: a doorway overlaps a room by about a millimetre, or only touches it
	const joined = rooms.filter((room) => doorway.between.includes(room.id));
	const ring = doorway.region.outer;
	const edges = ring.map((p, i) => [p, ring[(i + 1) % ring.length]!] as const);
	return edges.filter(([a, b]) => {
		const middle = middleBetween(a, b);
		return !joined.some(
			({ region }) =>
				regionHolds(region, middle) ||
				region.outer.some(
					(p, i) => distanceToSegment(middle, p, region.outer[(i + 1) % region.outer.length]!) < THRESHOLD,
				),
		);
	});
}

export function drawKeepouts({ floor, view, theme, colours }: PlanContext): string {
	return group(
		{ class: "keepouts" },
		floor.keepouts.map((keepout) =>
			element("path", {
				id: xmlId("keepout", keepout.id),
				d: regionData(regionToPaper(view, keepout.region)),
				"fill-rule": "evenodd",
				fill: `url(#keepout-${theme})`,
				stroke: colours.muted,
				"stroke-width": pen.thin,
			}),
		),
	);
}

/** A tinted band under the pipes, as wide as the floor that they take: half of their pitch on either side of them. */
export function drawChannels(channels: readonly Channel[], { floor, view, colours }: PlanContext): string {
	return group(
		{ class: "channels" },
		channels.map((channel) =>
			element(
				"path",
				{
					id: xmlId("channel", channel.id),
					d: pathData(channel.path.map((p) => toPaper(view, p))),
					fill: "none",
					stroke: colours.channel,
					"stroke-opacity": CHANNEL_OPACITY,
					"stroke-width": Math.max(0.6, (channel.width + floor.system.tailSpacing) / view.scale),
					"stroke-linejoin": "round",
				},
				// still says how many pipes there are where the sheet has no room for the label
				element("title", {}, `${Math.round(channel.pipes)} pipes, ${Math.round(channel.width)} mm wide`),
			),
		),
	);
}

function roomName(room: Room): string {
	return room.name === "" ? room.id : room.name;
}

function roomArea(room: Room): string {
	return `${(regionArea(room.region) / 1e6).toFixed(1)} m²`;
}

/** Names and areas; a room too small for its name has it shortened. */
export function labelRooms(context: PlanContext): string {
	return group(
		{ class: "room-labels" },
		context.floor.rooms.map((room) => labelRoom(room, context)),
	);
}

/** A name gives way this far to each loop of another room whose tails it would hide, mm on paper. */
const BUNDLE_WEIGHT = 16;

function labelRoom(room: Room, { floor, view, colours, board, grid, pipes }: PlanContext): string {
	const region = regionToPaper(view, room.region);
	const bounds = boxAround(region.outer);
	const area = roomArea(room);
	const name = roomName(room);
	const middle = centroid(region.outer);
	const keepouts = floor.keepouts.map((keepout) => regionToPaper(view, keepout.region));
	const own = new Set(pipes.filter(({ loop }) => loop.properties.rooms.includes(room.id)).map(({ index }) => index));
	const strangers = grid(bounds).filter(({ pipe }) => !own.has(pipe));
	const detail = room.heated ? `${area} · ${Math.round(room.spacing)} mm` : `${area} · unheated`;
	const sizes = [
		[1, detail],
		[0.85, detail],
		[0.85, area],
		[0.7, area],
		[0.55, area],
	] as const;
	// a name a little smaller says more than half a name
	const widest = (bounds.right - bounds.left) * 0.9 - 1.6;
	const isWhole = (shrink: number): boolean => textWidth(cleanText(name), letter.name * shrink, true) <= widest;
	const whole = sizes.filter(([shrink]) => shrink >= 0.7 && isWhole(shrink));
	for (const [shrink, second] of [...whole, ...sizes]) {
		const first = shorten(name, widest, letter.name * shrink, true);
		const [nameSize, areaSize] = [letter.name * shrink, letter.body * shrink];
		const width = Math.max(textWidth(first, nameSize, true), textWidth(second, areaSize)) + 1.6;
		const height = (nameSize + areaSize) * 1.25 + 0.8;
		const STEPS = 24;
		const candidates = Array.from({ length: (STEPS + 1) ** 2 }, (_, i): Point => {
			const [column, row] = [i % (STEPS + 1), Math.floor(i / (STEPS + 1))];
			return [
				bounds.left + ((bounds.right - bounds.left) * column) / STEPS,
				bounds.top + ((bounds.bottom - bounds.top) * row) / STEPS,
			];
		})
			.concat([middle])
			.map((centre) => ({ centre, box: boxAt(centre, width, height) }))
			.filter(({ box }) => boxInside(region, box) && !keepouts.some((keepout) => regionMeetsBox(keepout, box)))
			.map(({ centre, box }) => {
				const hidden = new Set(strangers.filter(({ a, b }) => segmentMeetsBox(a, b, box)).map(({ pipe }) => pipe));
				const away = Math.hypot(centre[0] - middle[0], centre[1] - middle[1]);
				return { centre, cost: away + BUNDLE_WEIGHT * hidden.size };
			});
		const at = board.place(candidates, width, height);
		if (at === undefined) continue;
		return group({ "data-room": room.id }, [
			element("rect", {
				x: at[0] - width / 2,
				y: at[1] - height / 2,
				width,
				height,
				rx: 0.5,
				fill: colours.floor,
				"fill-opacity": "0.9",
			}),
			textAt(at[0], at[1] - areaSize * 0.62, first, {
				size: nameSize,
				fill: colours.ink,
				bold: true,
				anchor: "middle",
			}),
			textAt(at[0], at[1] + nameSize * 0.62, second, { size: areaSize, fill: colours.muted, anchor: "middle" }),
		]);
	}
	return "";
}

/** A keep-out's name, level or upright, whichever shows more of it; one without room for three letters stays bare. */
export function labelKeepouts(context: PlanContext): string {
	return group(
		{ class: "keepout-labels" },
		context.floor.keepouts.map((keepout) => labelKeepout(keepout, context)),
	);
}

function labelKeepout(keepout: Keepout, { view, colours, board }: PlanContext): string {
	if (keepout.name === "") return "";
	const region = regionToPaper(view, keepout.region);
	const bounds = boxAround(region.outer);
	const middle = centroid(region.outer);
	const size = letter.small;
	const STEPS = 16;
	const characters = [...keepout.name].length;
	for (let shown = characters; shown >= Math.min(3, characters); shown--) {
		const text = shown === characters ? keepout.name : `${[...keepout.name].slice(0, shown).join("").trimEnd()}…`;
		const long = textWidth(text, size) + 1;
		for (const upright of [false, true]) {
			const [width, height] = upright ? [size * 1.35, long] : [long, size * 1.35];
			const candidates = Array.from({ length: (STEPS + 1) ** 2 }, (_, i): Point => {
				const [column, row] = [i % (STEPS + 1), Math.floor(i / (STEPS + 1))];
				return [
					bounds.left + ((bounds.right - bounds.left) * column) / STEPS,
					bounds.top + ((bounds.bottom - bounds.top) * row) / STEPS,
				];
			})
				.concat([middle])
				.filter((centre) => boxInside(region, boxAt(centre, width, height)))
				.map((centre) => ({ centre, cost: Math.hypot(centre[0] - middle[0], centre[1] - middle[1]) }));
			const at = board.place(candidates, width, height);
			if (at === undefined) continue;
			return group({}, [
				element("rect", {
					x: at[0] - width / 2,
					y: at[1] - height / 2,
					width,
					height,
					rx: 0.4,
					fill: colours.keepout,
				}),
				textAt(at[0], at[1], text, { size, fill: colours.muted, anchor: "middle", upright }),
			]);
		}
	}
	return "";
}

/** Each loop's id on its own pipe, once in every room that it heats, away from other loops' pipes. */
export function labelLoops(context: PlanContext): string {
	const rooms = new Map(context.floor.rooms.map((room) => [room.id, room]));
	return group(
		{ class: "loop-labels" },
		context.pipes.flatMap((pipe) => {
			const homes = pipe.loop.properties.rooms.map((id) => rooms.get(id)).filter((room) => room !== undefined);
			const [first, ...others] = homes;
			return [
				labelLoop(pipe, first, context, true),
				...others.map((room) => labelLoop(pipe, room, context, false)),
			].filter((tag) => tag !== "");
		}),
	);
}

/** `isRequired`: the label has to stand somewhere, even on another one; else it stands in `home` or not at all. */
function labelLoop(pipe: PaperLoop, home: Room | undefined, context: PlanContext, isRequired: boolean): string {
	const { view, colours, board, grid } = context;
	const region = home && regionToPaper(view, home.region);
	const { loop } = pipe;
	const text = shorten(loop.id, 16, letter.body, true);
	const width = textWidth(text, letter.body, true) + 1.6;
	const height = letter.body * 1.25 + 0.7;
	const STEPS = 60; // to either side of the middle; the last few per cent are tails
	const candidates = Array.from({ length: 2 * STEPS + 1 }, (_, i) => {
		const step = Math.ceil(i / 2);
		const { at } = placeAlong(pipe, pipe.length * (0.5 + ((i % 2 === 0 ? 1 : -1) * step) / (2.2 * STEPS)));
		const box = boxAt(at, width, height);
		const isHome = region === undefined || boxInside(region, box);
		// its own room weighs more than strangers' pipes, and those more than the way to the middle
		const cost = (isHome ? 0 : 1000) + pipesIn(grid, box, pipe.index) * 200 + step;
		return { centre: at, cost };
	}).filter(({ cost }) => isRequired || cost < 1000);
	const at =
		board.place(candidates, width, height) ??
		(isRequired
			? (board.place(around(pipe, width, height), width, height) ?? placeAlong(pipe, pipe.length / 2).at)
			: undefined);
	if (at === undefined) return "";
	const colour = loopColour(colours, pipe.index);
	return group({ "data-loop": loop.id }, [
		plate(boxAt(at, width, height), colours, colour),
		textAt(at[0], at[1], text, { size: letter.body, fill: colour, bold: true, anchor: "middle" }),
	]);
}

/** A second choice where the pipe itself is taken: rings of places round its middle, the nearest first. */
function around(pipe: PaperLoop, width: number, height: number): { centre: Point; cost: number }[] {
	const { at } = placeAlong(pipe, pipe.length / 2);
	const places = [];
	for (let ring = 1; ring <= 40; ring++)
		for (let turn = 0; turn < 12; turn++) {
			const angle = (turn * Math.PI) / 6;
			const centre: Point = [
				at[0] + Math.cos(angle) * ring * width * 0.5,
				at[1] + Math.sin(angle) * ring * height * 0.5,
			];
			places.push({ centre, cost: ring });
		}
	return places;
}

/**
 * How many pipes pass: on the wall beside the doorway that they leave by, else beside the channel where the fewest
 * pipes run.
 */
export function labelChannels(
	channels: readonly Channel[],
	{ floor, view, colours, board, grid }: PlanContext,
): string {
	const doorways = new Map(floor.doorways.map(({ id, region }) => [id, regionToPaper(view, region)]));
	const tags = channels.map((channel) => {
		const path = channel.path.map((p) => toPaper(view, p));
		const text = `×${channel.pipes}`;
		const size = letter.small * 0.9;
		const width = textWidth(text, size, true) + 0.6;
		const height = size * 1.25;
		const half = channel.width / view.scale / 2;
		const doorway = channel.doorway === undefined ? undefined : doorways.get(channel.doorway);
		const candidates: Candidate[] = doorway === undefined ? [] : placesBesideDoorway(doorway, path, width, height);
		for (let i = 1; i < path.length; i++) {
			const [a, b] = [path[i - 1]!, path[i]!];
			const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
			if (length === 0) continue;
			const normal: Point = [-(b[1] - a[1]) / length, (b[0] - a[0]) / length];
			const reach = half + (Math.abs(normal[0]) * width + Math.abs(normal[1]) * height) / 2 + 0.3;
			for (const t of [0.5, 0.35, 0.65, 0.2, 0.8, 0.05, 0.95])
				for (const [rank, offset] of [reach, -reach, reach + 2, -reach - 2, reach + 4, -reach - 4].entries()) {
					const centre: Point = [
						a[0] + (b[0] - a[0]) * t + normal[0] * offset,
						a[1] + (b[1] - a[1]) * t + normal[1] * offset,
					];
					const box = boxAt(centre, width, height);
					const covered = pipesIn(grid, box);
					candidates.push({ centre, cost: covered * 10 + Math.floor(rank / 2) * 4 + Math.abs(t - 0.5) });
				}
		}
		const at = board.place(candidates, width, height);
		if (at === undefined) return "";
		return group({ "data-channel": channel.id }, [
			element("rect", {
				x: at[0] - width / 2,
				y: at[1] - height / 2,
				width,
				height,
				rx: 0.4,
				fill: colours.paper,
				"fill-opacity": "0.92",
			}),
			textAt(at[0], at[1], text, { size, fill: colours.ink, bold: true, anchor: "middle" }),
		]);
	});
	return group({ class: "channel-labels" }, tags);
}

/** On the wall to either side of a doorway, nearest to the pipes first; before any place that is not on the wall. */
function placesBesideDoorway({ outer }: Region, path: readonly Point[], width: number, height: number): Candidate[] {
	const at = path[path.length - 1];
	const before = path.findLast((p) => at !== undefined && (p[0] !== at[0] || p[1] !== at[1]));
	if (at === undefined || before === undefined) return [];
	const length = Math.hypot(at[0] - before[0], at[1] - before[1]);
	const through: Point = [(at[0] - before[0]) / length, (at[1] - before[1]) / length];
	const along: Point = [-through[1], through[0]];
	const places = (axis: Point): number[] => outer.map(([x, y]) => (x - at[0]) * axis[0] + (y - at[1]) * axis[1]);
	const depths = places(through);
	const middle = (Math.min(...depths) + Math.max(...depths)) / 2;
	const reach = (Math.abs(along[0]) * width + Math.abs(along[1]) * height) / 2 + 0.3;
	return [Math.min(...places(along)) - reach, Math.max(...places(along)) + reach].map((side) => ({
		centre: [at[0] + along[0] * side + through[0] * middle, at[1] + along[1] * side + through[1] * middle],
		cost: Math.abs(side) / 1000 - 1,
	}));
}

/** How many pipes, leaving out the one at index `self`, run through the box. */
function pipesIn(grid: PipeGrid, box: Box, self?: number): number {
	const met = new Set(grid(box).map(({ pipe }) => pipe));
	if (self !== undefined) met.delete(self);
	return met.size;
}
