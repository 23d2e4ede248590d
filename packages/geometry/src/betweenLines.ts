import { asClipped, intersect } from "./boolean.ts";
import { boundingBox } from "./measure.ts";
import { fromLowest } from "./shiftedSides.ts";
import type { Point, Region, Ring } from "./types.ts";
import { rotate } from "./vector.ts";

/** A corner nearer to a line than this lies on it, mm. */
const ON_LINE = 0.01;

export interface BetweenLinesOptions {
	/** Of both lines, radians from +x. */
	readonly direction: number;
	/** Heights of the lines across their direction, mm: of the origin 0, growing to the left. Either may be infinite. */
	readonly from: number;
	readonly to: number;
}

/** The part of a region between two parallel lines; rings keep their sense. */
export function betweenLines(region: Region, { direction, from, to }: BetweenLinesOptions): Region[] {
	const cos = Math.cos(direction);
	const sin = Math.sin(direction);
	const plain = region.holes.length === 0 ? plainPart(region.outer, cos, sin, from, to) : undefined;
	if (plain) return plain.length > 0 ? [{ outer: plain, holes: [] }] : [];
	const [minX, minY, maxX, maxY] = boundingBox(region.outer);
	const far = 2 * (Math.abs(minX) + Math.abs(minY) + Math.abs(maxX) + Math.abs(maxY) + 1000);
	const low = Math.max(from, -far);
	const high = Math.min(to, far);
	const corners: Ring = [
		[-far, low],
		[far, low],
		[far, high],
		[-far, high],
	];
	return intersect([region], [{ outer: corners.map((p) => rotate(p, cos, sin)), holes: [] }]);
}

/**
 * The same of a ring that each line crosses twice, or not at all: one piece is left then, and taking it out is far less
 * work than clipping. Undefined where a line crosses it more often or goes through a corner.
 */
function plainPart(ring: Ring, cos: number, sin: number, from: number, to: number): Ring | undefined {
	const below = upTo(ring, cos, sin, to);
	const part = below && upTo(below, -cos, -sin, -from);
	return part && fromLowest(part);
}

/** The part of a ring up to a height, with the direction of height zero by its cosine and sine. */
function upTo(ring: Ring, cos: number, sin: number, limit: number): Ring | undefined {
	if (limit === Infinity || ring.length === 0) return ring;
	const kept: Point[] = [];
	let crossings = 0;
	let a = ring[ring.length - 1]!;
	let above = a[1] * cos - a[0] * sin - limit;
	for (const b of ring) {
		const over = b[1] * cos - b[0] * sin - limit;
		if (Math.abs(over) < ON_LINE) return undefined;
		if (over > 0 !== above > 0) {
			crossings++;
			const t = above / (above - over);
			kept.push([asClipped(a[0] + (b[0] - a[0]) * t), asClipped(a[1] + (b[1] - a[1]) * t)]);
		}
		if (over < 0) kept.push(b);
		a = b;
		above = over;
	}
	return crossings > 2 ? undefined : kept;
}
