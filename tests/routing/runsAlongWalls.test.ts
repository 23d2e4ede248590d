import type { Floor, LoopFeature } from "@oxturn/floor";
import { type Point, ringsOf } from "@oxturn/geometry";
import { routeFloor } from "@oxturn/routing";
import { describe, expect, it } from "vitest";
import { wallDirections } from "../../packages/routing/src/field/wallDirections.ts";
import { dwelling } from "../support/dwellings.ts";

/** A straight that leads a tail round a corner is shorter than this, mm. */
const RUN = 600;
/** What counts as slanted, radians. */
const SLANT = 0.015;

const headingOf = (a: Point, b: Point): number => Math.atan2(b[1] - a[1], b[0] - a[0]);

function apart(a: number, b: number): number {
	const difference = Math.abs(a - b) % Math.PI;
	return Math.min(difference, Math.PI - difference);
}

function wallsOf(floor: Floor): number[] {
	const regions = [...floor.rooms, ...floor.keepouts].map(({ region }) => region);
	return regions.flatMap(ringsOf).flatMap((ring) => ring.map((p, i) => headingOf(ring.at(i - 1)!, p)));
}

/** Share of a loop's pipe in long straights along no wall of the floor. */
function slanted({ geometry, properties }: LoopFeature, walls: readonly number[]): number {
	let sum = 0;
	for (const [i, b] of geometry.coordinates.entries()) {
		const a = geometry.coordinates[i - 1];
		const length = a ? Math.hypot(b[0] - a[0], b[1] - a[1]) : 0;
		if (a && length >= RUN && walls.every((wall) => apart(wall, headingOf(a, b)) > SLANT)) sum += length;
	}
	return sum / 1000 / properties.length;
}

/** Dwellings with rooms in which a tail on its way to another room goes aslant from doorway to wall. */
const WITH_SLANTED_TAILS = [770015, 770030];

describe("runs in a room that tails cross aslant", () => {
	it.each(WITH_SLANTED_TAILS)("lie along its walls, not along the tails: dwelling %i", (seed) => {
		const floor = dwelling(seed);
		const walls = wallsOf(floor);
		const shares = routeFloor(floor).features.map((loop) => slanted(loop, walls));
		expect(Math.max(...shares)).toBeLessThan(0.05);
	});
});

describe("the directions of walls", () => {
	it("are those of the longest of walls that lie nearly alike, whichever comes first on the outline", () => {
		const corners: Point[] = [
			[0, 0],
			[300, 9],
			[5000, 9],
			[5000, 4000],
			[0, 4000],
		];
		for (const first of corners.keys()) {
			const ring = [...corners.slice(first), ...corners.slice(0, first)];
			expect(wallDirections([ring], 2, 0.1)).toEqual([0, Math.PI / 2]);
		}
	});

	it("count the length of all that lie nearly alike", () => {
		const stepped: Point[] = [
			[0, 0],
			[1500, 30],
			[3000, 0],
			[3000, 2000],
			[0, 2000],
		];
		const [first] = wallDirections([stepped], 2, 0.1);
		expect(first).toBe(0);
	});
});
