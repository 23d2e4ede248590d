import { line, polygonArea } from "d3";
import type { Point, Region } from "oxturn";
import type { OutlinedFeature } from "../document/draft.ts";
import { cornersOf } from "../document/rings.ts";

export interface Place {
	readonly at: Point;
	/** Radians anticlockwise from +x. */
	readonly heading: number;
}

// the floor's y goes up, the screen's down
const draw = line<Point>(
	([x]) => x,
	([, y]) => -y,
).digits(1);

/** SVG path data of an open polyline, y turned to go down. */
export function pathOf(points: readonly Point[]): string {
	return draw(points) ?? "";
}

/** SVG path data of closed rings, y turned to go down; empty rings give nothing. */
export function ringsPath(rings: readonly (readonly Point[])[]): string {
	return rings.map((ring) => (ring.length === 0 ? "" : `${pathOf(ring)}Z`)).join("");
}

export function regionPath({ outer, holes }: Region): string {
	return ringsPath([outer, ...holes]);
}

/** m2, holes off. */
export function areaOf({ outer, holes }: Region): number {
	const areas = [outer, ...holes].map((ring) => Math.abs(polygonArea(mutable(ring))));
	return areas.reduce((sum, area, index) => (index === 0 ? area : sum - area), 0) / 1e6;
}

/** An outlined feature as a region: its outline and its holes, open rings. */
export function regionOf({ geometry }: OutlinedFeature): Region {
	const [outer = [], ...holes] = geometry.coordinates.map(cornersOf);
	return { outer, holes };
}

/** Lengths from the start to each vertex, mm. */
function stations(points: readonly Point[]): number[] {
	let sum = 0;
	return points.map((point, index) => {
		const before = points[index - 1] ?? point;
		sum += Math.hypot(point[0] - before[0], point[1] - before[1]);
		return sum;
	});
}

/** Cuts a loop at half of its length: the half that flows out, the half that returns, and the place between. */
export function halvesOf(points: readonly Point[]): { flow: readonly Point[]; back: readonly Point[]; middle: Point } {
	const along = stations(points);
	const half = (along.at(-1) ?? 0) / 2;
	const next = Math.max(
		1,
		along.findIndex((station) => station >= half),
	);
	const [from, to] = [points[next - 1] ?? [0, 0], points[next] ?? points[next - 1] ?? [0, 0]] as const;
	const [before, after] = [along[next - 1] ?? 0, along[next] ?? 0];
	const share = after > before ? (half - before) / (after - before) : 0;
	const middle: Point = [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
	return { flow: [...points.slice(0, next), middle], back: [middle, ...points.slice(next)], middle };
}

/** Middles of straight runs of at least `straight` mm, no two nearer than `apart` mm along the pipe. */
export function arrowsOf(points: readonly Point[], straight: number, apart: number): Place[] {
	const along = stations(points);
	const places: Place[] = [];
	let last = -Infinity;
	for (const [index, to] of points.entries()) {
		const from = points[index - 1];
		if (!from) continue;
		const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
		const station = ((along[index - 1] ?? 0) + (along[index] ?? 0)) / 2;
		if (Math.hypot(dx, dy) < straight || station - last < apart) continue;
		places.push({ at: [from[0] + dx / 2, from[1] + dy / 2], heading: Math.atan2(dy, dx) });
		last = station;
	}
	return places;
}

const GRID = 28;

/** Words are about this much wider than high: room beside them counts for less than room above. */
const FLATNESS = 3;

/** Room that a place loses for each mm that it lies off the middle, mm. */
const OFF_CENTRE = 0.1;

/** A place that covers something is worse than any that does not, mm. */
const COVERING = 1e6;

const flatten = ([x, y]: Point): Point => [x / FLATNESS, y];

/** Names do not need the finest outline: rings of more corners are thinned for them. */
const FINE = 160;

const thinned = (ring: readonly Point[]): readonly Point[] => {
	const every = Math.ceil(ring.length / FINE);
	return every === 1 ? ring : ring.filter((_, index) => index % every === 0);
};

/** What a name takes up, mm. */
export interface NameSize {
	/** From its middle to its ends. */
	readonly half: number;
	/** From its middle to the middle of an id that it only just does not cover. */
	readonly across: number;
	readonly along: number;
}

/**
 * A place inside a region well away from its walls and from `taken`: where a name reads best. With its `size` known it
 * covers none of them and no wall, as long as there is such a place. Plain loops over plain numbers: a drag asks for it
 * at every frame.
 */
export function labelPlace(whole: Region, taken: readonly Point[], size?: NameSize): Point {
	const rings = [whole.outer, ...whole.holes].map((ring) => thinned(ring).map(flatten));
	const others = taken.map(flatten);
	const xs = whole.outer.map(([x]) => x);
	const ys = whole.outer.map(([, y]) => y);
	const [left, bottom] = [Math.min(...xs), Math.min(...ys)];
	const [width, height] = [Math.max(...xs) - left, Math.max(...ys) - bottom];
	const centre: Point = [left + width / 2, bottom + height / 2];
	const middle = flatten(centre);
	let best: { at: Point; room: number } = { at: centre, room: -Infinity };
	for (let column = 1; column < GRID; column += 1)
		for (let row = 1; row < GRID; row += 1) {
			const at: Point = [left + (width * column) / GRID, bottom + (height * row) / GRID];
			const flat = flatten(at);
			const free = freeRoom(rings, others, flat);
			// of places with as much room, as along a corridor, the one nearest the middle
			const covered = size === undefined || free === -Infinity ? 0 : coveredBy(at, size, rings, taken);
			const offCentre = OFF_CENTRE * Math.hypot(flat[0] - middle[0], flat[1] - middle[1]);
			const room = free - offCentre - COVERING * covered;
			if (room > best.room) best = { at, room };
		}
	return best.at;
}

/** How much a name of a size covers at a place: 1 for walls, 1 for ids. `rings` are flattened. */
function coveredBy(
	[x, y]: Point,
	{ half, across, along }: NameSize,
	rings: readonly (readonly Point[])[],
	taken: readonly Point[],
): number {
	const isOnWall = [-half, half].some((side) => freeRoom(rings, [], flatten([x + side, y])) === -Infinity);
	const isOnId = taken.some(([ox, oy]) => Math.abs(ox - x) < across && Math.abs(oy - y) < along);
	return Number(isOnWall) + Number(isOnId);
}

/** Whether a box of words round `at` lies inside a region: looked at along its upper and its lower edge. */
export function boxFits({ outer, holes }: Region, [x, y]: Point, width: number, height: number): boolean {
	const rings = [outer, ...holes];
	return [-0.5, -0.25, 0, 0.25, 0.5].every((share) =>
		[-0.5, 0.5].every((side) => freeRoom(rings, [], [x + share * width, y + side * height]) > 0),
	);
}

/** From a point to the nearest wall or other label, mm; minus infinity outside the region (even-odd over all rings). */
function freeRoom(rings: readonly (readonly Point[])[], others: readonly Point[], [x, y]: Point): number {
	let least = Infinity;
	let isInside = false;
	for (const ring of rings) {
		let a = ring[ring.length - 1];
		for (const b of ring) {
			if (!a) continue;
			const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
			if (a[1] > y !== b[1] > y && x < a[0] + ((y - a[1]) * dx) / dy) isInside = !isInside;
			const length2 = dx * dx + dy * dy;
			const share = length2 === 0 ? 0 : ((x - a[0]) * dx + (y - a[1]) * dy) / length2;
			const t = Math.min(1, Math.max(0, share));
			const [ex, ey] = [a[0] + t * dx - x, a[1] + t * dy - y];
			least = Math.min(least, ex * ex + ey * ey);
			a = b;
		}
	}
	if (!isInside) return -Infinity;
	for (const [ox, oy] of others) least = Math.min(least, (ox - x) ** 2 + (oy - y) ** 2);
	return Math.sqrt(least);
}

// d3's types ask for arrays that could be written to
const mutable = (ring: readonly Point[]): [number, number][] => ring.map(([x, y]) => [x, y]);
