import type { Point } from "@oxturn/geometry";
import { middleOf, pathData, rectOf } from "../paper.ts";
import { plate } from "../plate.ts";
import { type TextStyle, textAt } from "../text.ts";
import { letter, loopColour, pen, type Tokens } from "../tokens.ts";
import { element, group, xmlId } from "../xml.ts";
import { leaderTo, type ManifoldDrawing, type ManifoldTag, type PortCell } from "./manifoldDrawing.ts";
import { shownId } from "./portStrip.ts";
import type { WallFrame } from "./wallFrame.ts";

/** The body in its wall with the arrow of its facing, the ports, and the strip that names them. */
export function drawManifold(drawing: ManifoldDrawing, colours: Tokens): string {
	const { manifold, frame, body, strip, tag, title, titleBox } = drawing;
	const { cells, isUpright } = strip ?? { cells: [], isUpright: false };
	// beside the plan the strip has no leaders: they would run across rooms
	const led = tag === undefined ? cells : [];
	return group({ id: xmlId("manifold", manifold.id), "data-manifold": manifold.id }, [
		element("path", {
			d: pathData(body, true),
			fill: colours.paper,
			stroke: colours.ink,
			"stroke-width": pen.medium,
		}),
		facingArrow(drawing, colours),
		...led.map((cell) => drawLeader(cell, frame, colours)),
		plate(strip?.box ?? titleBox, colours),
		...cells.map((cell) => drawCell(cell, isUpright, colours)),
		...(tag === undefined ? [] : drawTag(tag, colours)),
		textAt(...middleOf(titleBox), title, nameStyle(colours)),
	]);
}

const nameStyle = ({ ink }: Tokens): TextStyle => ({ size: letter.small, fill: ink, bold: true, anchor: "middle" });

function facingArrow({ frame: { out }, body }: ManifoldDrawing, colours: Tokens): string {
	const [a, b, c, d] = body;
	const centre: Point = [(a[0] + b[0] + c[0] + d[0]) / 4, (a[1] + b[1] + c[1] + d[1]) / 4];
	const size = Math.hypot(a[0] - d[0], a[1] - d[1]) * 0.32;
	const corner = (outwards: number, sideways: number): Point => [
		centre[0] + (out[0] * outwards + out[1] * sideways) * size,
		centre[1] + (out[1] * outwards - out[0] * sideways) * size,
	];
	return element("path", { d: pathData([corner(1, 0), corner(-0.8, 1), corner(-0.8, -1)], true), fill: colours.ink });
}

function drawLeader(cell: PortCell, frame: WallFrame, colours: Tokens): string {
	return element("path", {
		class: "leader",
		d: pathData(leaderTo(cell, frame)),
		fill: "none",
		stroke: loopColour(colours, cell.loopIndex),
		"stroke-width": pen.thin,
	});
}

/** The port's number at the beginning of its label, the loop's id at the end. */
function drawCell(cell: PortCell, isUpright: boolean, colours: Tokens): string {
	const { box, loop, loopIndex } = cell;
	const [x, y] = middleOf(box);
	const start: Point = isUpright ? [x, box.bottom - 0.8] : [box.left + 0.8, y];
	const end: Point = isUpright ? [x, box.top + 0.8] : [box.right - 0.8, y];
	const port = String(loop.properties.port);
	return group({ "data-port": port, "data-loop": loop.id }, [
		textAt(...start, port, { size: letter.small, fill: colours.muted, upright: isUpright }),
		textAt(...end, shownId(loop), {
			size: letter.small,
			fill: loopColour(colours, loopIndex),
			bold: true,
			anchor: "end",
			upright: isUpright,
		}),
	]);
}

function drawTag({ box, text, isUpright }: ManifoldTag, colours: Tokens): readonly string[] {
	return [
		element("rect", { class: "tag", ...rectOf(box), rx: 0.5, fill: colours.paper }),
		textAt(...middleOf(box), text, { ...nameStyle(colours), upright: isUpright }),
	];
}
