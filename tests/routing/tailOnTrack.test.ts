import {
	difference,
	largestFirst,
	type Point,
	pathLength,
	type Region,
	type Ring,
	roundPath,
	thicken,
} from "@oxturn/geometry";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { layTail, type Tail } from "../../packages/routing/src/tails/layTail.ts";
import { clearanceRules } from "../../packages/routing/src/tails/rules.ts";
import { trackSource } from "../../packages/routing/src/tails/tracks.ts";
import { singleRoom } from "../support/floors.ts";
import { moved, rectangle, solid, tightness } from "../support/shapes.ts";

/** Two rooms of 3 x 3 m, side by side, with a neck of 1 m between them that is as wide as asked for. */
const twoRooms = (neck: number): Ring => [
	[0, 0],
	[3000, 0],
	[3000, 1500 - neck / 2],
	[4000, 1500 - neck / 2],
	[4000, 0],
	[7000, 0],
	[7000, 3000],
	[4000, 3000],
	[4000, 1500 + neck / 2],
	[3000, 1500 + neck / 2],
	[3000, 3000],
	[0, 3000],
];

const FIRST = 100;
const PITCH = 50;
const BEND = 60;
/** To either side of a tail that passes, mm. */
const TAKEN = 46;
/** From arcs to their chords, mm, the last of which may be half as long again; and what is left out of tracks. */
const FLATTENED = 1.5 ** 2 * 0.25 + 0.08;

/** A tail from a manifold in the first room, so many tracks off the wall, to a zone that begins in the second. */
function tailThrough(neck: number, track: number, entry: Point): Tail | undefined {
	const outer = twoRooms(neck);
	const { manifolds, system } = singleRoom({ outer, wall: 0, along: 0.5, minBendRadius: 60 });
	const { position } = manifolds[0]!;
	const tracks = trackSource(solid(outer), position, FIRST, PITCH, 60)(track + 1);
	return (
		tracks[track] &&
		layTail({
			port: { at: position, heading: Math.PI / 2 },
			track: tracks[track],
			way: 1,
			entry,
			others: [],
			rules: clearanceRules(solid(outer), manifolds[0]!, system),
		})
	);
}

describe("a tail along a track", () => {
	const farWall: Point = [5500, 4];

	it("goes through a neck that is wide enough for its track, to where the zone begins", () => {
		const tail = tailThrough(800, 3, farWall)!;
		const [x, y] = tail.path.at(-1)!;
		expect(Math.hypot(x - farWall[0], y - farWall[1])).toBeLessThan(FIRST + 3 * PITCH + 1);
		expect(pathLength(tail.path)).toBeGreaterThan(4000);
	});

	it("is none where its track turns back before the neck: its end would lie in the wrong room", () => {
		expect(tailThrough(450, 3, farWall)).toBeUndefined();
	});

	it("ends near the place where its zone begins, or is none, however wide the neck is", () => {
		fc.assert(
			fc.property(
				fc.integer({ min: 300, max: 1200 }),
				fc.integer({ min: 0, max: 6 }),
				fc.integer({ min: 4200, max: 6800 }),
				(neck, track, x) => {
					const end = tailThrough(neck, track, [x, 4])?.path.at(-1);
					if (end) expect(Math.hypot(end[0] - x, end[1] - 4)).toBeLessThan(1500);
				},
			),
		);
	});
});

describe("tracks beside tails that pass", () => {
	/** The floor of a room of 7 x 6 m, less what a tail takes that goes along its right wall and its far wall to a door. */
	function besideTail(door: number, off: number): Region {
		const tail: Point[] = [
			[7000, 500],
			[7000 - off, 500],
			[7000 - off, 6000 - off],
			[door, 6000 - off],
			[door, 6100],
		];
		const taken = thicken([roundPath(tail, BEND)!], TAKEN, { join: "round", arcTolerance: 0.5 });
		return largestFirst(difference([solid(rectangle(0, 0, 7000, 6000))], taken))[0]!;
	}

	/** A pipe does not feel where two arcs miss each other by a hair. */
	const withoutHairs = (ring: Ring): Ring =>
		ring.filter(([x, y], i) => Math.hypot(x - ring.at(i - 1)![0], y - ring.at(i - 1)![1]) > 0.5);

	it("can be bent all the way, wherever the door is and however the plan is turned", () => {
		const place = { door: fc.integer({ min: 1200, max: 6000 }), off: fc.integer({ min: 80, max: 300 }) };
		fc.assert(
			fc.property(fc.record({ ...place, angle: fc.integer({ min: 0, max: 359 }) }), ({ door, off, angle }) => {
				const turn = moved((angle * Math.PI) / 180, 0, 0);
				const floor = solid(besideTail(door, off).outer.map(turn));
				for (const { ring } of trackSource(floor, turn([0, 3000]), FIRST, PITCH, BEND)(8))
					expect(tightness(withoutHairs(ring), BEND, FLATTENED, true)).toBeLessThan(1.1);
			}),
		);
	});
});
