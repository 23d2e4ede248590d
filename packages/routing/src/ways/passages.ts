import type { Doorway } from "@oxturn/floor";
import {
	add,
	cross,
	direction,
	dot,
	leftOf,
	offset,
	type Point,
	type Region,
	regionContains,
	ringsOf,
	scale,
	subtract,
} from "@oxturn/geometry";
import { beside, type Lane } from "../tails/lanes.ts";
import type { Space } from "./spaces.ts";

/** A doorway as tails pass it, from one space into another. */
export interface Passage {
	readonly doorway: Doorway;
	readonly from: number;
	readonly to: number;
	/** The way through, a unit vector. */
	readonly axis: Point;
	/** In the middle of the wall; lanes are counted from here, to the right of who goes through. */
	readonly middle: Point;
	/** Half the thickness of the wall, mm. */
	readonly halfDepth: number;
	/** The opening reaches from here to there, to the right of its middle, mm. */
	readonly low: number;
	readonly high: number;
}

/** Rooms and doorways nearer than this touch, mm. */
const TOUCH = 2;
/** Walls that differ by less than this lie in one line, radians. */
const IN_LINE = 0.05;

interface Chord {
	readonly a: Point;
	readonly b: Point;
}

/** The parts of a segment inside a region. */
function* partsInside(a: Point, b: Point, region: Region): Generator<Chord> {
	const d = subtract(b, a);
	const cuts = [0, 1];
	for (const ring of ringsOf(region))
		for (let i = 0; i < ring.length; i++) {
			const c = ring[i]!;
			const e = subtract(ring[(i + 1) % ring.length]!, c);
			const denominator = cross(d, e);
			if (Math.abs(denominator) < 1e-9) continue;
			const t = cross(subtract(c, a), e) / denominator;
			const u = cross(subtract(c, a), d) / denominator;
			if (t > 0 && t < 1 && u >= 0 && u <= 1) cuts.push(t);
		}
	cuts.sort((p, q) => p - q);
	for (let k = 1; k < cuts.length; k++) {
		const [from, to] = [cuts[k - 1]!, cuts[k]!];
		if (to - from > 1e-9 && regionContains(region, add(a, scale(d, (from + to) / 2))))
			yield { a: add(a, scale(d, from)), b: add(a, scale(d, to)) };
	}
}

/** The stretch of a space's wall that a doorway opens, with the space on its left; undefined when they do not touch. */
function thresholdOf(doorway: Region, space: Region): Chord | undefined {
	const [grown] = offset([doorway], TOUCH);
	if (!grown) return undefined;
	const chords = ringsOf(space).flatMap((ring) =>
		ring.flatMap((a, i) => [...partsInside(a, ring[(i + 1) % ring.length]!, grown)]),
	);
	const length = ({ a, b }: Chord): number => Math.hypot(b[0] - a[0], b[1] - a[1]);
	const longest = chords.sort((p, q) => length(q) - length(p))[0];
	if (!longest || length(longest) < 4 * TOUCH) return undefined;
	const along = direction(longest.a, longest.b);
	const inLine = chords.filter(({ a, b }) => Math.abs(cross(along, direction(a, b))) < IN_LINE);
	const at = (p: Point): number => dot(subtract(p, longest.a), along);
	const low = Math.min(...inLine.map(({ a }) => at(a))) + TOUCH;
	const high = Math.max(...inLine.map(({ b }) => at(b))) - TOUCH;
	return { a: add(longest.a, scale(along, low)), b: add(longest.a, scale(along, high)) };
}

function passage(doorway: Doorway, from: number, to: number, near: Chord, far: Chord): Passage | undefined {
	const outOfNear = scale(leftOf(direction(near.a, near.b)), -1);
	const intoFar = leftOf(direction(far.a, far.b));
	const axis = direction([0, 0], add(outOfNear, intoFar));
	const right = scale(leftOf(axis), -1);
	const centre = (chord: Chord): Point => scale(add(chord.a, chord.b), 0.5);
	const middle = scale(add(centre(near), centre(far)), 0.5);
	const range = (chord: Chord): readonly [number, number] => {
		const ends = [dot(subtract(chord.a, middle), right), dot(subtract(chord.b, middle), right)];
		return [Math.min(...ends), Math.max(...ends)];
	};
	const [low, high] = [Math.max(range(near)[0], range(far)[0]), Math.min(range(near)[1], range(far)[1])];
	const halfDepth = Math.abs(dot(subtract(centre(far), centre(near)), axis)) / 2;
	if (!(high > low) || dot(outOfNear, intoFar) <= 0) return undefined;
	return { doorway, from, to, axis, middle, halfDepth, low, high };
}

/** Every way through a doorway, both directions. Doorways that do not lead from one space straight to another have none. */
export function passagesOf(doorways: readonly Doorway[], spaces: readonly Space[]): Passage[] {
	return doorways.flatMap((doorway) => {
		const touched = spaces
			.map(({ room, region }, index) => ({ index, room, region }))
			.filter(({ room }) => doorway.between.includes(room.id))
			.map(({ index, room, region }) => ({ index, room, chord: thresholdOf(doorway.region, region) }))
			.filter(({ chord }) => chord !== undefined);
		return touched.flatMap((near) =>
			touched
				.filter((far) => far.room !== near.room)
				.map((far) => passage(doorway, near.index, far.index, near.chord!, far.chord!))
				.filter((way) => way !== undefined),
		);
	});
}

/** How many pipes fit through side by side. `margin` keeps them off the jambs, centre to jamb, mm. */
export const capacity = ({ low, high }: Passage, spacing: number, margin: number): number =>
	Math.max(0, Math.floor((high - low - 2 * margin) / spacing + 1e-6) + 1);

/** The lane through a passage, `right` of its middle. */
export const laneThrough = ({ middle, axis }: Passage, right: number): Lane => ({
	at: beside(middle, axis, 0, right),
	axis,
	bends: [],
});
