import type { Floor } from "@oxturn/floor";
import type { View } from "../paper.ts";
import type { Theme, Tokens } from "../tokens.ts";
import type { LabelBoard } from "./labelBoard.ts";
import type { PaperLoop } from "./paperLoop.ts";
import type { PipeGrid } from "./pipeGrid.ts";

/** What the parts of the plan share. */
export interface PlanContext {
	readonly floor: Floor;
	readonly view: View;
	readonly theme: Theme;
	readonly colours: Tokens;
	readonly board: LabelBoard;
	readonly pipes: readonly PaperLoop[];
	readonly grid: PipeGrid;
}
