import type { Layout, LoopFeature, Manifold } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import { type Box, boxAround, boxAt, boxesOverlap, pathData, toPaper, type View } from "./paper.ts";
import { shorten, textAt, textWidth } from "./text.ts";
import { letter, pen, type Tokens } from "./tokens.ts";
import { element, group, xmlId } from "./xml.ts";

/** A manifold on paper: its body in the wall, and a strip of port labels fanned out behind it. */
export interface ManifoldDrawing {
	readonly manifold: Manifold;
	readonly body: readonly Point[];
	/** Strip of labels; `undefined` for a manifold that feeds nothing. */
	readonly strip: PortStrip | undefined;
	readonly title: string;
	readonly titleBox: Box;
	/** Everything that the manifold takes up. */
	readonly boxes: readonly Box[];
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

/** Places every manifold's body, ports and labels; strips keep clear of each other. */
export function layOutManifolds(manifolds: readonly Manifold[], layout: Layout, view: View): ManifoldDrawing[] {
	const placed: ManifoldDrawing[] = [];
	for (const manifold of manifolds) {
		const attempts = LEADERS.map((leader) => layOutManifold(manifold, layout, view, leader));
		const isClear = (attempt: ManifoldDrawing): boolean =>
			attempt.boxes.every((box) => placed.every((other) => other.boxes.every((taken) => !boxesOverlap(box, taken))));
		placed.push(attempts.find(isClear) ?? attempts[attempts.length - 1]!);
	}
	return placed;
}

function layOutManifold(manifold: Manifold, layout: Layout, view: View, leader: number): ManifoldDrawing {
	const angle = (manifold.facing * Math.PI) / 180;
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
		return { manifold, body, strip: undefined, title, titleBox, boxes: [boxAround(body), titleBox] };
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
	return { manifold, body, strip: { box, isUpright, cells }, title, titleBox, boxes: [boxAround(body), box] };
}

function cellText(loop: LoopFeature): string {
	return `${loop.properties.port}  ${shorten(loop.id, ID_WIDTH, letter.small, true)}`;
}

/** The body in its wall with the arrow of its facing, the ports, and the strip that names them. */
export function drawManifold(drawing: ManifoldDrawing, view: View, colours: Tokens): string {
	const { manifold, body, strip, title, titleBox } = drawing;
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
		const depth = BODY_DEPTH / view.scale;
		const angle = (manifold.facing * Math.PI) / 180;
		for (const cell of strip.cells) {
			const colour = loopColour(colours, cell.loopIndex);
			const middle: Point = [(cell.flow[0] + cell.back[0]) / 2, (cell.flow[1] + cell.back[1]) / 2];
			const rear: Point = [middle[0] - Math.cos(angle) * depth, middle[1] + Math.sin(angle) * depth];
			parts.push(
				element("path", {
					d: pathData([rear, cell.entry]),
					fill: "none",
					stroke: colour,
					"stroke-width": pen.thin,
				}),
			);
		}
		parts.push(plate(strip.box, colours));
		for (const cell of strip.cells) parts.push(drawCell(cell, strip.isUpright, colours));
	} else parts.push(plate(titleBox, colours));
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
	const angle = (manifold.facing * Math.PI) / 180;
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

/** A quiet ground for text that stands on top of pipes. */
export function plate(box: Box, colours: Tokens, stroke: string = colours.rule): string {
	return element("rect", {
		x: box.left,
		y: box.top,
		width: box.right - box.left,
		height: box.bottom - box.top,
		rx: 0.5,
		fill: colours.paper,
		stroke,
		"stroke-width": pen.hair,
	});
}

/** Colours come round again after the last; the labels tell such loops apart. */
export function loopColour(colours: Tokens, index: number): string {
	return colours.loops[index % colours.loops.length] ?? colours.ink;
}
