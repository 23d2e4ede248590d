import { type Path, positionsAlong, type Ring, segmentDistance2 } from "@oxturn/geometry";
import { boxesOf, CHUNK, closedPath } from "../boxes.ts";

/** A closed curve, its first point again at its end, with the distance along it at each of its points, mm. */
interface Curve {
	readonly closed: Path;
	readonly positions: Float64Array;
	/** Nearer along the curve than this, stretches may be as near as they like. */
	readonly skip: number;
	readonly apart: number;
}

/**
 * Whether a closed curve nowhere comes nearer to itself than `apart` mm, neighbours along it (within two turns'
 * length) excepted. Lanes keep their distance by construction; where walls are jagged and steps had to be
 * straightened, only measuring tells.
 */
export function keepsClear(ring: Ring, apart: number): boolean {
	const closed = closedPath(ring);
	const curve: Curve = { closed, positions: positionsAlong(closed), skip: Math.PI * apart * 1.2, apart };
	const boxes = boxesOf(closed);
	for (let chunk = 0, own = 4; own < boxes.length; chunk++, own += 4) {
		// Every pair of boxes is looked at, so that what is the same for all is reckoned once.
		const left = boxes[own]! - apart;
		const low = boxes[own + 1]! - apart;
		const right = boxes[own + 2]! + apart;
		const high = boxes[own + 3]! + apart;
		for (let earlier = 0, box = 4; earlier <= chunk; earlier++, box += 4) {
			if (left > boxes[box + 2]! || right < boxes[box]! || low > boxes[box + 3]! || high < boxes[box + 1]!) continue;
			if (!chunksClear(curve, boxes, chunk, earlier)) return false;
		}
	}
	return true;
}

/** Whether the sides of one chunk keep clear of those of an earlier one, or of its own. */
function chunksClear(curve: Curve, boxes: Float64Array, chunk: number, earlier: number): boolean {
	const { closed, positions, skip, apart } = curve;
	const end = Math.min(closed.length - 1, (chunk + 1) * CHUNK);
	const earlierEnd = Math.min(closed.length - 1, (earlier + 1) * CHUNK);
	if (positions[end - 1]! - positions[earlier * CHUNK + 1]! < skip) return true;
	const box = 4 * (earlier + 1);
	for (let i = chunk * CHUNK; i < end; i++) {
		const a = closed[i]!;
		const b = closed[i + 1]!;
		const left = Math.min(a[0], b[0]) - apart;
		const right = Math.max(a[0], b[0]) + apart;
		const low = Math.min(a[1], b[1]) - apart;
		const high = Math.max(a[1], b[1]) + apart;
		if (left > boxes[box + 2]! || right < boxes[box]! || low > boxes[box + 3]! || high < boxes[box + 1]!) continue;
		// Those that lie too near along the curve come last.
		const far = positions[i]! - skip;
		for (let j = earlier * CHUNK; j < earlierEnd && positions[j + 1]! <= far; j++) {
			const c = closed[j]!;
			const d = closed[j + 1]!;
			if ((c[0] < left && d[0] < left) || (c[0] > right && d[0] > right)) continue;
			if ((c[1] < low && d[1] < low) || (c[1] > high && d[1] > high)) continue;
			const round = positions[closed.length - 1]! - positions[i + 1]! + positions[j]!;
			if (round >= skip && segmentDistance2(a, b, c, d) < apart * apart) return false;
		}
	}
	return true;
}
