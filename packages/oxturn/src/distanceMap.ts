import type { Floor, Layout, Room } from "@oxturn/floor";
import { boundingBox, type Point, pointSegmentDistance2, type Region, regionContains, ringsOf } from "@oxturn/geometry";

/** How far the floor of one heated room is from its pipes. Cells go row by row, from the lower left corner. */
export interface RoomDistances {
	/** Id of the room. */
	readonly room: string;
	/** The room's spacing, mm. */
	readonly spacing: number;
	/** Side of a cell, mm. */
	readonly cell: number;
	/** Lower left corner of the first cell, mm. */
	readonly origin: Point;
	/** Cells in a row. */
	readonly columns: number;
	/** Rows of cells. */
	readonly rows: number;
	/**
	 * From each cell's centre to the nearest pipe, mm; empty for a room without pipe. Cells beyond the walls and in
	 * keep-outs have their distance too, so that contours run on to the edge of the floor.
	 */
	readonly distances: readonly number[];
	/** Centre of the cell of free floor that is farthest from any pipe, and how far, mm; `undefined` without either. */
	readonly farthest: { readonly at: Point; readonly distance: number } | undefined;
}

/** How finely to look. */
export interface DistanceMapOptions {
	/** Side of a cell, mm; cells grow where a room would have more than a million. @default 50 */
	readonly cell?: number;
}

interface Piece {
	readonly a: Point;
	readonly b: Point;
}

/** Side of the squares in which pipes are looked up, mm. */
const BUCKET = 250;
const MOST_CELLS = 1e6;

/**
 * Maps the distance from the floor to the nearest pipe, for every heated room. A pipe counts where it lies in the room
 * or in one of its doorways: what is behind a wall warms the room behind it.
 *
 * Throws a `RangeError` for a cell that is not a positive number of mm.
 *
 * @example
 * ```ts
 * const [kitchen] = distanceMap(floor, layout, { cell: 25 });
 * console.log(kitchen.farthest); // { at: [1525, 3975], distance: 212.1 }
 * ```
 */
export function distanceMap(floor: Floor, layout: Layout, { cell = 50 }: DistanceMapOptions = {}): RoomDistances[] {
	if (!(Number.isFinite(cell) && cell > 0)) throw new RangeError(`Cell ${cell}: expected a positive number of mm.`);
	const pipes = layout.features.flatMap(({ geometry }) => piecesOf(geometry.coordinates));
	return floor.rooms.filter(({ heated }) => heated).map((room) => distancesIn(floor, room, pipes, cell));
}

function distancesIn(
	{ doorways, keepouts }: Floor,
	room: Room,
	pipes: readonly Piece[],
	wanted: number,
): RoomDistances {
	const openings = doorways.filter(({ between }) => between.includes(room.id)).map(({ region }) => region);
	const near = [room.region, ...openings].flatMap((region) => clip(pipes, region));
	const box = boundingBox(room.region.outer);
	const [minX, minY, maxX, maxY] = box;
	let cell = wanted;
	while (((maxX - minX) / cell) * ((maxY - minY) / cell) > MOST_CELLS) cell *= 2;
	const columns = Math.ceil((maxX - minX) / cell);
	const rows = Math.ceil((maxY - minY) / cell);
	const grid = { room: room.id, spacing: room.spacing, cell, origin: [minX, minY] as const, columns, rows };
	if (near.length === 0) return { ...grid, distances: [], farthest: undefined };
	const distanceFrom = nearestPipe(near);
	const covers = keepouts.filter(({ region }) => meets(boundingBox(region.outer), box));
	const isFree = (at: Point): boolean =>
		regionContains(room.region, at) && !covers.some(({ region }) => regionContains(region, at));
	const distances: number[] = [];
	let farthest: RoomDistances["farthest"];
	for (let row = 0; row < rows; row++)
		for (let column = 0; column < columns; column++) {
			const at: Point = [minX + (column + 0.5) * cell, minY + (row + 0.5) * cell];
			const distance = distanceFrom(at);
			distances.push(distance);
			if (distance > (farthest?.distance ?? -1) && isFree(at)) farthest = { at, distance };
		}
	return { ...grid, distances, farthest };
}

function piecesOf(path: readonly Point[]): Piece[] {
	return path.slice(1).map((b, i) => ({ a: path[i]!, b }));
}

type Box = ReturnType<typeof boundingBox>;

const meets = (one: Box, other: Box): boolean =>
	one[0] <= other[2] && one[2] >= other[0] && one[1] <= other[3] && one[3] >= other[1];

/** The parts of some pieces that lie in a region. */
function clip(pieces: readonly Piece[], region: Region): Piece[] {
	const box = boundingBox(region.outer);
	const edges = ringsOf(region).flatMap((ring) => piecesOf([...ring, ring[0]!]));
	return pieces.flatMap((piece) => {
		const { a, b } = piece;
		if (!meets(boundingBox([a, b]), box)) return [];
		const cuts = edges.flatMap((edge) => cutOf(piece, edge)).sort((s, t) => s - t);
		const at = (share: number): Point => [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
		return [...cuts, 1].flatMap((to, i) => {
			const from = cuts[i - 1] ?? 0;
			return regionContains(region, at((from + to) / 2)) ? [{ a: at(from), b: at(to) }] : [];
		});
	});
}

/** Where along a piece it meets an edge, from 0 to 1. */
function cutOf({ a, b }: Piece, edge: Piece): number[] {
	const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
	const [ex, ey] = [edge.b[0] - edge.a[0], edge.b[1] - edge.a[1]];
	const turn = dx * ey - dy * ex;
	if (turn === 0) return [];
	const [fx, fy] = [edge.a[0] - a[0], edge.a[1] - a[1]];
	const along = (fx * ey - fy * ex) / turn;
	const across = (fx * dy - fy * dx) / turn;
	return along > 0 && along < 1 && across >= 0 && across <= 1 ? [along] : [];
}

/** Finds the distance from any point to the nearest of some pieces, mm, looking in squares ever farther away. */
function nearestPipe(pieces: readonly Piece[]): (at: Point) => number {
	const [left, bottom, right, top] = boundingBox(pieces.flatMap(({ a, b }) => [a, b]));
	const columnOf = (x: number): number => Math.floor((x - left) / BUCKET);
	const rowOf = (y: number): number => Math.floor((y - bottom) / BUCKET);
	const [columns, rows] = [columnOf(right) + 1, rowOf(top) + 1];
	const buckets = Array.from({ length: columns * rows }, (): Piece[] => []);
	for (const piece of pieces) {
		const [minX, minY, maxX, maxY] = boundingBox([piece.a, piece.b]);
		for (let row = rowOf(minY); row <= rowOf(maxY); row++)
			for (let column = columnOf(minX); column <= columnOf(maxX); column++)
				buckets[row * columns + column]!.push(piece);
	}
	return (at) => {
		const [column, row] = [columnOf(at[0]), rowOf(at[1])];
		const last = Math.max(column, columns - 1 - column, row, rows - 1 - row);
		let least = Infinity;
		// what lies `ring` squares away is farther than `ring - 1` whole squares
		for (let ring = 0; ring <= last && least > ((ring - 1) * BUCKET) ** 2; ring++)
			for (let y = row - ring; y <= row + ring; y++) {
				if (y < 0 || y >= rows) continue;
				const step = y === row - ring || y === row + ring ? 1 : Math.max(1, 2 * ring);
				for (let x = column - ring; x <= column + ring; x += step) {
					if (x < 0 || x >= columns) continue;
					for (const { a, b } of buckets[y * columns + x]!) least = Math.min(least, pointSegmentDistance2(at, a, b));
				}
			}
		return Math.sqrt(least);
	};
}
