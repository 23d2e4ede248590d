import type { Floor, Layout } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";
import { floorLocator } from "./floorLocator.ts";
import { surplusTurning } from "./shapes.ts";

/** Pipe is looked at every so many mm. */
const STEP = 10;
/** Round a manifold pipes fan out of their ports and may lie as near as their skins, mm. */
const FAN = 800;
/** Ports hang at the wall, so the pipe's skin may reach into it there, mm. */
const AT_PORT = 600;
/** Where a lead joins an arc its heading may be off by this much, rad. */
const KINK = 0.12;
/** Arcs are flattened to this, mm. */
const CHORD_ERROR = 0.5;

/** A place on a pipe. */
export interface Sample {
	readonly at: Point;
	readonly loop: number;
	/** Pipe from the flow port, mm. */
	readonly along: number;
}

/** A place every 10 mm, and both ends. */
export function samplesOf(path: readonly Point[], loop: number): Sample[] {
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

/**
 * What is wrong with a layout, in words; nothing when it is valid. Stricter in places than the audit
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
		const hung = floor.manifolds.find((manifold) => manifold.id === properties.manifold);
		if (!hung) faults.push(`port: ${id} hangs on "${properties.manifold}", which is not there`);
		for (const [x, y] of hung ? [path[0]!, path.at(-1)!] : []) {
			const away = Math.hypot(hung!.position[0] - x, hung!.position[1] - y);
			if (away > AT_PORT) faults.push(`port: ${id} ends ${away.toFixed(0)} mm from its manifold`);
		}
	}

	const floorAt = floorLocator(floor);
	for (const [i, { at }] of samples.entries()) {
		if (i % 3 > 0) continue;
		const skin = fromManifold(at) < AT_PORT ? 0 : pipe.outerDiameter / 2;
		if (floorAt.isFloor(at, skin)) continue;
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
