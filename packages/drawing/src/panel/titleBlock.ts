import { scheduleTotals } from "../schedule.ts";
import { counted, shorten, textAt, wrapText } from "../text.ts";
import { letter, pen } from "../tokens.ts";
import { element, group } from "../xml.ts";
import { type Block, LINE, type PanelContext, rule } from "./block.ts";

const CAUTION =
	"A plan is no substitute for the pipe maker's instructions, local codes and licensed people. " +
	"Pressure-test before covering. Keep the floor's surface no warmer than local codes and the maker of its covering allow. " +
	"Leave thermostats, actuators and pumps to a licensed electrician. Do not drill into a heated floor.";

// mm on paper
const PAD = 3;
const NAME_LINE = letter.title * 1.2;
const FIELD_ROW = 6.6;

/** A figure of the plan under its label; two stand side by side. */
interface Field {
	readonly label: string;
	readonly value: string;
}

/** What the plan is of, its main figures and the caution; `sheet` is the name of the paper's size. */
export function titleBlock(context: PanelContext, sheet: string): Block {
	const { title, colours, width } = context;
	const inner = width - 2 * PAD;
	const names = wrapText(title === "" ? "Unnamed floor" : title, inner / 1.1, letter.title, 3);
	const fields = titleFields(context, sheet);
	const fieldsHeight = Math.ceil(fields.length / 2) * FIELD_ROW;
	const caution = wrapText(CAUTION, inner, letter.body);
	const height = PAD + names.length * NAME_LINE + LINE + 2 + fieldsHeight + 2 + caution.length * LINE + PAD;
	return {
		height,
		draw(x, y) {
			const below = y + PAD + names.length * NAME_LINE;
			const fieldsTop = below + (LINE + 2);
			return group({ class: "title-block" }, [
				element("rect", { x, y, width, height, fill: "none", stroke: colours.ink, "stroke-width": pen.medium }),
				...drawNames(names, x, y + PAD, context),
				textAt(x + PAD, below + LINE / 2, "Underfloor heating, loop plan", { size: letter.body, fill: colours.muted }),
				...fields.flatMap((field, i) => drawField(field, i, x, fieldsTop, context)),
				...drawCaution(caution, x, fieldsTop + fieldsHeight, context),
			]);
		},
	};
}

function titleFields({ floor, layout, rows, scale }: PanelContext, sheet: string): readonly Field[] {
	const { pipe, maxLoopLength } = floor.system;
	const heated = floor.rooms.filter((room) => room.heated).length;
	const spacings = rows.length > 0 ? rows.map((row) => row.spacing) : floor.rooms.map((room) => room.spacing);
	return [
		{ label: "Scale", value: `1:${scale} on ${sheet}` },
		{ label: "Pipe", value: `${pipe.outerDiameter} × ${pipe.wallThickness} mm` },
		{ label: "Spacing", value: spacings.length === 0 ? "–" : range(spacings, "mm") },
		{ label: "Smallest bend", value: `radius ${pipe.minBendRadius} mm` },
		{ label: "Longest allowed loop", value: `${maxLoopLength} m` },
		{ label: "Longest loop", value: rows.length === 0 ? "–" : `${scheduleTotals(rows).longest.toFixed(1)} m` },
		{ label: "Rooms", value: `${floor.rooms.length}, ${heated} heated` },
		{ label: "Loops", value: `${layout.features.length} on ${counted(floor.manifolds.length, "manifold")}` },
	];
}

function drawNames(names: readonly string[], x: number, top: number, { colours }: PanelContext): readonly string[] {
	const style = { size: letter.title, fill: colours.ink, bold: true };
	return names.map((name, i) => textAt(x + PAD, top + i * NAME_LINE + letter.title / 2, name, style));
}

/** The field of the given index; a hairline stands over each pair. */
function drawField(
	{ label, value }: Field,
	index: number,
	x: number,
	top: number,
	{ colours, width }: PanelContext,
): readonly string[] {
	const half = (width - 2 * PAD) / 2;
	const left = x + PAD + (index % 2) * half;
	const y = top + Math.floor(index / 2) * FIELD_ROW;
	const hairline = rule(x, y - 0.6, width, { stroke: colours.rule, "stroke-width": pen.hair });
	return [
		...(index % 2 === 0 ? [hairline] : []),
		textAt(left, y + 1.2, label, { size: letter.small, fill: colours.muted }),
		textAt(left, y + 4, shorten(value, half - 1, letter.body, true), {
			size: letter.body,
			fill: colours.ink,
			bold: true,
		}),
	];
}

function drawCaution(
	lines: readonly string[],
	x: number,
	y: number,
	{ colours, width }: PanelContext,
): readonly string[] {
	const top = y + 1.2;
	return [
		rule(x, y - 0.6, width, { stroke: colours.rule, "stroke-width": pen.hair }),
		...lines.map((line, i) =>
			textAt(x + PAD, top + LINE * (i + 0.5), line, { size: letter.body, fill: colours.caution }),
		),
	];
}

function range(values: readonly number[], unit: string): string {
	const [low, high] = [Math.round(Math.min(...values)), Math.round(Math.max(...values))];
	return low === high ? `${low} ${unit}` : `${low}–${high} ${unit}`;
}
