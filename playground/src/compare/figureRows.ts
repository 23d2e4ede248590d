import type { LayoutFigures } from "oxturn";

/** The figures of one side, with the time that routing took. */
export interface Measured {
	readonly figures: LayoutFigures;
	readonly notices: number;
	readonly seconds: number;
}

export type FigureId =
	| "pipe"
	| "loops"
	| "longest"
	| "bends"
	| "within055"
	| "within100"
	| "coldSpot"
	| "tails"
	| "notices"
	| "seconds";

/** One line of the table of differences. */
export interface FigureRow {
	readonly id: FigureId;
	readonly a: number;
	readonly b: number;
	/** The side with the better figure; none where both come out the same. */
	readonly better: "a" | "b" | undefined;
}

interface Rule {
	readonly id: FigureId;
	readonly of: (measured: Measured) => number;
	/** What counts as a difference: one step of the figure as it is shown. */
	readonly step: number;
	readonly moreIsBetter?: true;
}

const RULES: readonly Rule[] = [
	{ id: "pipe", of: ({ figures }) => figures.pipe, step: 0.1 },
	{ id: "loops", of: ({ figures }) => figures.loops, step: 1 },
	{ id: "longest", of: ({ figures }) => figures.longest, step: 0.1 },
	{ id: "bends", of: ({ figures }) => figures.bends, step: 1 },
	{ id: "within055", of: ({ figures }) => figures.within055, step: 0.001, moreIsBetter: true },
	{ id: "within100", of: ({ figures }) => figures.within100, step: 0.001, moreIsBetter: true },
	{ id: "coldSpot", of: ({ figures }) => figures.coldSpot, step: 1 },
	{ id: "tails", of: ({ figures }) => figures.tails, step: 0.1 },
	{ id: "notices", of: ({ notices }) => notices, step: 1 },
	{ id: "seconds", of: ({ seconds }) => seconds, step: 0.01 },
];

/** Figures that a floor without pipe has for nothing: less is no merit there. */
const NEEDS_PIPE: ReadonlySet<FigureId> = new Set(["pipe", "loops", "longest", "bends", "tails", "seconds"]);

/** Puts two sides next to each other: lengths in m, cold spots in mm, shares from 0 to 1. */
export function figureRows(a: Measured, b: Measured): readonly FigureRow[] {
	const isFair = a.figures.loops > 0 && b.figures.loops > 0;
	return RULES.map(({ id, of, step, moreIsBetter }) => {
		const [one, other] = [of(a), of(b)].map((value) => Math.round(value / step));
		const row = { id, a: of(a), b: of(b) };
		if (one === undefined || other === undefined || one === other) return { ...row, better: undefined };
		if (!isFair && NEEDS_PIPE.has(id)) return { ...row, better: undefined };
		return { ...row, better: one < other === (moreIsBetter !== true) ? "a" : "b" };
	});
}
