import type { Room } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import { boxAt, boxInside, regionToPaper, type Size } from "../paper.ts";
import { plate } from "../plate.ts";
import { shorten, textAt, textWidth } from "../text.ts";
import { letter, loopColour } from "../tokens.ts";
import { group } from "../xml.ts";
import type { Candidate } from "./labelBoard.ts";
import { type PaperLoop, placeAlong } from "./paperLoop.ts";
import { pipesIn } from "./pipeGrid.ts";
import type { PlanContext } from "./planContext.ts";

/** Places that are tried to either side of a pipe's middle; the last few per cent of it are tails. */
const STEPS = 60;

// a loop's own room weighs more than strangers' pipes, and those more than the steps to the middle
const ABROAD = 1000;
const STRANGER = 200;

interface LoopLabel extends Size {
	readonly text: string;
}

/** Each loop's id on its own pipe, once in every room that it heats, away from other loops' pipes. */
export function labelLoops(context: PlanContext): string {
	const rooms = new Map(context.floor.rooms.map((room) => [room.id, room]));
	return group(
		{ class: "loop-labels" },
		context.pipes.flatMap((pipe) => {
			const homes = pipe.loop.properties.rooms.map((id) => rooms.get(id)).filter((room) => room !== undefined);
			const [first, ...others] = homes;
			return [labelAnywhere(pipe, first, context), ...others.map((room) => labelIn(pipe, room, context))];
		}),
	);
}

/** A label that has to stand somewhere, even on another one: in `home` if it can. */
function labelAnywhere(pipe: PaperLoop, home: Room | undefined, context: PlanContext): string {
	const label = labelOf(pipe);
	const { board } = context;
	const at =
		board.place(candidatesFor(label, pipe, home, context), label.width, label.height) ??
		board.place(candidatesAround(label, pipe), label.width, label.height) ??
		placeAlong(pipe, pipe.length / 2).at;
	return drawLabel(label, pipe, at, context);
}

/** A label that stands in `home` or not at all. */
function labelIn(pipe: PaperLoop, home: Room, context: PlanContext): string {
	const label = labelOf(pipe);
	const candidates = candidatesFor(label, pipe, home, context).filter(({ cost }) => cost < ABROAD);
	const at = context.board.place(candidates, label.width, label.height);
	return at === undefined ? "" : drawLabel(label, pipe, at, context);
}

function labelOf({ loop }: PaperLoop): LoopLabel {
	const text = shorten(loop.id, 16, letter.body, true);
	return { text, width: textWidth(text, letter.body, true) + 1.6, height: letter.body * 1.25 + 0.7 };
}

/** On the pipe, to either side of its middle by turns. */
function candidatesFor(
	{ width, height }: Size,
	pipe: PaperLoop,
	home: Room | undefined,
	{ view, grid }: PlanContext,
): readonly Candidate[] {
	const region = home && regionToPaper(view, home.region);
	return Array.from({ length: 2 * STEPS + 1 }, (_, i) => {
		const step = Math.ceil(i / 2);
		const { at } = placeAlong(pipe, pipe.length * (0.5 + ((i % 2 === 0 ? 1 : -1) * step) / (2.2 * STEPS)));
		const box = boxAt(at, width, height);
		const isHome = region === undefined || boxInside(region, box);
		return { centre: at, cost: (isHome ? 0 : ABROAD) + pipesIn(grid, box, pipe.index) * STRANGER + step };
	});
}

/** A second choice where the pipe itself is taken: rings of places round its middle, the nearest first. */
function candidatesAround({ width, height }: Size, pipe: PaperLoop): readonly Candidate[] {
	const { at } = placeAlong(pipe, pipe.length / 2);
	const candidates: Candidate[] = [];
	for (let ring = 1; ring <= 40; ring++)
		for (let turn = 0; turn < 12; turn++) {
			const angle = (turn * Math.PI) / 6;
			const centre: Point = [
				at[0] + Math.cos(angle) * ring * width * 0.5,
				at[1] + Math.sin(angle) * ring * height * 0.5,
			];
			candidates.push({ centre, cost: ring });
		}
	return candidates;
}

function drawLabel({ text, width, height }: LoopLabel, pipe: PaperLoop, at: Point, { colours }: PlanContext): string {
	const colour = loopColour(colours, pipe.index);
	return group({ "data-loop": pipe.loop.id }, [
		plate(boxAt(at, width, height), colours, colour),
		textAt(at[0], at[1], text, { size: letter.body, fill: colour, bold: true, anchor: "middle" }),
	]);
}
