import { textAt } from "./text.ts";
import { letter, pen, type Tokens } from "./tokens.ts";
import { element, group } from "./xml.ts";

const PARTS = 4;

/** A bar of four equal parts of a round length, its lower left corner at `x`, `y` mm on paper. */
export function scaleBar(scale: number, x: number, y: number, colours: Tokens): string {
	const part = [250, 500, 1000, 2000, 5000, 10000, 20000, 50000].find((mm) => mm / scale >= 10) ?? 100000;
	const width = part / scale;
	const height = 1.6;
	const bars = Array.from({ length: PARTS }, (_, i) =>
		element("rect", {
			class: "part",
			x: x + i * width,
			y: y - height,
			width,
			height,
			fill: i % 2 === 0 ? colours.ink : colours.paper,
			stroke: colours.ink,
			"stroke-width": pen.thin,
		}),
	);
	const figures = Array.from({ length: PARTS + 1 }, (_, i) =>
		textAt(x + i * width, y - height - 2, `${(i * part) / 1000}${i === PARTS ? " m" : ""}`, {
			size: letter.small,
			fill: colours.ink,
			anchor: i === 0 ? "start" : "middle",
		}),
	);
	const ratio = textAt(x + PARTS * width + 7, y - height / 2, `1:${scale}`, { size: letter.body, fill: colours.muted });
	return group({ class: "scale-bar" }, [...bars, ...figures, ratio]);
}
