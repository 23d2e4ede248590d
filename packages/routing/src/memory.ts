import type { Region } from "@oxturn/geometry";
import type { RoutedRoom } from "./room/roomSetting.ts";

/*
 * While one corner of a floor is dragged, most rooms stay as they are. What they were routed to is kept under a
 * fingerprint of all that it depends on, so a layout is the same with a memory and without, only sooner there.
 */

/**
 * Rooms routed before: the caller keeps it from call to call and looks at nothing in it. It belongs to one version of the
 * library, forgets the oldest of more than 600 rooms, and survives `structuredClone` but no JSON.
 */
export interface RouteMemory {
	/** What rooms were routed to. */
	readonly rooms: Map<string, RoutedRoom>;
	/** What passing tails leave of rooms. */
	readonly pieces: Map<string, readonly Region[]>;
}

/** An empty memory, to be given to `routeFloor` time and again while a floor is being changed. */
export const routeMemory = (): RouteMemory => ({ rooms: new Map(), pieces: new Map() });

/** The oldest of a kind are forgotten beyond this. */
const MOST = 600;

function keep<Item>(items: Map<string, Item>, key: string, item: Item): void {
	items.set(key, item);
	for (const oldest of items.keys()) {
		if (items.size <= MOST) break;
		items.delete(oldest);
	}
}

/** The pieces kept under a key, or else those that are found now. */
export function recallPieces({ pieces }: RouteMemory, key: string, find: () => readonly Region[]): readonly Region[] {
	const known = pieces.get(key);
	if (known) return known;
	const found = find();
	keep(pieces, key, found);
	return found;
}

/**
 * The room kept under a key, or else the one that is routed now. Out of time, rooms are routed roughly: those are kept
 * apart, and a room once routed in full is better than a rough one. What runs out of time on the way is not kept.
 */
export function recallRoom(
	{ rooms }: RouteMemory,
	key: string,
	expired: () => boolean,
	route: () => RoutedRoom,
): RoutedRoom {
	const isRough = expired();
	const roughKey = `${key} rough`;
	const known = rooms.get(key) ?? (isRough ? rooms.get(roughKey) : undefined);
	if (known) return known;
	const found = route();
	if (!isRough && expired()) return found;
	keep(rooms, isRough ? roughKey : key, found);
	return found;
}
