import { distance, type Path, type Ring, segmentDistance2 } from "@oxturn/geometry";
import { boxesMeet, boxesOf, CHUNK, closedPath } from "../tails/boxes.ts";

/** A closed curve, its first point again at its end, with the distance along it at each of its points, mm. */
interface Curve {
	readonly closed: Path;
	readonly position: Float64Array;
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
	const position = new Float64Array(closed.length);
	for (let i = 1; i < closed.length; i++) position[i] = position[i - 1]! + distance(closed[i - 1]!, closed[i]!);
	const curve: Curve = { closed, position, skip: Math.PI * apart * 1.2, apart };
	const boxes = boxesOf(closed);
	for (let chunk = 0; 4 * (chunk + 1) < boxes.length; chunk++)
		for (let earlier = 0; earlier <= chunk; earlier++)
			if (boxesMeet(boxes, chunk + 1, boxes, earlier + 1, apart) && !chunksClear(curve, boxes, chunk, earlier))
				return false;
	return true;
}

/** Whether the sides of one chunk keep clear of those of an earlier one, or of its own. */
function chunksClear(curve: Curve, boxes: Float64Array, chunk: number, earlier: number): boolean {
	const { closed, position, skip, apart } = curve;
	const end = Math.min(closed.length - 1, (chunk + 1) * CHUNK);
	const earlierEnd = Math.min(closed.length - 1, (earlier + 1) * CHUNK);
	if (position[end - 1]! - position[earlier * CHUNK + 1]! < skip) return true;
	const box = 4 * (earlier + 1);
	for (let i = chunk * CHUNK; i < end; i++) {
		const a = closed[i]!;
		const b = closed[i + 1]!;
		const left = Math.min(a[0], b[0]) - apart;
		const right = Math.max(a[0], b[0]) + apart;
		const low = Math.min(a[1], b[1]) - apart;
		const high = Math.max(a[1], b[1]) + apart;
		if (left > boxes[box + 2]! || right < boxes[box]! || low > boxes[box + 3]! || high < boxes[box + 1]!) continue;
		const last = Math.min(i, earlierEnd);
		for (let j = earlier * CHUNK; j < last; j++) {
			const c = closed[j]!;
			const d = closed[j + 1]!;
			if ((c[0] < left && d[0] < left) || (c[0] > right && d[0] > right)) continue;
			if ((c[1] < low && d[1] < low) || (c[1] > high && d[1] > high)) continue;
			const ahead = position[i]! - position[j + 1]!;
			const round = position[closed.length - 1]! - position[i + 1]! + position[j]!;
			if (Math.min(ahead, round) >= skip && segmentDistance2(a, b, c, d) < apart * apart) return false;
		}
	}
	return true;
}
