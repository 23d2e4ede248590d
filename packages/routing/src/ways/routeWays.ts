import type { Floor, Manifold, Room } from "@oxturn/floor";
import { offset, type Point, pathLength, regionArea, union } from "@oxturn/geometry";
import { type RoutedRoom, routeRoom } from "../routeRoom.ts";
import type { RoutedLoop } from "../routeZones.ts";
import { type Entrance, type PortPair, portPairs } from "../tails/apron.ts";
import type { ClearanceRules } from "../tails/clearance.ts";
import { tailPitch } from "../tails/pitch.ts";
import { clearanceRules } from "../tails/rules.ts";
import { beside, type Lane } from "./lanes.ts";
import { type LaidSpace, type LaidWays, layWays, type OwnLoops, type PipeSoFar, type Slot } from "./layWays.ts";
import { coldArea, floorAt, floorBetween } from "./ownFloor.ts";
import type { Passage } from "./passages.ts";
import { depthIn, type Space } from "./spaces.ts";
import { type Branch, growTree, loopsBeyond } from "./tree.ts";

export interface RouteWaysOptions {
	readonly floor: Floor;
	readonly manifold: Manifold;
	readonly spaces: readonly Space[];
	readonly passages: readonly Passage[];
	/** The space that the manifold hangs in. */
	readonly root: number;
	/** The spaces that this manifold serves. */
	readonly served: ReadonlySet<number>;
	readonly patternOf: (room: Room) => "serpentine" | "spiral" | "auto";
	/** How many rules a room's loops break. */
	readonly faults: (room: Room, loops: readonly RoutedLoop[]) => number;
	readonly pulse: (room: Room) => void;
	readonly expired: () => boolean;
}

/** What a space got, and what its designer should know. */
export interface RoutedSpace {
	readonly space: number;
	readonly loops: readonly RoutedLoop[];
	readonly routed: readonly RoutedRoom[];
	/** The tails that pass keep it warm enough without a loop of its own. */
	readonly isHeatedByTails: boolean;
}

export interface RoutedWays {
	readonly spaces: readonly RoutedSpace[];
	readonly laid: LaidWays;
	/** Spaces whose doorway took none of their tails. */
	readonly blocked: readonly {
		readonly spaces: readonly number[];
		readonly passage: Passage;
		readonly pipes: number;
		readonly fit: number;
	}[];
}

/** From a jamb to the nearest tail where there is room, mm. */
const JAMB = 60;
const LEAST_JAMB = 3;
/** Gaps between rooms and doorways up to twice this are none, mm. */
const CLOSE = 1.5;
/** A room needs no loop where the tails leave no more than this share of it cold, or this much, mm2. */
const COLD_SHARE = 0.04;
const COLD_FLOOR = 2.5e5;
/** Rounded turns save pipe: a room takes this share of area / spacing. */
const DENSITY = 0.96;
const MAX_PLANS = 10;

const radians = (degrees: number): number => (degrees * Math.PI) / 180;
const sumOf = ({ left, right }: OwnLoops): number => left + right;

/** Where pipes may lie anywhere on the floor. */
function floorRules(floor: Floor, manifold: Manifold, spaces: readonly Space[]): ClearanceRules {
	const regions = [...spaces.map(({ region }) => region), ...floor.doorways.map(({ region }) => region)];
	const everywhere = union(offset(regions, CLOSE));
	const base = clearanceRules(spaces[0]!.region, manifold, floor.system);
	return {
		...base,
		allowed: offset(everywhere, -(floor.system.pipe.outerDiameter / 2 + CLOSE + 0.5)),
		allowedAtPorts: everywhere,
	};
}

const angleOf = ({ axis }: Lane): number => Math.atan2(axis[1], axis[0]);

/** The pipes of a slot as the entrance to the floor in front of it. */
function entranceOf(slot: Slot, passage: Passage | undefined): Entrance {
	const pairs = Array.from({ length: slot.pipes.length / 2 }, (_, i): PortPair => {
		const pose = ({ lane }: PipeSoFar): PortPair["flow"] => ({
			at: beside(lane.at, lane.axis, passage?.halfDepth ?? 0, 0),
			heading: angleOf(lane),
		});
		return { number: slot.pipes[2 * i]!.port, return: pose(slot.pipes[2 * i]!), flow: pose(slot.pipes[2 * i + 1]!) };
	});
	return { at: slot.at, pairs: () => pairs, spent: spentOn(slot, passage) };
}

/** The pipe that the loops of a slot have spent before they come to their floor, mm. */
function spentOn(slot: Slot, passage: Passage | undefined): number {
	const inWall = passage?.halfDepth ?? 0;
	const pairs = slot.pipes.flatMap((pipe, i) => (i % 2 === 0 ? [[pipe, slot.pipes[i + 1]!] as const] : []));
	return Math.max(0, ...pairs.map(([a, b]) => pathLength(a.path) + pathLength(b.path) + 2 * inWall));
}

const axisOf = (slot: Slot, laid: LaidSpace, atManifold: Point): Point =>
	laid.passage ? laid.passage.axis : (slot.pipes[0]?.lane.axis ?? atManifold);

const spacesBeyond = (branch: Branch): number[] => [branch.space, ...branch.children.flatMap(spacesBeyond)];

/** The least number of loops that an area needs, `spent` mm of each being used up on the way. */
export const loopsFor = (area: number, room: Room, spent: number, maxLoopLength: number): number =>
	Math.max(1, Math.ceil((DENSITY * area) / room.spacing / Math.max(1000 * maxLoopLength - spent, 1000)));

/** A loop laid from its entrance on, with its tails up to there. */
function wholeLoop(loop: RoutedLoop, slot: Slot): RoutedLoop {
	const [left, right] = slot.pipes.filter(({ port }) => port === loop.port);
	const path = [...right!.path, ...loop.path, ...[...left!.path].reverse()];
	const joined = path.filter((p, i) => i === 0 || p[0] !== path[i - 1]![0] || p[1] !== path[i - 1]![1]);
	return { ...loop, path: joined, length: pathLength(joined) / 1000 };
}

/** Tells whether a space and its tails are the same as on an earlier plan. */
const keyOf = ({ space, slots, crossing }: LaidSpace): string =>
	JSON.stringify([
		space,
		slots.map(({ pipes }) => pipes.map(({ port, path, lane }) => [port, lane.at, pathLength(path)])),
		crossing.map(({ paths }) => paths.map((path) => [path[0], pathLength(path)])),
	]);

/** Routes every space that one manifold serves, each loop from its port, through the doorways and back. */
export function routeWays(options: RouteWaysOptions): RoutedWays {
	const { floor, manifold, spaces } = options;
	const { system } = floor;
	const pitch = tailPitch(system);
	const rules = floorRules(floor, manifold, spaces);
	const leastMargin = system.pipe.outerDiameter / 2 + LEAST_JAMB;
	const axis: Point = [Math.cos(radians(manifold.facing)), Math.sin(radians(manifold.facing))];
	const own: OwnLoops[] = spaces.map(({ room, region }, i) => ({
		left: options.served.has(i) && room.heated ? loopsFor(regionArea(region), room, 8000, system.maxLoopLength) : 0,
		right: 0,
	}));
	const blocked: RoutedWays["blocked"][number][] = [];
	const settled = new Set<number>();

	const lay = (): LaidWays => {
		const tree = growTree({
			spaces,
			passages: options.passages,
			root: options.root,
			manifold: manifold.position,
			loops: own.map(sumOf),
			tailSpacing: pitch,
			margin: leastMargin,
		});
		const ports = portPairs(manifold, loopsBeyond(tree, own.map(sumOf)))
			.reverse()
			.flatMap((pair) => [pair.return, pair.flow].map(({ at }) => ({ at, port: pair.number })))
			.map(({ at, port }): PipeSoFar => ({ port, path: [at], lane: { at, axis, bends: [] } }));
		return layWays(tree, ports, {
			system,
			spaces,
			loops: own,
			rules,
			pitch,
			margin: JAMB,
			leastMargin,
			manifoldDepth: depthIn(spaces[options.root]!.region, manifold.position),
		});
	};

	/** Settles how many loops a space has from what the tails leave of it; true when that changes. */
	const settle = (laid: LaidSpace): boolean => {
		const space = spaces[laid.space]!;
		if (!space.room.heated || laid.crossing.length === 0 || settled.has(laid.space)) return false;
		const passing = laid.crossing.flatMap(({ paths }) => paths);
		const pieces = floorBetween(space, passing, rules, system);
		const whole = coldArea([space.region], passing, space.room.spacing);
		const wanted = laid.slots.map((slot) => {
			const piece = floorAt(pieces, slot.at, axisOf(slot, laid, axis));
			if (!piece || whole < COLD_SHARE * regionArea(space.region)) return 0;
			const cold = coldArea([piece], passing, space.room.spacing);
			if (cold < COLD_FLOOR) return 0;
			return loopsFor(regionArea(piece), space.room, spentOn(slot, laid.passage), system.maxLoopLength);
		});
		const next: OwnLoops = { left: wanted[0] ?? 0, right: wanted[1] ?? 0 };
		settled.add(laid.space);
		const before = own[laid.space]!;
		const isSame =
			laid.slots.length === 2
				? before.left === next.left && before.right === next.right
				: sumOf(before) === sumOf(next);
		own[laid.space] = next;
		return !isSame;
	};

	const routeSpace = (laid: LaidSpace, laidWays: LaidWays): RoutedSpace => {
		const space = spaces[laid.space]!;
		options.pulse(space.room);
		const passing = laid.crossing.flatMap(({ paths }) => paths);
		const pieces = floorBetween(space, passing, rules, system);
		const elsewhere = laidWays.spaces.flatMap((other) =>
			other === laid ? [] : other.slots.flatMap(({ pipes }) => pipes.map(({ path }) => path)),
		);
		const loops: RoutedLoop[] = [];
		const routed: RoutedRoom[] = [];
		for (const slot of laid.slots) {
			const count = slot.pipes.length / 2;
			const piece = count > 0 ? floorAt(pieces, slot.at, axisOf(slot, laid, axis)) : undefined;
			if (!piece) continue;
			const result = routeRoom({
				room: space.room,
				floor: piece,
				entrance: entranceOf(slot, laid.passage),
				rules,
				others: [...elsewhere, ...loops.map(({ path }) => path)],
				count,
				system,
				pattern: options.patternOf(space.room),
				faults: (found) =>
					options.faults(
						space.room,
						found.map((loop) => wholeLoop(loop, slot)),
					),
				pulse: () => options.pulse(space.room),
				expired: options.expired,
			});
			routed.push(result);
			loops.push(...result.loops.map((loop) => wholeLoop(loop, slot)));
		}
		return { space: laid.space, loops, routed, isHeatedByTails: space.room.heated && sumOf(own[laid.space]!) === 0 };
	};

	let laid = lay();
	const known = new Map<string, RoutedSpace>();
	for (let plan = 0; ; plan++) {
		const isLast = plan >= MAX_PLANS;
		let changed = false;
		for (const { branch, pipes, fit } of laid.blocked) {
			const beyond = spacesBeyond(branch);
			blocked.push({ spaces: beyond.filter((space) => sumOf(own[space]!) > 0), passage: branch.passage!, pipes, fit });
			for (const space of beyond) own[space] = { left: 0, right: 0 };
			changed = true;
		}
		if (!changed && !isLast) for (const space of laid.spaces) if (settle(space)) changed = true;
		if (changed && !isLast) {
			laid = lay();
			continue;
		}
		const routed = laid.spaces.map((space) => {
			const key = keyOf(space);
			const before = known.get(key);
			if (before) return before;
			const result = routeSpace(space, laid);
			known.set(key, result);
			return result;
		});
		const long = routed.filter((space) => space.routed.some(({ tooLong }) => tooLong > 0));
		if (isLast || long.length === 0) return { spaces: routed, laid, blocked };
		for (const { space, routed: rooms } of long) {
			const { left, right } = own[space]!;
			const slots = laid.spaces.find((each) => each.space === space)!.slots;
			const over = rooms.map(({ tooLong }) => (tooLong > 0 ? 1 : 0));
			own[space] =
				slots.length === 2 && left > 0 && right > 0
					? { left: left + (over[0] ?? 0), right: right + (over[1] ?? 0) }
					: left > 0
						? { left: left + 1, right }
						: { left, right: right + 1 };
		}
		laid = lay();
	}
}
