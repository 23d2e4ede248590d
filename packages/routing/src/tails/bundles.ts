import { distance, type Path, type Point, pointBetween } from "@oxturn/geometry";
import type { Assignment } from "../zones/entries.ts";
import type { Way } from "./tracks.ts";

/** A stretch of wall that the same tails follow side by side. */
export interface Bundle {
	readonly pipes: number;
	/** From the first centreline to the last, mm. */
	readonly width: number;
	/** Along its middle. */
	readonly path: Path;
}

/** The part of a path between two distances along it, mm. */
function section(path: Path, from: number, to: number): Point[] {
	const points: Point[] = [];
	let walked = 0;
	for (let i = 1; i < path.length; i++) {
		const a = path[i - 1]!;
		const b = path[i]!;
		const length = distance(a, b);
		const at = (along: number): Point => {
			const t = length > 0 ? Math.min(1, Math.max(0, (along - walked) / length)) : 0;
			return pointBetween(a, b, t);
		};
		if (walked + length > from && walked < to) {
			if (points.length === 0) points.push(at(from));
			points.push(at(to));
		}
		walked += length;
	}
	return points;
}

/** Shorter stretches are part of the apron, mm. */
const SHORTEST = 200;

/**
 * How many pipes pass along which stretch of wall: from the manifold to the first zone that peels off, from there to
 * the next, on either side. `paths[i]` are the two tails of `order[i]`; zones without tails of their own have none.
 */
export function bundlesOf(order: readonly Assignment[], paths: readonly (readonly Path[])[], pitch: number): Bundle[] {
	const bundles: Bundle[] = [];
	for (const way of [-1, 1] as Way[]) {
		const passing = order
			.map(({ entry }, i) => ({ entry, own: paths[i]! }))
			.filter(({ entry, own }) => entry.way === way && own.length > 0)
			.sort((a, b) => a.entry.along - b.entry.along);
		let from = 0;
		for (const [k, { entry }] of passing.entries()) {
			const rest = passing.slice(k);
			const middle = rest[Math.floor(rest.length / 2)]!.own.at(-1)!;
			const path = section(middle, from, entry.along);
			if (entry.along - from >= SHORTEST && path.length > 1) {
				const pipes = 2 * rest.length;
				bundles.push({ pipes, width: (pipes - 1) * pitch, path });
			}
			from = entry.along;
		}
	}
	return bundles;
}
