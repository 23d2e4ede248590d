import type { Layout, Manifold } from "@oxturn/floor";
import { boxAround, toPaper, type View } from "../paper.ts";
import { shorten, textWidth } from "../text.ts";
import { letter } from "../tokens.ts";
import type { ManifoldDrawing, PortPair } from "./manifoldDrawing.ts";
import { boxOn, hookBehind, portStrip, TITLE_HEIGHT } from "./portStrip.ts";
import { shift, type WallFrame, wallFrame } from "./wallFrame.ts";

/** mm on paper: a longer title is shortened. */
const TITLE_WIDTH = 40;

/** A manifold with its labels behind it; `leader` mm of paper lie between them and its body. */
export function layOutManifold(manifold: Manifold, layout: Layout, view: View, leader: number): ManifoldDrawing {
	const ports = portsOf(manifold, layout, view);
	const frame = wallFrame(manifold, ports, view);
	const [low, high] = railOf(manifold, ports, frame, view);
	const body = bodyOf(frame, low, high);
	const title = shorten(`Manifold ${manifold.id}`, TITLE_WIDTH, letter.small, true);
	const titleWidth = textWidth(title, letter.small, true) + 1.6;
	const hook = hookBehind(frame, frame.depth + leader, (low + high) / 2);
	const common = { manifold, frame, body, tag: undefined, title };
	if (ports.length === 0) {
		const titleBox = boxOn(hook, titleWidth, TITLE_HEIGHT);
		return { ...common, strip: undefined, titleBox, boxes: [boxAround(body), titleBox] };
	}
	const { strip, titleBox } = portStrip(ports, hook, titleWidth);
	return { ...common, strip, titleBox, boxes: [boxAround(body), strip.box] };
}

/** The pairs of ports that feed a loop. */
function portsOf(manifold: Manifold, layout: Layout, view: View): readonly PortPair[] {
	return layout.features
		.map((loop, loopIndex): PortPair => {
			const line = loop.geometry.coordinates;
			const flow = toPaper(view, line[0] ?? manifold.position);
			const back = toPaper(view, line[line.length - 1] ?? manifold.position);
			return { loop, loopIndex, flow, back };
		})
		.filter(({ loop }) => loop.properties.manifold === manifold.id);
}

/** Both ends of the rail along the wall, mm on paper from the manifold's place: half of a pitch beyond the last ports. */
function railOf(
	manifold: Manifold,
	ports: readonly PortPair[],
	{ at, along }: WallFrame,
	view: View,
): readonly [low: number, high: number] {
	const pitch = manifold.portPitch / view.scale;
	const half = ((manifold.ports ?? 1) * pitch) / 2;
	const places = ports
		.flatMap(({ flow, back }) => [flow, back])
		.map(([x, y]) => (x - at[0]) * along[0] + (y - at[1]) * along[1]);
	const used = places.length > 0 ? places : [-half, half];
	return [Math.min(...used) - pitch / 2, Math.max(...used) + pitch / 2];
}

function bodyOf(frame: WallFrame, low: number, high: number): ManifoldDrawing["body"] {
	const { at, depth } = frame;
	return [
		shift(frame, at, 0, low),
		shift(frame, at, 0, high),
		shift(frame, at, -depth, high),
		shift(frame, at, -depth, low),
	];
}
