import type { Floor, Manifold, PatternName, Room } from "@oxturn/floor";
import type { Point, Region, Ring } from "@oxturn/geometry";
import fc from "fast-check";
import { moved, rectangle, regularPolygon, solid } from "./shapes.ts";

/** What a floor of one room is made from; what is left out takes a common value. */
export interface SingleRoom {
	readonly outer: Ring;
	readonly holes?: readonly Ring[];
	readonly keepouts?: readonly Ring[];
	/** mm @default 200 */
	readonly spacing?: number;
	/** mm @default half the spacing */
	readonly edgeDistance?: number;
	/** mm @default 16 */
	readonly outerDiameter?: number;
	/** mm @default 5 x outerDiameter */
	readonly minBendRadius?: number;
	/** m @default 100 */
	readonly maxLoopLength?: number;
	/** mm @default 50 */
	readonly tailSpacing?: number;
	readonly pattern?: PatternName;
	/** Index of the wall that the manifold hangs on. @default 0 */
	readonly wall?: number;
	/** Where on that wall, 0 to 1. @default 0.5 */
	readonly along?: number;
}

/** The same direction between -180 and 180 degrees. */
const withinHalfTurn = (degrees: number): number => degrees - 360 * Math.round(degrees / 360);

/** A floor of one heated room, "room", with its manifold "m1" on a wall, facing into the room. */
export function singleRoom(made: SingleRoom): Floor {
	const spacing = made.spacing ?? 200;
	const outerDiameter = made.outerDiameter ?? 16;
	const wall = made.wall ?? 0;
	const [ax, ay] = made.outer[wall]!;
	const [bx, by] = made.outer[(wall + 1) % made.outer.length]!;
	const along = made.along ?? 0.5;
	// Rings run anticlockwise: the room is on the left of each wall.
	const facing = (Math.atan2(by - ay, bx - ax) * 180) / Math.PI + 90;
	const manifold: Manifold = {
		id: "m1",
		position: [ax + along * (bx - ax), ay + along * (by - ay)],
		facing: withinHalfTurn(facing),
		portPitch: 50,
		ports: undefined,
	};
	const region: Region = { outer: made.outer, holes: made.holes ?? [] };
	const room: Room = {
		id: "room",
		name: "",
		region,
		heated: true,
		spacing,
		edgeDistance: made.edgeDistance ?? spacing / 2,
		share: false,
		pattern: made.pattern ?? "auto",
	};
	return {
		name: "one room",
		system: {
			pipe: { outerDiameter, wallThickness: 2, minBendRadius: made.minBendRadius ?? 5 * outerDiameter },
			maxLoopLength: made.maxLoopLength ?? 100,
			spacing,
			edgeDistance: made.edgeDistance,
			tailSpacing: made.tailSpacing ?? 50,
		},
		rooms: [room],
		doorways: [],
		keepouts: (made.keepouts ?? []).map((ring, i) => ({ id: `keepout-${i}`, name: "", region: solid(ring) })),
		manifolds: [manifold],
	};
}

/** The same floor turned by `angle` rad about the origin and then shifted. */
export function movedFloor(floor: Floor, angle: number, dx: number, dy: number): Floor {
	const place = moved(angle, dx, dy);
	const region = ({ outer, holes }: Region): Region => ({
		outer: outer.map(place),
		holes: holes.map((hole) => hole.map(place)),
	});
	return {
		...floor,
		rooms: floor.rooms.map((room) => ({ ...room, region: region(room.region) })),
		doorways: floor.doorways.map((doorway) => ({ ...doorway, region: region(doorway.region) })),
		keepouts: floor.keepouts.map((keepout) => ({ ...keepout, region: region(keepout.region) })),
		manifolds: floor.manifolds.map((manifold) => ({
			...manifold,
			position: place(manifold.position),
			facing: withinHalfTurn(manifold.facing + (angle * 180) / Math.PI),
		})),
	};
}

/** Twelve walls, all along x or y, of a room with a niche in each corner. */
const crossRing = (width: number, depth: number, a: number, b: number): Ring => [
	[a, 0],
	[width - a, 0],
	[width - a, b],
	[width, b],
	[width, depth - b],
	[width - a, depth - b],
	[width - a, depth],
	[a, depth],
	[a, depth - b],
	[0, depth - b],
	[0, b],
	[a, b],
];

const millimetres = (min: number, max: number): fc.Arbitrary<number> => fc.integer({ min, max });
const side = millimetres(1800, 6000);

const rectangular: fc.Arbitrary<Ring> = fc.tuple(side, side).map(([width, depth]) => rectangle(0, 0, width, depth));

const orthogonal: fc.Arbitrary<Ring> = fc
	.record({
		width: millimetres(3200, 6000),
		depth: millimetres(3200, 6000),
		a: millimetres(5, 25),
		b: millimetres(5, 25),
		shape: fc.constantFrom("L", "T", "U", "cross"),
	})
	.map(({ width, depth, a, b, shape }): Ring => {
		const [cutX, cutY] = [Math.round((width * a) / 60), Math.round((depth * b) / 60)];
		if (shape === "cross") return crossRing(width, depth, Math.min(cutX, 1000), Math.min(cutY, 1000));
		if (shape === "L")
			return [
				[0, 0],
				[width, 0],
				[width, depth - cutY],
				[width - cutX, depth - cutY],
				[width - cutX, depth],
				[0, depth],
			];
		if (shape === "U")
			return [
				[0, 0],
				[width, 0],
				[width, depth],
				[width - Math.max(1100, cutX), depth],
				[width - Math.max(1100, cutX), depth - cutY],
				[Math.max(1100, cutX), depth - cutY],
				[Math.max(1100, cutX), depth],
				[0, depth],
			];
		return [
			[0, 0],
			[width, 0],
			[width, depth - cutY],
			[width - cutX, depth - cutY],
			[width - cutX, depth],
			[cutX, depth],
			[cutX, depth - cutY],
			[0, depth - cutY],
		];
	});

const convex: fc.Arbitrary<Ring> = fc
	.record({ corners: millimetres(3, 12), radius: millimetres(1500, 3200), squeeze: millimetres(60, 100) })
	.map(({ corners, radius, squeeze }) =>
		regularPolygon(corners, radius).map(([x, y]): Point => [Math.round(x), Math.round((y * squeeze) / 100)]),
	);

const starShaped: fc.Arbitrary<Ring> = fc.array(millimetres(1500, 3200), { minLength: 6, maxLength: 12 }).map((radii) =>
	radii.map((radius, i): Point => {
		const angle = (2 * Math.PI * i) / radii.length;
		return [Math.round(radius * Math.cos(angle)), Math.round(radius * Math.sin(angle))];
	}),
);

/** Middle of a star-shaped, convex or orthogonal outline that certainly has floor round it. */
function middleOf(outer: Ring): Point {
	const xs = outer.map(([x]) => x);
	const ys = outer.map(([, y]) => y);
	return [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
}

/** Walls on which a manifold has `length` mm to itself. */
const longWalls = (outer: Ring, length: number): number[] =>
	outer.flatMap(([x, y], i) => {
		const [nx, ny] = outer[(i + 1) % outer.length]!;
		return Math.hypot(nx - x, ny - y) >= length ? [i] : [];
	});

/** A floor of one room before it is moved, and where to. */
export interface PlacedRoom {
	readonly made: SingleRoom;
	readonly angle: number;
	readonly dx: number;
	readonly dy: number;
}

/** mm of straight wall that a manifold asks for. */
const MANIFOLD_WALL = 900;

/**
 * Floors of one room: rectangles, L, T, U and cross shapes, convex and star-shaped outlines, some with a column or a
 * keep-out; turned and moved anywhere. Pipes of 12, 16 and 20 mm bend at 3.9 diameters or more, mostly within half
 * the spacing, and one in five too stiff for it. The manifold has straight wall enough and faces the room. Spacings
 * go from `narrowest` to 400 mm: the wider, the sooner a room is routed.
 */
export const placedRoom = (narrowest = 75): fc.Arbitrary<PlacedRoom> =>
	fc
		.record({
			outer: fc.oneof(rectangular, orthogonal, convex, starShaped),
			obstacle: fc.constantFrom("none", "none", "column", "keepout"),
			obstacleSize: millimetres(250, 500),
			spacing: millimetres(narrowest, 400),
			outerDiameter: fc.constantFrom(12, 16, 20),
			stiffness: fc.double({ min: 0, max: 1, noNaN: true }),
			isStiff: fc.constantFrom(false, false, false, false, true),
			wall: fc.nat(11),
			along: millimetres(0, 100),
			angle: millimetres(0, 359),
			dx: millimetres(-50_000, 50_000),
			dy: millimetres(-50_000, 50_000),
		})
		.filter(({ outer }) => longWalls(outer, MANIFOLD_WALL).length > 0)
		.map((drawn): PlacedRoom => {
			const { outer, obstacle, obstacleSize, spacing, outerDiameter, stiffness, isStiff } = drawn;
			const least = 3.9 * outerDiameter;
			const half = spacing / 2;
			const most = isStiff ? Math.max(least, 1.4 * half) : Math.max(least, 0.98 * half);
			const from = isStiff ? Math.max(least, half) : least;
			const walls = longWalls(outer, MANIFOLD_WALL);
			const wall = walls[drawn.wall % walls.length]!;
			const [ax, ay] = outer[wall]!;
			const [bx, by] = outer[(wall + 1) % outer.length]!;
			const length = Math.hypot(bx - ax, by - ay);
			const reach = MANIFOLD_WALL / 2 / length;
			const [x, y] = middleOf(outer);
			const h = obstacleSize / 2;
			const block = rectangle(x - h, y - h, x + h, y + h);
			return {
				made: {
					outer,
					holes: obstacle === "column" ? [[...block].reverse()] : [],
					keepouts: obstacle === "keepout" ? [block] : [],
					spacing,
					outerDiameter,
					minBendRadius: Math.round((from + stiffness * (most - from)) * 10) / 10,
					// at 75 mm a small room wants a long loop; the limit is what such a pipe is laid in
					maxLoopLength: outerDiameter === 12 ? 80 : 120,
					wall,
					along: reach + ((1 - 2 * reach) * drawn.along) / 100,
				},
				angle: (drawn.angle * Math.PI) / 180,
				dx: drawn.dx,
				dy: drawn.dy,
			};
		});

export const floorOf = ({ made, angle, dx, dy }: PlacedRoom): Floor => movedFloor(singleRoom(made), angle, dx, dy);
