import type { LayerId } from "../stage/layers.ts";
import { layers } from "../stage/layers.ts";

/** Which layers of the plan are shown. */
export class Look {
	#shown = $state.raw<ReadonlySet<LayerId>>(new Set(layers.filter(({ startsOn }) => startsOn).map(({ id }) => id)));

	isShown(id: LayerId): boolean {
		return this.#shown.has(id);
	}

	show(id: LayerId, isShown: boolean): void {
		const others = [...this.#shown].filter((other) => other !== id);
		this.#shown = new Set(isShown ? [...others, id] : others);
	}
}
