import { draftOf, type Variant, type VariantNumber } from "../compare/variant.ts";
import { type Draft, featureOf } from "../document/draft.ts";
import type { MeasureAnswer } from "../work/jobs/measure.ts";
import { type Line, openLine } from "../work/line.ts";

export type SideName = "a" | "b";

/** One side: its settings, and what they came to. */
export class Side {
	readonly name: SideName;
	variant = $state.raw<Variant>({ numbers: {} });
	/** The last answer, and the draft that it is about. */
	answer = $state.raw<{ readonly of: Draft; readonly answer: MeasureAnswer } | undefined>(undefined);
	/** What could not be worked out, in the words of what failed. */
	failure = $state("");
	fraction = $state(0);

	constructor(name: SideName) {
		this.name = name;
	}

	setNumber(name: VariantNumber, value: number | undefined): void {
		const { [name]: _before, ...others } = this.variant.numbers;
		this.variant = { ...this.variant, numbers: value === undefined ? others : { ...others, [name]: value } };
	}
}

/** The whole floor, or one room of it, laid in two ways; worked out beside the page, one side after the other. */
export class Comparison {
	readonly a = new Side("a");
	readonly b = new Side("b");
	/** Id of the room that is compared; none for the whole floor. */
	room = $state<string | undefined>(undefined);
	/** The side in hand. */
	busy = $state<SideName | undefined>(undefined);
	/** Both sides show their settings, or neither: plans of the same size can be compared. */
	isOpen = $state(false);
	/** Given up by the reader, until something changes. */
	isStopped = $state(false);

	#line: Line | undefined;
	#wanted: readonly (readonly [Side, Draft])[] = [];

	constructor() {
		this.a.variant = { pattern: "serpentine", numbers: {} };
		this.b.variant = { pattern: "spiral", numbers: {} };
	}

	/** The room that is compared, as long as the floor has it. */
	roomIn(draft: Draft): string | undefined {
		return this.room !== undefined && featureOf(draft, this.room) ? this.room : undefined;
	}

	/** What a side is about: the floor with its settings. */
	draftOf(side: Side, draft: Draft): Draft {
		return draftOf(draft, side.variant, this.roomIn(draft));
	}

	/** Asks for both sides of a floor; what has been worked out already is kept. */
	want(draft: Draft): void {
		const wanted = [this.a, this.b].map((side) => [side, this.draftOf(side, draft)] as const);
		this.#wanted = wanted.filter(([side, own]) => !isSame(side.answer?.of, own));
		this.#line?.stop();
		this.busy = undefined;
		this.isStopped = false;
		this.#next();
	}

	stop(): void {
		this.#line?.stop();
		this.#wanted = [];
		this.busy = undefined;
		this.isStopped = true;
	}

	/** Nobody looks any more. */
	close(): void {
		this.#line?.close();
		this.#line = undefined;
		this.#wanted = [];
		this.busy = undefined;
	}

	#next(): void {
		const [first, ...others] = this.#wanted;
		this.#wanted = others;
		this.busy = first?.[0].name;
		if (!first) return;
		const [side, draft] = first;
		side.failure = "";
		side.fraction = 0;
		this.#line ??= openLine();
		this.#line
			.run("measure", { draft }, (fraction) => {
				side.fraction = fraction;
			})
			.then(
				(answer) => {
					side.answer = { of: draft, answer };
					this.#next();
				},
				(error: unknown) => {
					side.failure = error instanceof Error ? error.message : String(error);
					this.#next();
				},
			);
	}
}

const isSame = (one: Draft | undefined, other: Draft): boolean =>
	one !== undefined && JSON.stringify(one) === JSON.stringify(other);
