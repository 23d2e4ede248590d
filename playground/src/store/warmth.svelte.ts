import type { Routed } from "../work/jobs/route.ts";
import type { Warmth } from "../work/jobs/warmth.ts";
import { type Line, openLine } from "../work/line.ts";

/** How far the floor is from its pipes, worked out beside the page for as long as somebody looks at it. */
export class WarmthMap {
	/** The last map, and the layout that it belongs to. */
	map = $state.raw<{ readonly of: Routed; readonly rooms: readonly Warmth[] } | undefined>(undefined);

	#line: Line | undefined;
	#wanted: Routed | undefined;

	/** Asks for the map of a layout; the newest wish wins. */
	want(routed: Routed): void {
		if (routed === this.#wanted) return;
		this.#wanted = routed;
		this.#line ??= openLine();
		this.#line.run("warmth", { floor: routed.floor, layout: routed.layout }).then(
			(rooms) => {
				if (this.#wanted === routed) this.map = { of: routed, rooms };
			},
			() => {
				// without a map the plan is as good as before; the next layout asks again
				if (this.#wanted === routed) this.#wanted = undefined;
			},
		);
	}

	/** Nobody looks any more. */
	drop(): void {
		this.#line?.close();
		this.#line = undefined;
		this.#wanted = undefined;
		this.map = undefined;
	}
}
