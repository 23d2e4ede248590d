import type { PatternName, Room } from "@oxturn/floor";
import { distance, dot, type Point, regionArea, subtract } from "@oxturn/geometry";
import { capacity, type Passage } from "./passages.ts";
import { loopsFor } from "./routeSpace.ts";
import type { Space } from "./spaces.ts";
import { allBranches, type Branch } from "./tree.ts";

/** How a room's loop, the host's, goes on to another's floor, the guest's. */
export interface Link {
	readonly host: number;
	readonly guest: number;
	/** Into the guest's space: from the host's, or from the hall between them. */
	readonly through: Passage;
	/** From that hall to the host's space; undefined where none lies between them. */
	readonly across: Passage | undefined;
}

/** The rooms that hang on a neighbour's loop, by the neighbour's space. */
export type SharedRooms = ReadonlyMap<number, readonly Link[]>;

/** Tells links of one floor apart. */
export const keyOfLink = ({ host, guest, through }: Link): string => `${host} ${guest} ${through.doorway.id}`;

export interface SharedRoomsOptions {
	readonly tree: Branch;
	readonly spaces: readonly Space[];
	readonly passages: readonly Passage[];
	/** Loops that each space would have of its own. */
	readonly loops: readonly number[];
	/** Whether a loop may go on by a link: false where that has been found to fail. */
	readonly isAllowed: (link: Link) => boolean;
	readonly patternOf: (room: Room) => PatternName;
	readonly manifold: Point;
	/** m */
	readonly maxLoopLength: number;
	/** Centre to centre, mm. */
	readonly tailSpacing: number;
	/** From a jamb to the nearest centreline, mm. */
	readonly margin: number;
}

/** Doors of one hall are beside each other when they lie in one wall, their middles no farther apart than this, mm. */
const BESIDE = 3000;
const SAME_WALL = 5;
const PARALLEL = 0.999;

/** Whether a door is beside another in the same wall of a hall, farther from where the tails come in. */
function isBeside(door: Passage, other: Passage, entrance: Point): boolean {
	const between = subtract(door.middle, other.middle);
	return (
		dot(door.axis, other.axis) > PARALLEL &&
		Math.abs(dot(between, other.axis)) < SAME_WALL &&
		Math.abs(door.halfDepth - other.halfDepth) < SAME_WALL &&
		Math.hypot(...between) < BESIDE &&
		distance(door.middle, entrance) > distance(other.middle, entrance)
	);
}

/**
 * The pattern of a loop that heats several rooms: the one that any of them asks for, as "auto" takes either. Undefined
 * where they ask for different ones.
 */
export function sharedPattern(rooms: readonly Room[], patternOf: (room: Room) => PatternName): PatternName | undefined {
	const [wanted = "auto", ...others] = new Set(rooms.map(patternOf).filter((pattern) => pattern !== "auto"));
	return others.length === 0 ? wanted : undefined;
}

/** Whether one loop may heat all of these rooms: they let it, and it would be laid alike in each. */
const agree = (rooms: readonly Room[], patternOf: SharedRoomsOptions["patternOf"]): boolean =>
	rooms.every(
		({ heated, share, spacing, edgeDistance }) =>
			heated && share && spacing === rooms[0]!.spacing && edgeDistance === rooms[0]!.edgeDistance,
	) && sharedPattern(rooms, patternOf) !== undefined;

/**
 * Which rooms need no loop of their own, because a neighbour's can go on to them: through a doorway between them, or out
 * of its own door and in by the next one in the same wall of a hall. Only rooms behind which no other tails lead on are
 * given away, the smallest first, and rather to the room that their own tails would come through. One loop has to do for
 * all of them together.
 */
export function sharedRooms(options: SharedRoomsOptions): SharedRooms {
	const { spaces, loops, tailSpacing, margin } = options;
	const area = (space: number): number => regionArea(spaces[space]!.region);
	const branches = allBranches(options.tree);
	const entrances = new Map(branches.map(({ space, passage }) => [space, passage?.middle ?? options.manifold]));
	const hosts = new Map<number, Link[]>();
	const guests = new Set<number>();
	const withGuests = ({ host, guest }: Link): number[] => [
		host,
		guest,
		...(hosts.get(host) ?? []).map((other) => other.guest),
	];
	const fits = (link: Link): boolean => {
		const { host } = link;
		const together = withGuests(link);
		// The least that its tails can take, there and back.
		const tails = 2 * distance(options.manifold, entrances.get(host)!);
		const floor = together.reduce((sum, space) => sum + area(space), 0);
		return loopsFor(floor, spaces[host]!.room, tails, options.maxLoopLength) === 1;
	};
	const isPossible = (link: Link): boolean =>
		loops[link.host] === 1 &&
		!guests.has(link.host) &&
		options.isAllowed(link) &&
		agree(
			withGuests(link).map((space) => spaces[space]!.room),
			options.patternOf,
		) &&
		capacity(link.through, tailSpacing, margin) >= 2 &&
		(!link.across || capacity(link.across, tailSpacing, margin) >= 4) &&
		fits(link);
	const leaves = branches
		.filter(({ children, passage }) => children.length === 0 && passage)
		.sort((a, b) => area(a.space) - area(b.space) || a.space - b.space);
	for (const { space: guest, passage: ownWay } of leaves) {
		if (loops[guest] !== 1 || hosts.has(guest)) continue;
		const straight = options.passages
			.filter(({ from, to }) => to === guest && entrances.has(from))
			.map((through): Link => ({ host: through.from, guest, through, across: undefined }))
			.sort((a, b) => Number(b.through === ownWay) - Number(a.through === ownWay));
		const across = branches
			.filter(({ passage }) => passage && passage.from === ownWay!.from && passage !== ownWay)
			.filter(({ passage }) => isBeside(ownWay!, passage!, entrances.get(ownWay!.from)!))
			.map(({ space: host, passage }): Link => ({ host, guest, through: ownWay!, across: passage }))
			.sort((a, b) => distance(a.across!.middle, ownWay!.middle) - distance(b.across!.middle, ownWay!.middle));
		const link = [...straight, ...across].find(isPossible);
		if (!link) continue;
		hosts.set(link.host, [...(hosts.get(link.host) ?? []), link]);
		guests.add(guest);
	}
	return hosts;
}
