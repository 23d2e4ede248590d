import type { Floor, Manifold, System } from "@oxturn/floor";
import { leastApartAtPorts } from "./tails/rules.ts";

/** What rounding may take of the distance between two ports, mm. */
const ROUNDED = 0.05;
/** A pitch that is opened by no more than this, mm, is not told of: nobody could measure it. */
const MOST_UNTOLD = 1;

/** A floor whose manifolds hang their ports far enough apart, and which of them were told to hang them nearer, mm. */
export interface Spread {
	readonly floor: Floor;
	readonly spread: readonly { readonly manifold: Manifold; readonly given: number }[];
}

/** The least pitch at which the pipes of a port pair, half of it apart, and of its neighbours keep clear of each other, mm. */
const leastPitch = (system: System): number => 2 * (leastApartAtPorts(system) + ROUNDED);

/**
 * The floor with port pitches that its pipe fits: side by side at a smaller one, a flow and its return would touch, and
 * no loop could leave the manifold at all.
 */
export function spreadPorts(floor: Floor): Spread {
	const least = leastPitch(floor.system);
	if (floor.manifolds.every(({ portPitch }) => portPitch >= least)) return { floor, spread: [] };
	const manifolds = floor.manifolds.map((manifold) => ({
		...manifold,
		portPitch: Math.max(least, manifold.portPitch),
	}));
	const asGiven = manifolds.map((manifold, i) => ({ manifold, given: floor.manifolds[i]!.portPitch }));
	const spread = asGiven.filter(({ manifold, given }) => manifold.portPitch - given > MOST_UNTOLD);
	return { floor: { ...floor, manifolds }, spread };
}
