import type { Floor } from "@oxturn/floor";
import { regionArea } from "@oxturn/geometry";
import { type Passage, passagesOf } from "./passages.ts";
import { loopsFor, USUAL_TAILS } from "./routeSpace.ts";
import { shareSpaces } from "./shareSpaces.ts";
import { type Space, spacesOf } from "./spaces.ts";
import { type Territory, territoriesOf } from "./territories.ts";

/** The floor in spaces, the doorways between them, and what each manifold serves. */
export interface DividedFloor {
	readonly spaces: readonly Space[];
	readonly passages: readonly Passage[];
	readonly territories: readonly Territory[];
}

/** Divides a floor between its manifolds. */
export function divideFloor(floor: Floor): DividedFloor {
	const whole = spacesOf(floor);
	const wholePassages = passagesOf(floor.doorways, whole);
	const undivided = new Set<number>();
	for (;;) {
		const pieces = shareSpaces(whole, wholePassages, floor.manifolds, undivided);
		const spaces = pieces.flat();
		const passages = passagesOf(floor.doorways, spaces);
		const loops = spaces.map(({ room, region }) =>
			room.heated ? loopsFor(regionArea(region), room, USUAL_TAILS, floor.system.maxLoopLength) : 0,
		);
		const territories = territoriesOf(floor.manifolds, spaces, passages, loops);
		const serving = (space: Space): number =>
			territories.findIndex((territory) => territory.spaces.has(spaces.indexOf(space)));
		// No pipe goes from one part of a space to another, so one that falls to a single manifold is not divided.
		const needless = pieces.flatMap((parts, index) =>
			parts.length > 1 && new Set(parts.map(serving)).size === 1 ? [index] : [],
		);
		if (needless.length === 0) return { spaces, passages, territories };
		for (const index of needless) undivided.add(index);
	}
}
