import type { Doorway, Floor, Keepout, Manifold, Room } from "@oxturn/floor";
import { difference, offset, type Point, type Region, type Ring, regionArea, ringContains } from "@oxturn/geometry";
import fc from "fast-check";
import { type Draw, drawFrom } from "./draw.ts";
import { type Blocks, drawBlocks } from "./dwellingBlocks.ts";
import { movedFloor } from "./floors.ts";
import { rectangle, solid } from "./shapes.ts";

/*
 * Invented dwellings: a hall, rooms about it, doorways through their walls, a manifold where one would hang. Walls lie
 * along x or y, but for a corner of the house that is cut off at times, until the whole is turned. By a rough count
 * the tails fit through every doorway and through the hall, so a floor that cannot be served is rare, not excluded.
 */

interface Box {
	readonly x0: number;
	readonly y0: number;
	readonly x1: number;
	readonly y1: number;
}

/** A stretch of wall with its room on the left of who goes from a to b. */
interface Wall {
	readonly a: Point;
	readonly b: Point;
	readonly length: number;
	readonly along: Point;
	readonly inward: Point;
}

interface Walled {
	readonly id: string;
	readonly name: string;
	readonly region: Region;
	readonly heated: boolean;
}

interface Opening {
	readonly id: string;
	readonly rooms: readonly [number, number];
	readonly ring: Ring;
	readonly width: number;
}

const PORT = 50;
/** Beside a door there is this much wall, mm. */
const JAMB = 70;
/** Whoever lives there gets past tubs and kitchen units, mm. */
const PASSAGE = 660;

const boxOf = (ring: Ring): Box => ({
	x0: Math.min(...ring.map(([x]) => x)),
	y0: Math.min(...ring.map(([, y]) => y)),
	x1: Math.max(...ring.map(([x]) => x)),
	y1: Math.max(...ring.map(([, y]) => y)),
});

const grown = ({ x0, y0, x1, y1 }: Box, by: number): Box => ({ x0: x0 - by, y0: y0 - by, x1: x1 + by, y1: y1 + by });

const meet = (a: Box, b: Box): boolean => a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;

const ringOf = ({ x0, y0, x1, y1 }: Box): Ring => rectangle(x0, y0, x1, y1);

const narrowest = ({ outer }: Region): number => {
	const { x0, y0, x1, y1 } = boxOf(outer);
	return Math.min(x1 - x0, y1 - y0);
};

const onMillimetres = ({ outer }: Region): Region =>
	solid(outer.map(([x, y]): Point => [Math.round(x), Math.round(y)]));

const wallsOf = ({ outer }: Region): Wall[] =>
	outer.map((a, i) => {
		const b = outer[(i + 1) % outer.length]!;
		const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
		const along: Point = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
		return { a, b, length, along, inward: [-along[1], along[0]] };
	});

const placeOn = ({ a, along, inward }: Wall, at: number, away: number): Point => [
	a[0] + at * along[0] + away * inward[0],
	a[1] + at * along[1] + away * inward[1],
];

/** The box on a wall from `from` to `to` along it, `depth` mm into the room. */
const boxOn = (wall: Wall, from: number, to: number, depth: number, start = 0): Box =>
	boxOf([placeOn(wall, from, start), placeOn(wall, to, depth)]);

/** Stretches of a wall, from and to in mm along it, that face another room's wall `gap` mm away. */
function facing(wall: Wall, other: Region, gap: number): (readonly [number, number])[] {
	return wallsOf(other).flatMap((opposite) => {
		const at = (p: Point): Point => [
			(p[0] - wall.a[0]) * wall.along[0] + (p[1] - wall.a[1]) * wall.along[1],
			(p[0] - wall.a[0]) * wall.inward[0] + (p[1] - wall.a[1]) * wall.inward[1],
		];
		const [[from, away], [to, also]] = [at(opposite.b), at(opposite.a)];
		if (Math.abs(away + gap) > 1 || Math.abs(also + gap) > 1) return [];
		const stretch = [Math.max(0, from), Math.min(wall.length, to)] as const;
		return stretch[1] > stretch[0] ? [stretch] : [];
	});
}

/** Walls that two rooms share, longest first. */
const sharedWalls = (a: Region, b: Region, gap: number): { wall: Wall; from: number; to: number }[] =>
	wallsOf(a)
		.flatMap((wall) => facing(wall, b, gap).map(([from, to]) => ({ wall, from, to })))
		.sort((p, q) => q.to - q.from - (p.to - p.from));

function opening(rooms: readonly Walled[], pair: readonly [number, number], gap: number, draw: Draw, wide: boolean) {
	const [shared] = sharedWalls(rooms[pair[0]]!.region, rooms[pair[1]]!.region, gap);
	if (!shared) return undefined;
	const free = shared.to - shared.from - 2 * JAMB;
	const widths = [1000, 900, 850, 800, 750, 700].filter((width) => width <= free);
	if (widths.length === 0) return undefined;
	const width = wide ? widths[0]! : draw.pick(widths);
	const spare = free - width;
	const shift = draw.pick([0, 0, 1, 1, 0.5, draw.share()]) * spare;
	const from = Math.round(shared.from + JAMB + shift);
	const lap = draw.pick([0, 1]);
	return { rooms: pair, width, ring: ringOf(boxOn(shared.wall, from, from + width, -gap - lap, lap)) };
}

/** A doorway to every room: from the hall where one fits, else through a room that has one. */
function drawDoors(
	rooms: readonly Walled[],
	carved: ReadonlySet<number>,
	gap: number,
	draw: Draw,
): Opening[] | undefined {
	const openings: Opening[] = [];
	const cut = (from: number, to: number): boolean => {
		const made = opening(rooms, [from, to], gap, draw, draw.chance(0.4));
		if (!made) return false;
		openings.push({ ...made, id: `door-${openings.length + 1}` });
		return true;
	};
	const direct = [...rooms.keys()].filter((room) => room > 0 && !carved.has(room) && draw.chance(0.93) && cut(0, room));
	const reached = [...direct, 0];
	for (const from of reached)
		for (const room of rooms.keys())
			if (!reached.includes(room) && rooms[from]!.id !== "cupboard" && cut(from, room)) reached.push(room);
	if (reached.length < rooms.length) return undefined;
	for (const room of rooms.keys()) {
		const other = draw.whole(1, rooms.length - 1);
		const isNew = !openings.some(({ rooms: [a, b] }) => (a === room && b === other) || (a === other && b === room));
		if (room > 0 && room !== other && isNew && draw.chance(0.12)) cut(room, other);
	}
	return openings;
}

const NAMES = ["Bedroom", "Study", "Guest room", "Workroom", "Music room", "Nursery", "Library", "Sewing room"];

const SMALL_NAMES = ["Utility room", "Store", "Study", "Box room", "Nursery"];

/** Names go by size: the largest room is the living room, the smallest are baths, toilets and stores. */
function nameRooms(regions: readonly Region[], carved: ReadonlySet<number>, draw: Draw): Walled[] {
	const order = [...regions.keys()].sort((a, b) => regionArea(regions[b]!) - regionArea(regions[a]!));
	const counts = new Map<string, number>();
	const walled = new Map<number, Walled>();
	for (const [rank, index] of order.entries()) {
		const region = regions[index]!;
		const area = regionArea(region) / 1e6;
		const kind =
			rank === 0
				? "Living room"
				: rank === 1 || (area > 7 && area < 18 && !counts.has("Kitchen") && draw.chance(0.4))
					? counts.has("Kitchen")
						? "Dining room"
						: "Kitchen"
					: carved.has(index)
						? draw.pick(["Bath", "Bath", "Dressing room"])
						: area < 3.2
							? draw.pick(["Toilet", "Store", "Larder"])
							: area < 7.5
								? draw.pick((counts.get("Bath") ?? 0) < 2 ? SMALL_NAMES.concat("Bath", "Bath") : SMALL_NAMES)
								: draw.pick(NAMES);
		const count = (counts.get(kind) ?? 0) + 1;
		counts.set(kind, count);
		const name = count > 1 ? `${kind} ${count}` : kind;
		const heated = !["Store", "Larder"].includes(kind) && !(rank > 2 && draw.chance(0.04));
		walled.set(index, { id: name.toLowerCase().replaceAll(" ", "-"), name, region, heated });
	}
	return regions.map((_, index) => walled.get(index)!);
}

/** A cupboard for the manifold in the corner of a room beside the hall: its walls, and what is left of the room. */
function cupboardIn(room: Region, hall: Region, gap: number, draw: Draw): [Region, Region] | undefined {
	const [shared] = sharedWalls(room, hall, gap);
	if (!shared || shared.to - shared.from < 3200) return undefined;
	const { wall, from, to } = shared;
	const length = draw.whole(1150, 1700, 50);
	const depth = draw.whole(650, 1100, 50);
	const start = draw.pick([from, to - length]);
	// a cupboard goes to the corner of its room, or leaves floor enough beside it
	if (start > 1 && start + length < wall.length - 1 && Math.min(start, wall.length - start - length) < 900)
		return undefined;
	const box = boxOn(wall, start, start + length, depth);
	const corners = ringOf(box).map(([x, y]): Point => [x + (x === box.x0 ? 1 : -1), y + (y === box.y0 ? 1 : -1)]);
	if (!corners.every((corner) => ringContains(room.outer, corner))) return undefined;
	const rest = difference([room], [solid(ringOf(grown(box, gap)))]);
	if (rest.length !== 1 || rest[0]!.holes.length > 0 || narrowest(rest[0]!) < 1400) return undefined;
	return [onMillimetres(rest[0]!), solid(ringOf(box))];
}

/** Tells whether a box in a room off doors and manifolds and leaves the room in one piece. */
function isFree(box: Box, room: Region, kept: readonly Box[]): boolean {
	const inside = ringOf(grown(box, -1)).every((corner) => ringContains(room.outer, corner));
	if (!inside || kept.some((other) => meet(box, other))) return false;
	const rest = difference([room], [solid(ringOf(box))]);
	const middle = difference(offset([room], -PASSAGE / 2), [solid(ringOf(grown(box, PASSAGE / 2)))]);
	return rest.length === 1 && middle.length === 1;
}

/** Kitchen units along one or two walls, trays in the corners of baths, a hearth in the living room. */
function drawKeepouts(rooms: readonly Walled[], kept: readonly Box[], draw: Draw): Keepout[] {
	const keepouts: Keepout[] = [];
	const put = (name: string, room: Walled, boxes: readonly Box[]): void => {
		const box = boxes.find((each) => isFree(each, room.region, kept));
		if (box) keepouts.push({ id: `keepout-${keepouts.length + 1}`, name, region: solid(ringOf(box)) });
	};
	for (const room of rooms) {
		const walls = draw.shuffle(wallsOf(room.region));
		const kind = room.name.split(" ")[0];
		if (kind === "Kitchen") {
			const length = draw.whole(1800, 3900, 100);
			put(
				"Kitchen units",
				room,
				walls.flatMap((wall) =>
					[length, 1800, 1200].flatMap((run) => {
						const most = Math.min(run, wall.length);
						return [boxOn(wall, 0, most, 600), boxOn(wall, wall.length - most, wall.length, 600)];
					}),
				),
			);
			const { x0, y0, x1, y1 } = boxOf(room.region.outer);
			if (Math.min(x1 - x0, y1 - y0) > 4000 && draw.chance(0.5)) {
				const [x, y] = [Math.round((x0 + x1) / 2), Math.round((y0 + y1) / 2)];
				put("Kitchen island", room, [{ x0: x - 800, y0: y - 450, x1: x + 800, y1: y + 450 }]);
			}
		}
		if (kind === "Bath") {
			const [length, depth] = draw.pick([
				[1700, 750],
				[900, 900],
				[1200, 800],
			] as const);
			put(
				length > 1500 ? "Bath tub" : "Shower tray",
				room,
				walls.flatMap((wall) => [boxOn(wall, 0, length, depth), boxOn(wall, wall.length - length, wall.length, depth)]),
			);
		}
		if (kind === "Living" && draw.chance(0.4))
			put(
				"Hearth",
				room,
				walls.map((wall) => boxOn(wall, Math.round(wall.length / 2) - 450, Math.round(wall.length / 2) + 450, 500)),
			);
	}
	return keepouts;
}

/** Places on a room's walls for that many loops, clear of its doors. */
function manifoldPlaces(room: Walled, openings: readonly Opening[], loops: number): { at: Point; facing: number }[] {
	const half = (PORT * loops) / 2 + 60;
	return wallsOf(room.region).flatMap((wall) => {
		const places: number[] = [];
		for (let at = Math.ceil(half); at <= wall.length - half; at += 100) places.push(at);
		return places
			.filter((at) => {
				const apron = boxOn(wall, at - half - 40, at + half + 40, 350, -160);
				return !openings.some(({ ring }) => meet(boxOf(ring), apron));
			})
			.map((at) => ({
				at: placeOn(wall, at, 0),
				facing: Math.round((Math.atan2(wall.inward[1], wall.inward[0]) * 180e6) / Math.PI) / 1e6,
			}));
	});
}

/** Loops beyond each opening when every room is reached from the nearest of `roots`, by the shortest way through doors. */
function crowds(
	openings: readonly Opening[],
	roots: readonly { readonly room: number; readonly at: Point }[],
	loops: readonly number[],
): Map<Opening, number> {
	const best = new Map<number, { length: number; at: Point; by: Opening | undefined; from: number }>();
	for (const { room, at } of roots) best.set(room, { length: 0, at, by: undefined, from: room });
	// every round reaches one door farther
	for (const _ of openings)
		for (const by of openings)
			for (const [from, to] of [by.rooms, by.rooms.toReversed() as [number, number]]) {
				const near = best.get(from);
				if (!near) continue;
				const { x0, y0, x1, y1 } = boxOf(by.ring);
				const at: Point = [(x0 + x1) / 2, (y0 + y1) / 2];
				const length = near.length + Math.hypot(at[0] - near.at[0], at[1] - near.at[1]);
				if (length < (best.get(to)?.length ?? Infinity) - 1e-6) best.set(to, { length, at, by, from });
			}
	const beyond = new Map<Opening, number>();
	for (const room of best.keys())
		for (let way = best.get(room)!; way.by; way = best.get(way.from)!)
			beyond.set(way.by, (beyond.get(way.by) ?? 0) + loops[room]!);
	return beyond;
}

/** Pipe to a room and back, m, for a count of loops before any is laid. */
const USUAL_TAILS = 12;
const MOST_LOOPS = 14;
const SPACINGS: Readonly<Record<number, readonly number[]>> = {
	12: [100, 125, 150, 150, 200],
	16: [125, 150, 150, 200, 200, 250],
	20: [160, 200, 200, 250],
};
const LIMITS: Readonly<Record<number, readonly number[]>> = {
	12: [60, 70, 80],
	16: [80, 90, 100, 110],
	20: [100, 120],
};

/** Cuts a corner of the house off at a slant, as bays and streets do. */
function cutCorner(regions: readonly Region[], draw: Draw): readonly Region[] {
	const house = boxOf(regions.flatMap(({ outer }) => outer));
	const [x, y] = draw.pick<Point>([
		[house.x0, house.y0],
		[house.x1, house.y0],
		[house.x1, house.y1],
		[house.x0, house.y1],
	]);
	const [inX, inY] = [x === house.x0 ? 1 : -1, y === house.y0 ? 1 : -1];
	const [width, depth] = [draw.whole(700, 2600, 50), draw.whole(700, 2000, 50)];
	const corner = [[x, y] as const, [x + inX * width, y] as const, [x, y + inY * depth] as const];
	const slice = solid(inX * inY > 0 ? corner : corner.toReversed());
	const at = regions.findIndex(({ outer }) => outer.some(([px, py]) => px === x && py === y));
	const room = regions[at];
	if (!room) return regions;
	const box = boxOf(room.outer);
	if (box.x1 - box.x0 < width + 1200 || box.y1 - box.y0 < depth + 1200) return regions;
	const rest = difference([room], [slice]);
	return rest.length === 1 && rest[0]!.holes.length === 0 ? regions.with(at, onMillimetres(rest[0]!)) : regions;
}

function roomsOf({ hall, rooms, carved }: Blocks, gap: number, draw: Draw, wantsCupboard: boolean) {
	const inner = (region: Region): Region | undefined => {
		const [net, ...more] = offset([region], -gap / 2);
		return net && more.length === 0 && narrowest(net) >= 1000 ? onMillimetres(net) : undefined;
	};
	const hallNet = inner(hall);
	const nets = rooms.map(inner);
	if (!hallNet || nets.some((net) => !net)) return undefined;
	let regions: readonly Region[] = nets as Region[];
	let cupboard: Region | undefined;
	if (wantsCupboard)
		for (const [i, region] of regions.entries()) {
			const made = carved.has(i) ? undefined : cupboardIn(region, hallNet, gap, draw);
			if (!made) continue;
			regions = regions.with(i, made[0]);
			cupboard = made[1];
			break;
		}
	if (wantsCupboard && !cupboard) return undefined;
	if (draw.chance(0.25)) regions = cutCorner(regions, draw);
	return {
		walled: [
			{ id: "hall", name: "Hall", region: hallNet, heated: draw.chance(0.9) },
			...nameRooms(regions, carved, draw),
			...(cupboard ? [{ id: "cupboard", name: "Cupboard", region: cupboard, heated: false }] : []),
		],
		inner: new Set([...carved].map((room) => room + 1)),
	};
}

type Place = "hall" | "cupboard" | "utility";

/** Rooms that a manifold hangs in: one of the kind asked for, at times another besides. */
function drawRoots(rooms: readonly Walled[], place: Place, draw: Draw): number[] | undefined {
	const root = place === "hall" ? 0 : rooms.findIndex(({ id }) => id.startsWith(place));
	if (root < 0) return undefined;
	if (!draw.chance(0.15)) return [root];
	const others = [...rooms.keys()].filter((room) => room !== root && regionArea(rooms[room]!.region) > 5e6);
	return others.length > 0 ? [root, draw.pick(others)] : [root];
}

/** A manifold in each of `roots`, with wall enough for its share of the loops. */
function drawManifolds(
	rooms: readonly Walled[],
	roots: readonly number[],
	openings: readonly Opening[],
	loops: number,
	draw: Draw,
): Manifold[] | undefined {
	const manifolds: Manifold[] = [];
	for (const [i, root] of roots.entries()) {
		const room = rooms[root]!;
		const open = manifoldPlaces(room, openings, Math.ceil((1.25 * loops) / roots.length));
		const door = boxOf(openings.find(({ rooms: pair }) => pair.includes(root))!.ring);
		const looksOut = ({ at: [x, y], facing: angle }: (typeof open)[number]): boolean => {
			const [dx, dy] = [Math.cos((angle * Math.PI) / 180), Math.sin((angle * Math.PI) / 180)];
			return dx * ((door.x0 + door.x1) / 2 - x) > 300 || dy * ((door.y0 + door.y1) / 2 - y) > 300;
		};
		// In a cupboard it hangs where one gets at it: opposite the door.
		const places = room.id === "cupboard" && i === 0 ? open.filter(looksOut) : open;
		if (places.length === 0) return undefined;
		const { at, facing: angle } = draw.pick(places);
		manifolds.push({ id: `m${i + 1}`, position: at, facing: angle, portPitch: PORT, ports: undefined });
	}
	return manifolds;
}

/** Whether the tails fit side by side through every doorway and, most of them, along the hall. */
function tailsFit(
	rooms: readonly Walled[],
	openings: readonly Opening[],
	sources: readonly { readonly room: number; readonly at: Point }[],
	loops: readonly number[],
	pitch: number,
): boolean {
	const fitsDoors = [...crowds(openings, sources, loops)].every(
		([{ width }, count]) => (2 * count - 1) * pitch + 120 <= width,
	);
	const beyondHall = loops.slice(1).reduce((sum, count) => sum + count, 0);
	return fitsDoors && (1.2 * beyondHall * pitch) / sources.length <= narrowest(rooms[0]!.region);
}

/** One attempt at a dwelling; undefined where a wall, a doorway or the tails do not work out. */
function attempt(draw: Draw, name: string): Floor | undefined {
	const gap = draw.whole(100, 150, 10);
	const place: Place = draw.pick(["hall", "hall", "hall", "cupboard", "utility"] as const);
	const made = roomsOf(drawBlocks(draw), gap, draw, place === "cupboard");
	if (!made) return undefined;
	const { walled, inner } = made;
	const openings = drawDoors(walled, inner, gap, draw);
	if (!openings) return undefined;

	const outerDiameter = draw.pick([12, 16, 16, 16, 20]);
	const spacing = draw.pick(SPACINGS[outerDiameter]!);
	const maxLoopLength = draw.pick(LIMITS[outerDiameter]!);
	const tailSpacing = draw.pick([40, 45, 50, 50, 50, 60]);
	const rooms = walled.map(({ id, name: called, region, heated }): Room => {
		const own = draw.chance(0.15) || (called.startsWith("Bath") && draw.chance(0.4));
		const wanted = own ? draw.pick(SPACINGS[outerDiameter]!) : spacing;
		return {
			id,
			name: called,
			region,
			heated,
			spacing: wanted,
			edgeDistance: wanted / 2,
			share: regionArea(region) < 4e6,
			pattern: draw.pick(["auto", "auto", "auto", "auto", "auto", "serpentine", "spiral"] as const),
		};
	});
	const heatedRooms = rooms.filter(({ heated }) => heated);
	const loops = rooms.map(({ heated, region, spacing: wide }) =>
		heated ? Math.ceil(regionArea(region) / wide / 1000 / (maxLoopLength - USUAL_TAILS)) : 0,
	);
	const total = loops.reduce((sum, count) => sum + count, 0);
	if (total > MOST_LOOPS || heatedRooms.length < 3) return undefined;

	const roots = drawRoots(walled, place, draw);
	const manifolds = roots && drawManifolds(walled, roots, openings, total, draw);
	if (!roots || !manifolds) return undefined;
	const sources = manifolds.map(({ position }, i) => ({ room: roots[i]!, at: position }));
	if (!tailsFit(walled, openings, sources, loops, tailSpacing + 1)) return undefined;

	const kept = [
		...openings.map(({ ring }) => grown(boxOf(ring), 550)),
		...manifolds.map(({ position: [x, y] }) => grown({ x0: x, y0: y, x1: x, y1: y }, 1000)),
	];
	// Most pipes turn from one run to the next, some are too stiff for it.
	const half = 0.49 * Math.min(...heatedRooms.map((room) => room.spacing));
	const easy = Math.max(3.9 * outerDiameter, Math.min(5 * outerDiameter, half));
	const minBendRadius = draw.chance(0.15) ? 5 * outerDiameter : Math.floor(easy * 10) / 10;
	const floor: Floor = {
		name,
		system: {
			pipe: { outerDiameter, wallThickness: 2, minBendRadius },
			maxLoopLength,
			spacing,
			edgeDistance: undefined,
			tailSpacing,
		},
		rooms,
		doorways: openings.map(
			({ id, ring, rooms: [a, b] }): Doorway => ({ id, region: solid(ring), between: [rooms[a]!.id, rooms[b]!.id] }),
		),
		keepouts: drawKeepouts(walled, kept, draw),
		manifolds,
	};
	const angle = draw.chance(0.25) ? (draw.whole(1, 359) * Math.PI) / 180 : (draw.whole(0, 3) * Math.PI) / 2;
	return movedFloor(floor, angle, draw.whole(-9000, 9000), draw.whole(-9000, 9000));
}

/** The dwelling of a seed: the first attempt that works out. */
export function dwelling(seed: number): Floor {
	const draw = drawFrom(seed);
	for (;;) {
		const floor = attempt(draw, `Dwelling ${seed}`);
		if (floor) return floor;
	}
}

/** Any dwelling. A failure is named by its seed; smaller seeds are no smaller dwellings, so nothing shrinks. */
export const anyDwelling = (): fc.Arbitrary<Floor> => fc.noShrink(fc.nat(1_000_000)).map(dwelling);
