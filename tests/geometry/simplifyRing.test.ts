import { nearestOnRing, type Point, regionContains, ringContains, simplifyRing } from "@oxturn/geometry";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { rectangle, regularPolygon, starRing } from "../support/shapes.ts";

describe("simplifyRing", () => {
	it("leaves out corners on straight walls", () => {
		const ring: Point[] = [
			[0, 0],
			[1000, 0.2],
			[2000, 0],
			[3000, 0],
			[3000, 1000],
			[3000, 2000],
			[0, 2000],
			[0.1, 1000],
		];
		expect(simplifyRing(ring, 1).toSorted((a, b) => a[0] - b[0] || a[1] - b[1])).toEqual([
			[0, 0],
			[0, 2000],
			[3000, 0],
			[3000, 2000],
		]);
	});

	it("leaves a ring of fewer than five corners alone", () => {
		const room = rectangle(0, 0, 3000, 2000);
		expect(simplifyRing(room, 5000)).toBe(room);
	});

	it("keeps at least a triangle, however coarse", () => {
		expect(simplifyRing(regularPolygon(40, 10), 1000).length).toBeGreaterThanOrEqual(3);
	});

	it("keeps to the ring's own corners in their order and within the tolerance of all of them", () => {
		const ragged = fc
			.tuple(starRing(), fc.array(fc.integer({ min: -30, max: 30 }), { minLength: 60, maxLength: 60 }))
			.map(([ring, noise]) =>
				ring.flatMap(([x, y], i): Point[] => {
					const [nx, ny] = ring[(i + 1) % ring.length]!;
					return [0, 1, 2].map((k): Point => {
						const off = k === 0 ? 0 : noise[(3 * i + k) % noise.length]!;
						return [x + ((nx - x) * k) / 3 + off, y + ((ny - y) * k) / 3 - off];
					});
				}),
			);
		fc.assert(
			fc.property(ragged, fc.integer({ min: 1, max: 200 }), (ring, tolerance) => {
				const simple = simplifyRing(ring, tolerance);
				const places = simple.map((p) => ring.indexOf(p));
				expect(places).not.toContain(-1);
				const turns = places.filter((at, i) => at <= places.at(i - 1)!).length;
				expect(turns).toBe(1);
				for (const p of ring) expect(nearestOnRing(simple, p).distance).toBeLessThanOrEqual(tolerance + 1e-9);
				expect(ringContains(simple, [0, 0])).toBe(regionContains({ outer: ring, holes: [] }, [0, 0]));
			}),
			{ seed: 161, numRuns: 100 },
		);
	});
});
