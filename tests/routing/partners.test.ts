import { distance, nearestOnRing, type Point } from "@oxturn/geometry";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { closedPath, comesNear } from "../../packages/routing/src/boxes.ts";
import { chancesOf, leadsInOrder, openingsOf, type TailEnd } from "../../packages/routing/src/tails/leads.ts";
import { leastPartners } from "../../packages/routing/src/tails/partners.ts";
import { rectangle, starRing } from "../support/shapes.ts";

const radius = 80;
const ring = rectangle(0, 0, 3000, 2000);
const total = 10_000;
const range = { shortest: 20, longest: 1200, total };
const endAt = (at: Point, heading: number): TailEnd => ({ path: [at, at], pose: { at, heading } });
const place = fc.tuple(fc.integer({ min: -400, max: 400 }), fc.integer({ min: -600, max: -100 }));
const heading = fc.double({ min: 0, max: Math.PI, noNaN: true });
const ends = fc.array(fc.tuple(place, heading), { minLength: 1, maxLength: 3 });

const none = (count: number): Float64Array => new Float64Array(count);

describe("a lead from a tail to an outline", () => {
	test("promises no more than the cheapest pair that it is part of costs", () => {
		fc.assert(
			fc.property(ends, ends, (rightEnds, leftEnds) => {
				const [right, left] = [rightEnds, leftEnds].map((list) => list.map(([at, way]) => endAt(at, way)));
				const openings = openingsOf(ring, [...right!, ...left!], 1200, 100);
				const toRight = chancesOf(right!, openings, false, radius);
				const toLeft = chancesOf(left!, openings, true, radius);
				const lefts = [...leadsInOrder(toLeft, none(openings.length))];
				const partners = leastPartners(openings, toLeft, "behind", range);
				for (const lead of leadsInOrder(toRight, partners))
					for (const other of lefts) {
						const removed = (lead.opening.position - other.opening.position + total) % total;
						if (removed < range.shortest || removed > range.longest) continue;
						expect(lead.promise).toBeLessThanOrEqual(lead.cost + other.cost + removed + 1e-6);
					}
			}),
			{ numRuns: 40 },
		);
	});

	test("comes in the order of its promise, and not at all where it has no partner", () => {
		const openings = openingsOf(ring, [endAt([1500, -300], Math.PI / 2)], 900, 100);
		const chances = chancesOf([endAt([1500, -300], Math.PI / 2)], openings, false, radius);
		const added = Float64Array.from(openings, (_, i) => (i % 2 === 0 ? Infinity : 50 * i));
		const promises = [...leadsInOrder(chances, added)].map(({ promise }) => promise);
		expect(promises.length).toBeGreaterThan(3);
		expect(promises).toEqual(promises.toSorted((a, b) => a - b));
		expect(Math.max(...promises)).toBeLessThan(Infinity);
	});

	test("is given once where the tail may end anywhere on the straight that the lead goes on along", () => {
		const port: Point = [1500, -800];
		const stops = [-700, -600, -500, -400].map(
			(y): TailEnd => ({ path: [port, [1500, y]], pose: { at: [1500, y], heading: Math.PI / 2 } }),
		);
		const openings = openingsOf(ring, stops, 900, 100);
		const chances = chancesOf(stops, openings, false, radius);
		const leads = [...leadsInOrder(chances, none(openings.length))];
		const pipes = leads.map(({ cost, opening }) => `${opening.position.toFixed(3)} ${cost.toFixed(3)}`);
		expect(leads.length).toBeGreaterThan(10);
		expect(new Set(pipes).size).toBe(pipes.length);
		// What goes straight to the first bend goes there from the first stop; from the last one other bends are sharper.
		expect(new Set(leads.map(({ end }) => end)).size).toBe(stops.length);
	});
});

test("a path comes near to a place where its nearest point does", () => {
	fc.assert(
		fc.property(
			starRing(),
			fc.tuple(fc.integer({ min: -6000, max: 6000 }), fc.integer({ min: -6000, max: 6000 })),
			fc.integer({ min: 1, max: 3000 }),
			(star, at, reach) => {
				const { point, distance: away } = nearestOnRing(star, at);
				expect(distance(point, at)).toBeCloseTo(away, 6);
				fc.pre(Math.abs(away - reach) > 1e-6);
				expect(comesNear(closedPath(star), at, reach)).toBe(away < reach);
			},
		),
	);
});
