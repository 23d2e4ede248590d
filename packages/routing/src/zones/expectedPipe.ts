import { sum } from "../sum.ts";

export interface ZonePipe {
	/** mm2 */
	readonly area: number;
	/** Length of its two tails, mm. */
	readonly tails: number;
	/** Length of its whole loop, mm; undefined while it is not laid. */
	readonly length: number | undefined;
}

/** So few loops tell nothing of those that are still to be laid. */
const TOO_FEW = 2;

/** What all loops of a room will take together, mm: fields need pipe for their area as those need it that are laid. */
export function expectedPipe(zones: readonly ZonePipe[]): number {
	const laid = zones.filter(({ length }) => length !== undefined);
	if (laid.length < TOO_FEW) return 0;
	const fields = sum(laid.map(({ length, tails }) => length! - tails));
	const density = fields / sum(laid.map(({ area }) => area));
	return sum(zones.map(({ tails }) => tails)) + density * sum(zones.map(({ area }) => area));
}
