import type { Station } from "../follow/alongPipe.ts";
import type { LayerId } from "../stage/layers.ts";
import { layers } from "../stage/layers.ts";

/** What of the plan is shown, and which of its pipes is followed. */
export class Look {
	#shown = $state.raw<ReadonlySet<LayerId>>(new Set(layers.filter(({ startsOn }) => startsOn).map(({ id }) => id)));

	/** The place on a loop that a pointer or the focus rests on. */
	touched = $state.raw<Station | undefined>(undefined);
	/** The place on a loop that was chosen; it stays until another is, or none. */
	chosen = $state.raw<Station | undefined>(undefined);

	/** The place that is followed: what is pointed at comes before what was chosen. */
	get followed(): Station | undefined {
		return this.touched ?? this.chosen;
	}

	isShown(id: LayerId): boolean {
		return this.#shown.has(id);
	}

	show(id: LayerId, isShown: boolean): void {
		const others = [...this.#shown].filter((other) => other !== id);
		this.#shown = new Set(isShown ? [...others, id] : others);
	}
}
