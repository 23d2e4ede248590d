import { type Point, segmentDistance2 } from "@oxturn/geometry";
import fc from "fast-check";
import { expect, test } from "vitest";
import { everyNearPair } from "../../packages/routing/src/audit/nearPairs.ts";

const coordinate = fc.integer({ min: 0, max: 400 });
const path = fc.array(fc.tuple(coordinate, coordinate), { minLength: 1, maxLength: 80 });

const segmentsOf = (points: readonly Point[]) => ({
	ax: Float64Array.from(points.slice(0, -1), ([x]) => x),
	ay: Float64Array.from(points.slice(0, -1), ([, y]) => y),
	bx: Float64Array.from(points.slice(1), ([x]) => x),
	by: Float64Array.from(points.slice(1), ([, y]) => y),
});

const NONE = (): boolean => false;

test("every two segments that come near to each other are given once, the later one first", () => {
	fc.assert(
		fc.property(path, fc.integer({ min: 0, max: 60 }), (points, reach) => {
			const given = new Set<string>();
			everyNearPair(segmentsOf(points), reach, NONE, (later, earlier) => {
				expect(later).toBeGreaterThan(earlier);
				expect(given).not.toContain(`${later} ${earlier}`);
				given.add(`${later} ${earlier}`);
				return true;
			});
			for (let i = 0; i + 1 < points.length; i++)
				for (let j = 0; j < i; j++) {
					const apart2 = segmentDistance2(points[i]!, points[i + 1]!, points[j]!, points[j + 1]!);
					if (apart2 <= reach * reach) expect(given).toContain(`${i} ${j}`);
				}
		}),
	);
});

test("segments whose boxes lie apart are not given", () => {
	// Runs of 10 m, 200 mm apart, as in a field without its returns.
	const runs = Array.from({ length: 50 }, (_, i): Point[] => [
		[i % 2 === 0 ? 0 : 10_000, 200 * i],
		[i % 2 === 0 ? 10_000 : 0, 200 * i],
	]);
	const segments = {
		ax: Float64Array.from(runs, ([a]) => a![0]),
		ay: Float64Array.from(runs, ([a]) => a![1]),
		bx: Float64Array.from(runs, ([, b]) => b![0]),
		by: Float64Array.from(runs, ([, b]) => b![1]),
	};
	const given: [number, number][] = [];
	const every = everyNearPair(segments, 199, NONE, (i, j) => given.push([i, j]) > 0);
	expect(every).toBe(true);
	expect(given).toEqual([]);
});

test("the first pair that does not hold ends it", () => {
	let asked = 0;
	const points: Point[] = Array.from({ length: 100 }, (_, i) => [i, 0]);
	const every = everyNearPair(segmentsOf(points), 1, NONE, () => {
		asked++;
		return asked < 5;
	});
	expect(every).toBe(false);
	expect(asked).toBe(5);
});

test("only stretches that are exempt as a whole are passed over", () => {
	const points: Point[] = Array.from({ length: 200 }, (_, i) => [i, 0]);
	const given = new Set<string>();
	const isExempt = (first: number, last: number): boolean => last - first < 12;
	everyNearPair(segmentsOf(points), 1, isExempt, (i, j) => given.add(`${i} ${j}`).size > 0);
	for (let i = 0; i + 1 < points.length; i++)
		for (let j = Math.max(0, i - 2); j < i; j++) if (!given.has(`${i} ${j}`)) expect(isExempt(j, i)).toBe(true);
	const all = new Set<string>();
	everyNearPair(segmentsOf(points), 1, NONE, (i, j) => all.add(`${i} ${j}`).size > 0);
	expect(given.size).toBeLessThan(all.size);
});
