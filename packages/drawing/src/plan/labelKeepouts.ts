import type { Keepout } from "@oxturn/floor";
import type { Point, Region } from "@oxturn/geometry";
import { boxAt, boxInside, centroid, regionToPaper, type Size } from "../paper.ts";
import { ground } from "../plate.ts";
import { textAt, textWidth } from "../text.ts";
import { letter, type Tokens } from "../tokens.ts";
import { group } from "../xml.ts";
import { type Candidate, placesOver } from "./labelBoard.ts";
import type { PlanContext } from "./planContext.ts";

/** Places that are tried along either side of a keep-out. */
const STEPS = 16;

/** A name cut to fewer letters says nothing. */
const FEWEST = 3;

interface KeepoutLabel extends Size {
	readonly text: string;
	readonly isUpright: boolean;
}

/** A keep-out's name, level or upright, whichever shows more of it; one without room for three letters stays bare. */
export function labelKeepouts(context: PlanContext): string {
	return group(
		{ class: "keepout-labels" },
		context.floor.keepouts.map((keepout) => labelKeepout(keepout, context)),
	);
}

function labelKeepout({ name, region: onFloor }: Keepout, { view, colours, board }: PlanContext): string {
	if (name === "") return "";
	const region = regionToPaper(view, onFloor);
	const candidates = candidatesIn(region);
	for (const label of labelsFor(name)) {
		const { width, height } = label;
		const inside = candidates.filter(({ centre }) => boxInside(region, boxAt(centre, width, height)));
		const at = board.place(inside, width, height);
		if (at !== undefined) return drawLabel(label, at, colours);
	}
	return "";
}

/** Wherever the keep-out is, those nearest to its middle the best. */
function candidatesIn(region: Region): readonly Candidate[] {
	const middle = centroid(region.outer);
	return placesOver(region, STEPS).map((centre) => ({
		centre,
		cost: Math.hypot(centre[0] - middle[0], centre[1] - middle[1]),
	}));
}

/** Ways to write a name, those first that show more of it. */
function labelsFor(name: string): readonly KeepoutLabel[] {
	const characters = [...name];
	const cuts = Array.from(
		{ length: Math.max(0, characters.length - FEWEST) },
		(_, i) =>
			`${characters
				.slice(0, characters.length - 1 - i)
				.join("")
				.trimEnd()}…`,
	);
	return [name, ...cuts].flatMap((text) => {
		const [long, high] = [textWidth(text, letter.small) + 1, letter.small * 1.35];
		return [
			{ text, isUpright: false, width: long, height: high },
			{ text, isUpright: true, width: high, height: long },
		];
	});
}

function drawLabel(label: KeepoutLabel, at: Point, colours: Tokens): string {
	return group({}, [
		ground(at, label, { rx: 0.4, fill: colours.keepout }),
		textAt(at[0], at[1], label.text, {
			size: letter.small,
			fill: colours.muted,
			anchor: "middle",
			upright: label.isUpright,
		}),
	]);
}
