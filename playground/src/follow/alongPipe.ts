import type { LoopFeature, Point } from "oxturn";
import { distance, nearestOnSegment } from "../document/plane.ts";

const known = new WeakMap<readonly Point[], readonly number[]>();

/** Lengths from the start of a path to each of its points, mm. */
export function stationsOf(points: readonly Point[]): readonly number[] {
	const made = known.get(points);
	if (made) return made;
	let sum = 0;
	const stations = points.map((point, index) => {
		sum += distance(points[index - 1] ?? point, point);
		return sum;
	});
	known.set(points, stations);
	return stations;
}

/** The place `station` mm from the start of a path; its ends for what lies beyond them. */
export function placeOn(points: readonly Point[], station: number): Point {
	const stations = stationsOf(points);
	const next = stations.findIndex((reached) => reached >= station);
	if (next <= 0) return (next === 0 ? points[0] : points.at(-1)) ?? [0, 0];
	const [from, to] = [points[next - 1] ?? [0, 0], points[next] ?? [0, 0]];
	const [before, after] = [stations[next - 1] ?? 0, stations[next] ?? 0];
	const share = (station - before) / (after - before);
	return [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
}

/** The length of a loop as drawn, mm. */
export function lengthOfLoop(loop: LoopFeature): number {
	return stationsOf(loop.geometry.coordinates).at(-1) ?? 0;
}

/** The place `station` mm from a loop's flow port. */
export function placeAt(loop: LoopFeature, station: number): Point {
	return placeOn(loop.geometry.coordinates, station);
}

/** A place along a loop. */
export interface Station {
	/** Id of the loop. */
	readonly loop: string;
	/** From the flow port, mm. */
	readonly station: number;
}

/** The place on any pipe that is nearest to `at`, if one lies within `reach`; mm. */
export function nearestStation(loops: readonly LoopFeature[], at: Point, reach: number): Station | undefined {
	let least = reach;
	let found: Station | undefined;
	for (const loop of loops) {
		const points = loop.geometry.coordinates;
		const stations = stationsOf(points);
		for (let index = 1; index < points.length; index += 1) {
			const [from, to] = [points[index - 1], points[index]];
			if (!from || !to || isBeyond(at, from, to, least)) continue;
			const nearest = nearestOnSegment(at, { from, to });
			const away = distance(at, nearest.at);
			if (away >= least) continue;
			least = away;
			found = { loop: loop.id, station: (stations[index - 1] ?? 0) + distance(from, nearest.at) };
		}
	}
	return found;
}

/** Whether a run is farther than `reach` by its box alone: this is asked of every run at every move of a pointer. */
function isBeyond([x, y]: Point, from: Point, to: Point, reach: number): boolean {
	return (
		(from[0] - x > reach && to[0] - x > reach) ||
		(x - from[0] > reach && x - to[0] > reach) ||
		(from[1] - y > reach && to[1] - y > reach) ||
		(y - from[1] > reach && y - to[1] > reach)
	);
}
