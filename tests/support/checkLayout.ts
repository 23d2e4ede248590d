import type { Floor, Layout } from "@oxturn/floor";
import type { Point, Ring } from "@oxturn/geometry";
import * as turf from "@turf/turf";
import { surplusTurning } from "./shapes.ts";

/** Pipe is looked at every so many mm. */
const STEP = 10;
/** Round a manifold pipes fan out of their ports and may lie as near as their skins, mm. */
const FAN = 800;
/** Ports hang at the wall, so the pipe's skin may touch it there, mm. */
const AT_PORT = 600;
/** Flattening and rounding, mm. */
const SLACK = 1.5;
/** Where a lead joins an arc its heading may be off by this much, rad. */
const KINK = 0.12;
/** Arcs are flattened to this, mm. */
const CHORD_ERROR = 0.5;

interface Sample {
	readonly at: Point;
	readonly loop: number;
	/** Pipe from the flow port, mm. */
	readonly along: number;
}

function samplesOf(path: readonly Point[], loop: number): Sample[] {
	const samples: Sample[] = [];
	let along = 0;
	for (let i = 1; i < path.length; i++) {
		const [ax, ay] = path[i - 1]!;
		const [bx, by] = path[i]!;
		const length = Math.hypot(bx - ax, by - ay);
		const count = Math.max(1, Math.ceil(length / STEP));
		for (let k = 0; k < count; k++)
			samples.push({
				at: [ax + ((bx - ax) * k) / count, ay + ((by - ay) * k) / count],
				loop,
				along: along + (length * k) / count,
			});
		along += length;
	}
	samples.push({ at: path.at(-1)!, loop, along });
	return samples;
}

function distanceToRing([x, y]: Point, ring: Ring): number {
	let nearest = Infinity;
	for (const [i, [bx, by]] of ring.entries()) {
		const [ax, ay] = ring.at(i - 1)!;
		const [dx, dy] = [bx - ax, by - ay];
		const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)));
		nearest = Math.min(nearest, Math.hypot(ax + t * dx - x, ay + t * dy - y));
	}
	return nearest;
}

const closed = (ring: Ring): [number, number][] => [...ring, ring[0]!].map(([x, y]) => [x, y]);

/**
 * What is wrong with a layout of single rooms, in words; nothing when it is valid. Stricter in places than the audit
 * and made by other means: it looks at the pipe every 10 mm, compares all samples that lie near each other and leaves
 * inside and outside to a second library.
 */
export function faultsOf(floor: Floor, layout: Layout): string[] {
	const { pipe, tailSpacing } = floor.system;
	const faults: string[] = [];
	const samples = layout.features.flatMap(({ geometry }, i) => samplesOf(geometry.coordinates, i));
	const fromManifold = ([x, y]: Point): number =>
		Math.min(...floor.manifolds.map(({ position }) => Math.hypot(position[0] - x, position[1] - y)));

	for (const { id, geometry, properties } of layout.features) {
		const path = geometry.coordinates;
		const length = path.reduce((sum, [x, y], i) => {
			const [ax, ay] = path[Math.max(0, i - 1)]!;
			return sum + Math.hypot(x - ax, y - ay);
		}, 0);
		if (Math.abs(length / 1000 - properties.length) > 0.002) faults.push(`length: ${id} says ${properties.length} m`);
		if (length / 1000 > floor.system.maxLoopLength * 1.001) faults.push(`length: ${id} is ${length / 1000} m long`);
		const tight = surplusTurning(path, pipe.minBendRadius, CHORD_ERROR);
		if (tight > KINK) faults.push(`bend: ${id} turns ${tight.toFixed(2)} rad more than a bend may`);
		for (const end of [path[0]!, path.at(-1)!])
			if (fromManifold(end) > AT_PORT)
				faults.push(`port: ${id} ends ${fromManifold(end).toFixed(0)} mm from the manifold`);
	}

	const obstacles = [
		...floor.rooms.flatMap(({ region }) => region.holes),
		...floor.keepouts.map(({ region }) => region.outer),
	];
	const rooms = floor.rooms.map(({ region }) => turf.polygon([closed(region.outer)]));
	const blocks = obstacles.map((ring) => turf.polygon([closed(ring)]));
	for (const [i, { at }] of samples.entries()) {
		if (i % 3 > 0 || fromManifold(at) < AT_PORT) continue;
		const place = [...at];
		const isInside =
			rooms.some((room) => turf.booleanPointInPolygon(place, room)) &&
			!blocks.some((block) => turf.booleanPointInPolygon(place, block));
		const walls = [...floor.rooms.map(({ region }) => region.outer), ...obstacles];
		const skin = Math.min(...walls.map((ring) => distanceToRing(at, ring))) - pipe.outerDiameter / 2;
		if (isInside && skin > -SLACK) continue;
		faults.push(`inside: ${at[0].toFixed(0)}, ${at[1].toFixed(0)}`);
		break;
	}

	const cell = Math.max(tailSpacing, pipe.outerDiameter + 1);
	const cells = new Map<string, Sample[]>();
	const sameBend = Math.PI * Math.max(pipe.minBendRadius, cell) + 2 * STEP;
	search: for (const sample of samples) {
		const [cx, cy] = [Math.floor(sample.at[0] / cell), Math.floor(sample.at[1] / cell)];
		const limit = fromManifold(sample.at) < FAN ? pipe.outerDiameter : 0.96 * tailSpacing;
		for (let dx = -1; dx <= 1; dx++)
			for (let dy = -1; dy <= 1; dy++)
				for (const other of cells.get(`${cx + dx},${cy + dy}`) ?? []) {
					if (other.loop === sample.loop && Math.abs(other.along - sample.along) < sameBend) continue;
					const gap = Math.hypot(other.at[0] - sample.at[0], other.at[1] - sample.at[1]);
					// two samples beside each other may be half a step off the nearest places
					if (gap > Math.min(limit, fromManifold(other.at) < FAN ? pipe.outerDiameter : limit)) continue;
					faults.push(`clearance: ${gap.toFixed(1)} mm at ${sample.at[0].toFixed(0)}, ${sample.at[1].toFixed(0)}`);
					break search;
				}
		const key = `${cx},${cy}`;
		const here = cells.get(key);
		if (here) here.push(sample);
		else cells.set(key, [sample]);
	}
	return faults;
}
