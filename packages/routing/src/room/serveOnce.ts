import { ringsOf } from "@oxturn/geometry";
import { fingerprint } from "../fingerprint.ts";
import { clearOfPipes } from "../tails/clearance.ts";
import { type ServeZone, serveZone } from "./serveZone.ts";

/** Coordinates that differ by less are the same, mm: cuts are rounded, and move what is reckoned from them a little. */
const SAME = 0.01;

const snapped = (path: readonly (readonly [number, number])[]): [number, number][] =>
	path.map(([x, y]) => [Math.round(x / SAME) + 0, Math.round(y / SAME) + 0]);

/**
 * Serves zones, and those that it has served before as it did then: between two attempts that differ in a few cuts,
 * most zones stay as they are. A loop is taken again only where it keeps clear of the pipes that are there now.
 * `onServing` is called for every zone that is not.
 */
export function serveOnce(onServing: () => void): ServeZone {
	const known = new Map<string, ReturnType<ServeZone>>();
	return (setting, zone, pair, tails, directions, others) => {
		const key = [
			setting.spacing,
			pair.number,
			setting.expired(),
			setting.isSparing(),
			// Where tails may be left follows from their ports, and from where they end.
			tails.reaches.length,
			fingerprint([...zone.flatMap(ringsOf), ...setting.nooks.map(({ mouth }) => mouth), ...tails.paths].map(snapped)),
		].join(" ");
		const before = known.get(key);
		if (before && (before === "no field" || clearOfPipes(before.path, others, setting.rules))) return before;
		onServing();
		const served = serveZone(setting, zone, pair, tails, directions, others);
		known.set(key, served);
		return served;
	};
}
