import type { Floor } from "@oxturn/floor";
import { direction, dot, leftOf, type Point } from "@oxturn/geometry";
import { floorLocator } from "./floorLocator.ts";
import { thereAndBack } from "./thereAndBack.ts";
import type { Way } from "./waysOf.ts";

/** A step is looked at every so many mm. */
const STEP = 50;
/** Places nearer to each other in either direction are one, mm. */
const SAME = 0.01;

/** The direction of a floor's longest wall. */
function wallDirection(floor: Floor): Point {
	const walls = floor.rooms.flatMap(({ region: { outer } }) =>
		outer.map((a, i): readonly [Point, Point] => [a, outer[(i + 1) % outer.length]!]),
	);
	const length = ([a, b]: readonly [Point, Point]): number => Math.hypot(b[0] - a[0], b[1] - a[1]);
	return direction(...walls.reduce((longest, wall) => (length(wall) > length(longest) ? wall : longest)));
}

const sorted = (values: readonly number[]): number[] =>
	values.toSorted((a, b) => a - b).filter((value, i, all) => i === 0 || value - all[i - 1]! > SAME);

const nearest = (values: readonly number[], value: number): number =>
	values.reduce((best, each, i) => (Math.abs(each - value) < Math.abs(values[best]! - value) ? i : best), 0);

/**
 * How short the tails of a loop could be where they go along the walls and square to them, mm: from the manifold to the
 * last door on its way and back, from door to door, without thickness or bends. The shortest of such ways lie on the lines
 * through corners, doors and manifolds, so only these are searched.
 */
export function squareTails(floor: Floor): (way: Way, manifold: Point) => number {
	const { isFloor } = floorLocator(floor);
	const along = wallDirection(floor);
	const across = leftOf(along);
	const corners = [
		...floor.rooms.flatMap(({ region }) => [region.outer, ...region.holes]),
		...[...floor.doorways, ...floor.keepouts].map(({ region }) => region.outer),
	].flat();

	const shortest = (from: Point, to: Point): number => {
		const places = [from, to, ...corners];
		const xs = sorted(places.map((p) => dot(p, along)));
		const ys = sorted(places.map((p) => dot(p, across)));
		const node = (p: Point): number => nearest(ys, dot(p, across)) * xs.length + nearest(xs, dot(p, along));
		const at = (i: number): Point => {
			const [x, y] = [xs[i % xs.length]!, ys[Math.floor(i / xs.length)]!];
			return [x * along[0] + y * across[0], x * along[1] + y * across[1]];
		};
		const isOpen = (a: Point, b: Point): boolean => {
			const count = Math.max(1, Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) / STEP));
			return Array.from({ length: count + 1 }, (_, k) => k / count).every((t) =>
				isFloor([a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])], 0),
			);
		};
		const goal = node(to);
		const best = new Map<number, number>([[node(from), 0]]);
		const done = new Set<number>();
		for (;;) {
			let next: number | undefined;
			for (const [i, length] of best) if (!done.has(i) && (next === undefined || length < best.get(next)!)) next = i;
			if (next === undefined) return Infinity;
			if (next === goal) return best.get(next)!;
			done.add(next);
			const column = next % xs.length;
			const beside = [
				column > 0 ? next - 1 : next,
				column < xs.length - 1 ? next + 1 : next,
				next - xs.length,
				next + xs.length,
			];
			for (const other of beside) {
				if (other < 0 || other >= xs.length * ys.length || done.has(other)) continue;
				const [a, b] = [at(next), at(other)];
				const length = best.get(next)! + Math.hypot(b[0] - a[0], b[1] - a[1]);
				if (length < (best.get(other) ?? Infinity) && isOpen(a, b)) best.set(other, length);
			}
		}
	};

	return thereAndBack(shortest);
}
