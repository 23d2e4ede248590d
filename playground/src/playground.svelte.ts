import type { PatternName } from "oxturn";
import { counted } from "./counted.ts";
import { firstFloor, spacingOf, withSpacing } from "./floors.ts";
import type { FloorSource } from "./gallery.ts";
import { type Router, startRouter } from "./router.ts";
import type { Answer, Plan } from "./routeTypes.ts";
import { readSpacing } from "./spacing.ts";

/** What the page is about: the choices made, the last finished plan, and how the run in hand is going. */
export class Playground {
	document = $state.raw<FloorSource>(firstFloor);
	pattern = $state<PatternName>("auto");
	/** As typed; what it means is in `spacing` once it can be used. */
	typedSpacing = $state(String(spacingOf(firstFloor)));
	spacingProblem = $state("");
	/** The last finished plan. It stays while the next is worked out, and when that fails. */
	plan = $state.raw<Plan | undefined>(undefined);
	isRouting = $state(false);
	status = $state("");

	#spacing = spacingOf(firstFloor);
	#run = 0;
	#router: Router;

	constructor() {
		this.#router = startRouter((answer) => this.#take(answer));
		this.#route();
	}

	chooseFloor(document: FloorSource): void {
		this.document = document;
		this.#spacing = spacingOf(document);
		this.typedSpacing = String(this.#spacing);
		this.spacingProblem = "";
		this.#route();
	}

	choosePattern(pattern: PatternName): void {
		this.pattern = pattern;
		this.#route();
	}

	/** Uses the typed spacing, or says why it cannot be used and leaves the plan as it is. */
	applySpacing(): void {
		const reading = readSpacing(this.typedSpacing);
		if ("problem" in reading) {
			this.spacingProblem = `${reading.problem} The plan keeps ${this.#spacing} mm.`;
			return;
		}
		this.spacingProblem = "";
		if (reading.spacing === this.#spacing) return;
		this.#spacing = reading.spacing;
		this.#route();
	}

	#route(): void {
		this.#run += 1;
		this.isRouting = true;
		this.status = `Routing ${this.document.name} at ${this.#spacing}\u00a0mm …`;
		this.#router.route({
			run: this.#run,
			document: withSpacing(this.document, this.#spacing),
			pattern: this.pattern,
		});
	}

	#take(answer: Answer): void {
		// an answer to a choice that has been changed since would undo the newer one
		if (answer.run !== this.#run) return;
		this.isRouting = false;
		if ("problem" in answer) {
			this.status = `${this.document.name} could not be routed. ${answer.problem}`;
			return;
		}
		this.plan = answer.result;
		this.status = describe(answer.result);
	}
}

function describe({ floor, layout: { notices }, totals, seconds }: Plan): string {
	const told = notices.length === 0 ? "" : `, ${counted(notices.length, "notice")}`;
	return `${floor.name}: ${counted(totals.loops, "loop")}, ${totals.pipe.toFixed(1)}\u00a0m of pipe${told}. Routed in ${seconds.toFixed(1)}\u00a0s.`;
}
