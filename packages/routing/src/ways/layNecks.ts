import type { Path } from "@oxturn/geometry";
import type { ClearanceRules } from "../tails/clearance.ts";
import type { Neck } from "../tails/joinRings.ts";
import type { DoorLanes } from "./exitLanes.ts";
import type { GuestRooms } from "./guestRooms.ts";
import type { LaidWays } from "./laidWays.ts";
import { neckAcross } from "./neckAcross.ts";
import type { Link } from "./sharedRooms.ts";

/** Where loops go on to another room across a hall. */
export type Necks = ReadonlyMap<Link, Neck>;

export interface LayNecksOptions {
	/** Tails as they are laid. */
	readonly ways: LaidWays;
	/** Of each host. */
	readonly guests: readonly GuestRooms[];
	readonly doorLanes: DoorLanes;
	readonly minBendRadius: number;
	readonly rules: ClearanceRules;
}

/** The pipes of a neck between its two doorways. */
export const pipesOf = ({ out, back }: Neck): Path[] => [out, back];

/**
 * Lays the necks that lead across a hall, as far as tails leave a way for them. They cross the hall as tails do: its own
 * loops keep off them and do without the floor that they heat.
 */
export function layNecks(options: LayNecksOptions): { readonly laid: LaidWays; readonly necks: Necks } {
	const { ways, guests, doorLanes, minBendRadius, rules } = options;
	const tails = ways.spaces.flatMap(({ slots }) => slots.flatMap((slot) => slot.pipes.map(({ path }) => path)));
	const necks = new Map<Link, Neck>();
	for (const { links, pairsInto } of guests)
		for (const link of links) {
			if (!link.across) continue;
			const pipes = [...tails, ...[...necks.values()].flatMap(pipesOf)];
			const pairs = pairsInto(link);
			const neck = neckAcross({ toHost: link.across, pairs, doorLanes, minBendRadius, pipes, rules });
			if (neck) necks.set(link, neck);
		}
	if (necks.size === 0) return { laid: ways, necks };
	const spaces = ways.spaces.map((laid) => {
		const across = [...necks].filter(([{ through }]) => through.from === laid.space);
		const bundles = across.map(([{ through }, neck]) => ({ passage: through, paths: pipesOf(neck) }));
		return { ...laid, crossing: [...laid.crossing, ...bundles] };
	});
	return { laid: { ...ways, spaces }, necks };
}
