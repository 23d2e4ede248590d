import type { Floor, Layout, LoopFeature, Manifold } from "@oxturn/floor";
import { type Point, type Region, radians } from "@oxturn/geometry";
import {
	type Box,
	boxAround,
	boxAt,
	boxesOverlap,
	pathData,
	regionHolds,
	regionMeetsBox,
	regionToPaper,
	toPaper,
	unionOfBoxes,
	type View,
} from "./paper.ts";
import { shorten, textAt, textWidth } from "./text.ts";
import { letter, loopColour, pen, type Tokens } from "./tokens.ts";
import { element, group, xmlId } from "./xml.ts";

/**
 * A manifold on paper: its body in the wall, and a strip of port labels fanned out behind it. Where rooms lie behind
 * it, the strip stands beside the plan instead, and the manifold's id in its wall tells whose it is.
 */
export interface ManifoldDrawing {
	readonly manifold: Manifold;
	readonly body: readonly Point[];
	/** Strip of labels; `undefined` for a manifold that feeds nothing. */
	readonly strip: PortStrip | undefined;
	/** The id beside the body, where the strip stands elsewhere. */
	readonly tag: ManifoldTag | undefined;
	readonly title: string;
	readonly titleBox: Box;
	/** Everything that the manifold takes up. */
	readonly boxes: readonly Box[];
}

interface ManifoldTag {
	readonly box: Box;
	readonly text: string;
	readonly isUpright: boolean;
}

interface PortStrip {
	readonly box: Box;
	/** Ports side by side with upright text, or one below the other with level text. */
	readonly isUpright: boolean;
	readonly cells: readonly PortCell[];
}

interface PortCell {
	readonly loop: LoopFeature;
	readonly loopIndex: number;
	readonly flow: Point;
	readonly back: Point;
	readonly box: Box;
	/** Where the leader from the port ends. */
	readonly entry: Point;
}

const BODY_DEPTH = 110; // mm of floor: a manifold hangs in or on the wall, within a usual wall's thickness
const CELL_PITCH = 3;
const ID_WIDTH = 12; // mm on paper: a longer id is shortened
const TITLE_HEIGHT = 3.4;
const LEADERS = [4, 9, 14, 19, 26]; // mm on paper, tried in turn until strips stay apart

/** Places every manifold's body, ports and labels; strips keep clear of each other, and of rooms where they can. */
export function layOutManifolds(floor: Floor, layout: Layout, view: View, wall: number): ManifoldDrawing[] {
	const placed: ManifoldDrawing[] = [];
	const plan: Plan = {
		rooms: floor.rooms.map((room) => regionToPaper(view, room.region)),
		doorways: floor.doorways.map((doorway) => regionToPaper(view, doorway.region)),
		wall: wall / view.scale,
	};
	for (const manifold of floor.manifolds) {
		const attempts = LEADERS.map((leader) => layOutManifold(manifold, layout, view, leader));
		const taken = placed.flatMap(({ boxes }) => boxes);
		const isApart = ({ boxes }: ManifoldDrawing): boolean =>
			boxes.every((box) => taken.every((other) => !boxesOverlap(box, other)));
		const isClear = (attempt: ManifoldDrawing): boolean =>
			isApart(attempt) &&
			!plan.rooms.some(
				(room) =>
					regionMeetsBox(room, attempt.strip?.box ?? attempt.titleBox) ||
					leadersOf(attempt, view).some(([from, to]) => regionHolds(room, middleBetween(from, to))),
			);
		placed.push(
			attempts.find(isClear) ??
				besidePlan(attempts[0]!, taken, plan, view) ??
				attempts.find(isApart) ??
				attempts[attempts.length - 1]!,
		);
	}
	return placed;
}

/** From the back of the body, behind each pair of ports, to the pair's label. */
function leadersOf({ manifold, strip }: ManifoldDrawing, view: View): (readonly [Point, Point])[] {
	const depth = BODY_DEPTH / view.scale;
	const angle = radians(manifold.facing);
	return (strip?.cells ?? []).map(({ flow, back, entry }) => {
		const [x, y] = middleBetween(flow, back);
		return [[x - Math.cos(angle) * depth, y + Math.sin(angle) * depth], entry];
	});
}

const middleBetween = (a: Point, b: Point): Point => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];

/** What strips keep clear of, on paper. */
interface Plan {
	readonly rooms: readonly Region[];
	readonly doorways: readonly Region[];
	/** How thick outer walls are shown, mm. */
	readonly wall: number;
}

/** mm on paper: from the walls to a strip beside the plan, and from one place that is tried for it to the next. */
const BESIDE = 2;
const STEP = 3;
/** Places that are tried along either side of the plan at the most. */
const MOST_STEPS = 40;
/** What each mm is worth, in mm of the way to the manifold, by which a strip makes the plan wider or higher. */
const GROWTH = 3;

/** Moves a strip out of the plan to the nearest place that is free; undefined for a manifold that has no strip. */
function besidePlan(
	drawing: ManifoldDrawing,
	taken: readonly Box[],
	plan: Plan,
	view: View,
): ManifoldDrawing | undefined {
	const { strip, body } = drawing;
	if (strip === undefined) return undefined;
	const walls = plan.rooms.map(({ outer }) => boxAround(outer, plan.wall));
	const whole = unionOfBoxes([...walls, ...taken]);
	const width = strip.box.right - strip.box.left;
	const height = strip.box.bottom - strip.box.top;
	const [x, y] = middleOf(boxAround(body));
	// the outermost places are a little farther off than they have to be
	const columns = steps(whole.left - 2 * BESIDE - width / 2, whole.right + 2 * BESIDE + width / 2);
	const rows = steps(whole.top - 2 * BESIDE - height / 2, whole.bottom + 2 * BESIDE + height / 2);
	const places = columns.flatMap((left) =>
		rows.map((top) => {
			const box = boxAt([left, top], width, height);
			const { left: l, right: r, top: t, bottom: b } = unionOfBoxes([whole, box]);
			const growth = r - l - (whole.right - whole.left) + (b - t) - (whole.bottom - whole.top);
			return { box, cost: Math.hypot(left - x, top - y) + GROWTH * growth };
		}),
	);
	const isFree = (box: Box): boolean => {
		const wide = boxAround(cornersOf(box), plan.wall + BESIDE);
		return !plan.rooms.some((room) => regionMeetsBox(room, wide)) && !taken.some((other) => boxesOverlap(wide, other));
	};
	// array sorting is stable: of places that cost the same the first stays first
	const place = places.sort((a, b) => a.cost - b.cost).find(({ box }) => isFree(box));
	if (place === undefined) return undefined;
	const [dx, dy] = [place.box.left - strip.box.left, place.box.top - strip.box.top];
	const move = (box: Box): Box => ({
		left: box.left + dx,
		right: box.right + dx,
		top: box.top + dy,
		bottom: box.bottom + dy,
	});
	const cells = strip.cells.map((cell) => ({ ...cell, box: move(cell.box) }));
	const tag = tagBeside(drawing, plan, taken, view);
	return {
		...drawing,
		strip: { ...strip, box: place.box, cells },
		tag,
		titleBox: move(drawing.titleBox),
		boxes: [boxAround(body), place.box, tag.box],
	};
}

/** The id in the wall beside the body where no doorway is, else behind the body. */
function tagBeside(
	{ manifold, body, strip }: ManifoldDrawing,
	plan: Plan,
	taken: readonly Box[],
	view: View,
): ManifoldTag {
	const text = shorten(manifold.id, ID_WIDTH, letter.small, true);
	const isUpright = !(strip?.isUpright ?? true); // along the wall: ports side by side hang in a level one
	const [long, high] = [textWidth(text, letter.small, true) + 0.8, letter.small * 1.25];
	const [width, height] = isUpright ? [high, long] : [long, high];
	const box = boxAround(body);
	const [x, y] = middleOf(box);
	const aside = (isUpright ? box.bottom - box.top : box.right - box.left) / 2 + long / 2 + 0.6;
	const angle = radians(manifold.facing);
	const back = BODY_DEPTH / view.scale / 2 + (isUpright ? width : height) / 2 + 0.6;
	const places: readonly Point[] = [
		...[aside, -aside].map((step): Point => (isUpright ? [x, y + step] : [x + step, y])),
		[x - Math.cos(angle) * back, y + Math.sin(angle) * back],
	];
	const boxes = places.map((place) => boxAt(place, width, height));
	const isFree = (each: Box): boolean =>
		!plan.doorways.some((doorway) => regionMeetsBox(doorway, each)) &&
		!taken.some((other) => boxesOverlap(each, other));
	return { box: boxes.find(isFree) ?? boxes[boxes.length - 1]!, text, isUpright };
}

const middleOf = ({ left, right, top, bottom }: Box): Point => [(left + right) / 2, (top + bottom) / 2];

const cornersOf = ({ left, right, top, bottom }: Box): Point[] => [
	[left, top],
	[right, bottom],
];

/** Places from one to the other, a step apart where that does not take too many. */
function steps(from: number, to: number): number[] {
	const count = Math.max(1, Math.min(MOST_STEPS, Math.ceil((to - from) / STEP)));
	return Array.from({ length: count + 1 }, (_, i) => from + ((to - from) * i) / count);
}

function layOutManifold(manifold: Manifold, layout: Layout, view: View, leader: number): ManifoldDrawing {
	const angle = radians(manifold.facing);
	const out: Point = [Math.cos(angle), -Math.sin(angle)];
	const along: Point = [out[1], -out[0]]; // along the wall, leftwards seen from the room
	const at = toPaper(view, manifold.position);
	const move = (p: Point, outwards: number, sideways: number): Point => [
		p[0] + out[0] * outwards + along[0] * sideways,
		p[1] + out[1] * outwards + along[1] * sideways,
	];
	const loops = layout.features
		.map((loop, loopIndex) => ({ loop, loopIndex }))
		.filter(({ loop }) => loop.properties.manifold === manifold.id);
	const pitch = manifold.portPitch / view.scale;
	const depth = BODY_DEPTH / view.scale;

	const ends = loops.flatMap(({ loop }) => {
		const line = loop.geometry.coordinates;
		return [line[0], line[line.length - 1]].filter((p) => p !== undefined);
	});
	const offsets = ends.map((p) => {
		const [x, y] = toPaper(view, p);
		return (x - at[0]) * along[0] + (y - at[1]) * along[1];
	});
	const halfRail = ((manifold.ports ?? 1) * pitch) / 2;
	const low = Math.min(...(offsets.length > 0 ? offsets : [-halfRail])) - pitch / 2;
	const high = Math.max(...(offsets.length > 0 ? offsets : [halfRail])) + pitch / 2;
	const body = [move(at, 0, low), move(at, 0, high), move(at, -depth, high), move(at, -depth, low)];

	const isUpright = Math.abs(out[1]) >= Math.abs(out[0]);
	const title = shorten(`Manifold ${manifold.id}`, 40, letter.small, true);
	const titleWidth = textWidth(title, letter.small, true) + 1.6;
	const behind = move(at, -depth - leader, (low + high) / 2);
	const backX = Math.sign(-out[0]) || 1;
	const backY = Math.sign(-out[1]) || 1;

	if (loops.length === 0) {
		const centre: Point = isUpright
			? [behind[0], behind[1] + (backY * TITLE_HEIGHT) / 2]
			: [behind[0] + (backX * titleWidth) / 2, behind[1]];
		const titleBox = boxAt(centre, titleWidth, TITLE_HEIGHT);
		return { manifold, body, strip: undefined, tag: undefined, title, titleBox, boxes: [boxAround(body), titleBox] };
	}

	const ports = loops
		.map(({ loop, loopIndex }) => {
			const line = loop.geometry.coordinates;
			const flow = toPaper(view, line[0] ?? manifold.position);
			const back = toPaper(view, line[line.length - 1] ?? manifold.position);
			const middle: Point = [(flow[0] + back[0]) / 2, (flow[1] + back[1]) / 2];
			return { loop, loopIndex, flow, back, middle };
		})
		.sort((a, b) => {
			const axis = isUpright ? 0 : 1;
			return a.middle[axis] - b.middle[axis] || a.loopIndex - b.loopIndex;
		});
	const labelWidth = Math.max(...loops.map(({ loop }) => textWidth(cellText(loop), letter.small, true)), 6) + 1.6;
	const span = ports.length * CELL_PITCH;
	const width = isUpright ? Math.max(span, titleWidth) : Math.max(labelWidth, titleWidth);
	const height = (isUpright ? labelWidth : span) + TITLE_HEIGHT;
	const centre: Point = isUpright
		? [behind[0], behind[1] + (backY * height) / 2]
		: [behind[0] + (backX * width) / 2, behind[1]];
	const box = boxAt(centre, width, height);
	// the title stands at the end away from the wall, so that no leader crosses it
	const isTitleOnTop = !isUpright || backY < 0;
	const titleBox = isTitleOnTop
		? { ...box, bottom: box.top + TITLE_HEIGHT }
		: { ...box, top: box.bottom - TITLE_HEIGHT };
	const top = isTitleOnTop ? titleBox.bottom : box.top;
	const cells = ports.map(({ loop, loopIndex, flow, back }, index): PortCell => {
		const first = isUpright ? centre[0] - span / 2 : top;
		const from = first + index * CELL_PITCH;
		const cell: Box = isUpright
			? { left: from, right: from + CELL_PITCH, top, bottom: top + labelWidth }
			: { left: box.left, right: box.right, top: from, bottom: from + CELL_PITCH };
		const entry: Point = isUpright
			? [from + CELL_PITCH / 2, backY > 0 ? cell.top : cell.bottom]
			: [backX > 0 ? cell.left : cell.right, from + CELL_PITCH / 2];
		return { loop, loopIndex, flow, back, box: cell, entry };
	});
	return {
		manifold,
		body,
		strip: { box, isUpright, cells },
		tag: undefined,
		title,
		titleBox,
		boxes: [boxAround(body), box],
	};
}

function cellText(loop: LoopFeature): string {
	return `${loop.properties.port}  ${shorten(loop.id, ID_WIDTH, letter.small, true)}`;
}

/** The body in its wall with the arrow of its facing, the ports, and the strip that names them. */
export function drawManifold(drawing: ManifoldDrawing, view: View, colours: Tokens): string {
	const { manifold, body, strip, tag, title, titleBox } = drawing;
	const parts = [
		element("path", {
			d: pathData(body, true),
			fill: colours.paper,
			stroke: colours.ink,
			"stroke-width": pen.medium,
		}),
		facingArrow(drawing, colours),
	];
	if (strip !== undefined) {
		// beside the plan it has no leaders: they would run across rooms
		const leaders = tag === undefined ? leadersOf(drawing, view) : [];
		for (const [i, leader] of leaders.entries())
			parts.push(
				element("path", {
					class: "leader",
					d: pathData(leader),
					fill: "none",
					stroke: loopColour(colours, strip.cells[i]!.loopIndex),
					"stroke-width": pen.thin,
				}),
			);
		parts.push(plate(strip.box, colours));
		for (const cell of strip.cells) parts.push(drawCell(cell, strip.isUpright, colours));
	} else parts.push(plate(titleBox, colours));
	if (tag !== undefined)
		parts.push(
			element("rect", { class: "tag", ...rectOf(tag.box), rx: 0.5, fill: colours.paper }),
			textAt(...middleOf(tag.box), tag.text, {
				size: letter.small,
				fill: colours.ink,
				bold: true,
				anchor: "middle",
				upright: tag.isUpright,
			}),
		);
	parts.push(
		textAt((titleBox.left + titleBox.right) / 2, (titleBox.top + titleBox.bottom) / 2, title, {
			size: letter.small,
			fill: colours.ink,
			bold: true,
			anchor: "middle",
		}),
	);
	return group({ id: xmlId("manifold", manifold.id), "data-manifold": manifold.id }, parts);
}

function drawCell(cell: PortCell, isUpright: boolean, colours: Tokens): string {
	const { box, loop } = cell;
	const colour = loopColour(colours, cell.loopIndex);
	const x = (box.left + box.right) / 2;
	const y = (box.top + box.bottom) / 2;
	const start: Point = isUpright ? [x, box.bottom - 0.8] : [box.left + 0.8, y];
	const id = shorten(loop.id, ID_WIDTH, letter.small, true);
	const end: Point = isUpright ? [x, box.top + 0.8] : [box.right - 0.8, y];
	return group({ "data-port": String(loop.properties.port), "data-loop": loop.id }, [
		textAt(start[0], start[1], String(loop.properties.port), {
			size: letter.small,
			fill: colours.muted,
			upright: isUpright,
		}),
		textAt(end[0], end[1], id, {
			size: letter.small,
			fill: colour,
			bold: true,
			anchor: "end",
			upright: isUpright,
		}),
	]);
}

function facingArrow({ manifold, body }: ManifoldDrawing, colours: Tokens): string {
	const angle = radians(manifold.facing);
	const out: Point = [Math.cos(angle), -Math.sin(angle)];
	const [a, b, c, d] = body as readonly [Point, Point, Point, Point];
	const centre: Point = [(a[0] + b[0] + c[0] + d[0]) / 4, (a[1] + b[1] + c[1] + d[1]) / 4];
	const size = Math.hypot(a[0] - d[0], a[1] - d[1]) * 0.32;
	const corner = (outwards: number, sideways: number): Point => [
		centre[0] + (out[0] * outwards + out[1] * sideways) * size,
		centre[1] + (out[1] * outwards - out[0] * sideways) * size,
	];
	return element("path", { d: pathData([corner(1, 0), corner(-0.8, 1), corner(-0.8, -1)], true), fill: colours.ink });
}

const rectOf = ({ left, top, right, bottom }: Box) => ({ x: left, y: top, width: right - left, height: bottom - top });

/** A quiet ground for text that stands on top of pipes. */
export function plate(box: Box, colours: Tokens, stroke: string = colours.rule): string {
	return element("rect", {
		...rectOf(box),
		rx: 0.5,
		fill: colours.paper,
		stroke,
		"stroke-width": pen.hair,
	});
}
