import type { Channel } from "@oxturn/floor";
import type { Point, Region } from "@oxturn/geometry";
import { boxAt, regionToPaper, type Size, toPaper } from "../paper.ts";
import { ground } from "../plate.ts";
import { textAt, textWidth } from "../text.ts";
import { letter, type Tokens } from "../tokens.ts";
import { group } from "../xml.ts";
import type { Candidate } from "./labelBoard.ts";
import { pipesIn } from "./pipeGrid.ts";
import type { PlanContext } from "./planContext.ts";

/** Letter height of a channel's label, mm on paper. */
const SIZE = letter.small * 0.9;

/** mm on paper between a channel, or its doorway, and its label. */
const GAP = 0.3;

interface ChannelLabel extends Size {
	readonly text: string;
}

/**
 * How many pipes pass: on the wall beside the doorway that they leave by, else beside the channel where the fewest
 * pipes run.
 */
export function labelChannels(channels: readonly Channel[], context: PlanContext): string {
	const { floor, view } = context;
	const doorways = new Map(floor.doorways.map(({ id, region }) => [id, regionToPaper(view, region)]));
	return group(
		{ class: "channel-labels" },
		channels.map((channel) => {
			const doorway = channel.doorway === undefined ? undefined : doorways.get(channel.doorway);
			return labelChannel(channel, doorway, context);
		}),
	);
}

function labelChannel(channel: Channel, doorway: Region | undefined, context: PlanContext): string {
	const text = `×${channel.pipes}`;
	const label = { text, width: textWidth(text, SIZE, true) + 0.6, height: SIZE * 1.25 };
	const path = channel.path.map((p) => toPaper(context.view, p));
	const candidates = [
		...(doorway === undefined ? [] : besideDoorway(label, doorway, path)),
		...path
			.slice(1)
			.flatMap((to, i) => besideStretch(label, [path[i]!, to], channel.width / context.view.scale / 2, context)),
	];
	const at = context.board.place(candidates, label.width, label.height);
	return at === undefined ? "" : drawLabel(channel, label, at, context.colours);
}

/** On the wall to either side of a doorway, nearest to the pipes first; before any place that is not on the wall. */
function besideDoorway(label: Size, { outer }: Region, path: readonly Point[]): readonly Candidate[] {
	const at = path[path.length - 1];
	const before = path.findLast((p) => at !== undefined && (p[0] !== at[0] || p[1] !== at[1]));
	if (at === undefined || before === undefined) return [];
	const length = Math.hypot(at[0] - before[0], at[1] - before[1]);
	const through: Point = [(at[0] - before[0]) / length, (at[1] - before[1]) / length];
	const along: Point = [-through[1], through[0]];
	const places = (axis: Point): number[] => outer.map(([x, y]) => (x - at[0]) * axis[0] + (y - at[1]) * axis[1]);
	const depths = places(through);
	const middle = (Math.min(...depths) + Math.max(...depths)) / 2;
	const reach = halfAcross(label, along) + GAP;
	return [Math.min(...places(along)) - reach, Math.max(...places(along)) + reach].map((side) => ({
		centre: [at[0] + along[0] * side + through[0] * middle, at[1] + along[1] * side + through[1] * middle],
		cost: Math.abs(side) / 1000 - 1,
	}));
}

/** Along both sides of a stretch of a channel that takes up `half` mm of paper to either side of it. */
function besideStretch(
	label: Size,
	[a, b]: readonly [Point, Point],
	half: number,
	{ grid }: PlanContext,
): readonly Candidate[] {
	const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
	if (length === 0) return [];
	const normal: Point = [-(b[1] - a[1]) / length, (b[0] - a[0]) / length];
	const reach = half + halfAcross(label, normal) + GAP;
	const offsets = [reach, -reach, reach + 2, -reach - 2, reach + 4, -reach - 4];
	return [0.5, 0.35, 0.65, 0.2, 0.8, 0.05, 0.95].flatMap((t) =>
		offsets.map((offset, rank): Candidate => {
			const centre: Point = [
				a[0] + (b[0] - a[0]) * t + normal[0] * offset,
				a[1] + (b[1] - a[1]) * t + normal[1] * offset,
			];
			const covered = pipesIn(grid, boxAt(centre, label.width, label.height));
			return { centre, cost: covered * 10 + Math.floor(rank / 2) * 4 + Math.abs(t - 0.5) };
		}),
	);
}

/** Half of what a label takes up along `axis`, a direction of length 1; mm on paper. */
function halfAcross({ width, height }: Size, axis: Point): number {
	return (Math.abs(axis[0]) * width + Math.abs(axis[1]) * height) / 2;
}

function drawLabel(channel: Channel, label: ChannelLabel, at: Point, colours: Tokens): string {
	return group({ "data-channel": channel.id }, [
		ground(at, label, { rx: 0.4, fill: colours.paper, "fill-opacity": "0.92" }),
		textAt(at[0], at[1], label.text, { size: SIZE, fill: colours.ink, bold: true, anchor: "middle" }),
	]);
}
