import type { Channel, Floor, Layout, LoopFeature, Notice, Room } from "@oxturn/floor";
import { throwIfAborted } from "./errors.ts";
import type { FloorPart, PartSetting, Without } from "./floorPart.ts";
import { layoutOf } from "./loopFeatures.ts";
import { routeMemory } from "./memory.ts";
import { notices as say } from "./notices/notices.ts";
import { missingNotice, unreachedNotices } from "./notices/roomNotices.ts";
import { routeAlone } from "./routeAlone.ts";
import { routeTerritory } from "./routeTerritory.ts";
import { spreadPorts } from "./spreadPorts.ts";
import { squareToWalls } from "./squareToWalls.ts";
import { sum } from "./sum.ts";
import type { RouteOptions } from "./types.ts";
import { type DividedFloor, divideFloor } from "./ways/divideFloor.ts";
import { coldArea } from "./ways/ownFloor.ts";
import { featuresOf, type LaidLoop, withoutFaults } from "./withoutFaults.ts";

/** How often a floor is routed anew without the rooms whose loops break rules. */
const MOST_ANEW = 3;

const loopsOf = (parts: readonly FloorPart[]): LaidLoop[] => parts.flatMap(({ loops }) => loops);

const heatedRooms = ({ rooms }: Floor): Room[] => rooms.filter(({ heated }) => heated);

/** What the parts of a floor have in common; the clock runs from now on. */
function settingFor(floor: Floor, options: RouteOptions): PartSetting {
	const start = performance.now();
	const { length: count } = heatedRooms(floor);
	const begun = new Set<string>();
	return {
		floor,
		options,
		memory: options.memory ?? routeMemory(),
		pulse: (room) => {
			throwIfAborted(options.signal);
			if (begun.has(room.id) || !room.heated) return;
			options.onProgress?.({ stage: "fields", fraction: Math.min(1, begun.size / count), room: room.id });
			begun.add(room.id);
			throwIfAborted(options.signal);
		},
		expired: () => options.timeBudget !== undefined && performance.now() - start > options.timeBudget,
	};
}

/** Every manifold's part of the floor. */
function routeParts(setting: PartSetting, { spaces, territories }: DividedFloor, without: Without): FloorPart[] {
	return territories.flatMap((territory) => {
		const wanted = [...territory.spaces].filter((space) => spaces[space]!.room.heated);
		if (wanted.length === 0) return [];
		const isAlone = wanted.length === 1 && wanted[0] === territory.root;
		return isAlone
			? [routeAlone(setting, spaces[territory.root]!, territory.manifold)]
			: [routeTerritory(setting, territory, spaces, without)];
	});
}

interface CheckedParts {
	readonly parts: readonly FloorPart[];
	readonly features: readonly LoopFeature[];
	/** What is told of loops that were left out. */
	readonly leftOut: readonly Notice[];
}

/** Floor that stays cold, mm². */
function coldIn(floor: Floor, { features }: CheckedParts): number {
	const pipes = features.map(({ geometry }) => geometry.coordinates);
	return sum(heatedRooms(floor).map(({ region, spacing }) => coldArea([region], pipes, spacing)));
}

/** What leaves least floor cold; of the same, what came last. */
function warmest(floor: Floor, [first, ...others]: readonly [CheckedParts, ...CheckedParts[]]): CheckedParts {
	if (others.length === 0) return first;
	let best = { parts: first, cold: coldIn(floor, first) };
	for (const parts of others) {
		const cold = coldIn(floor, parts);
		if (cold <= best.cold) best = { parts, cold };
	}
	return best.parts;
}

/**
 * Routes all parts and leaves out what breaks a rule. Without the rooms that have no loop then, ports and tails are laid
 * anew, if that leaves less floor cold; a room that lacks one loop of many keeps the others.
 */
function routeChecked(setting: PartSetting, divided: DividedFloor): CheckedParts {
	const { floor, options } = setting;
	let parts = routeParts(setting, divided, { withoutLoops: new Set(), apart: new Set() });
	options.onProgress?.({ stage: "audit", fraction: 1, room: "" });
	// One room that has passed on its own needs no second look.
	if (heatedRooms(floor).length === 1 && parts.every(({ broken }) => broken === 0))
		return { parts, features: featuresOf(loopsOf(parts)), leftOut: [] };
	const withoutLoops = new Map<string, Notice>();
	const apart = new Set<string>();
	let checked = withoutFaults(floor, loopsOf(parts));
	const result = (): CheckedParts => ({
		parts,
		features: checked.features,
		leftOut: [...withoutLoops.values(), ...checked.leftOut.flatMap(({ notices }) => notices)],
	});
	const results: [CheckedParts, ...CheckedParts[]] = [result()];
	for (let round = 0; divided.passages.length > 0 && round < MOST_ANEW; round++) {
		const kept = new Set(checked.features.flatMap(({ properties }) => properties.rooms));
		const without = checked.leftOut.filter(({ rooms }) => rooms.some(({ id }) => !kept.has(id)));
		if (without.length === 0) break;
		for (const { rooms, notices } of without)
			if (rooms.length > 1) for (const { id } of rooms) apart.add(id);
			else for (const notice of notices) withoutLoops.set(notice.subject, notice);
		parts = routeParts(setting, divided, { withoutLoops: new Set(withoutLoops.keys()), apart });
		checked = withoutFaults(floor, loopsOf(parts));
		results.push(result());
	}
	return warmest(floor, results);
}

/** Heated rooms that have neither a loop nor a notice. */
function untold(floor: Floor, features: readonly LoopFeature[], notices: readonly Notice[]): Room[] {
	const known = new Set([
		...features.flatMap(({ properties }) => properties.rooms),
		...notices.map(({ subject }) => subject),
	]);
	return heatedRooms(floor).filter(({ id }) => !known.has(id));
}

/**
 * Routes every heated room from a manifold: those that hang in a room, and those that are reached through doorways.
 * The result has passed its audit, or says where not.
 */
export function routeFloor(given: Floor, options: RouteOptions = {}): Layout {
	const { floor: square, turned } = squareToWalls(given);
	const { floor, spread } = spreadPorts(square);
	const setting = settingFor(floor, options);
	const divided = divideFloor(floor);
	const { parts, features, leftOut } = routeChecked(setting, divided);
	const channels = parts
		.flatMap((part) => part.channels)
		.map((channel, i): Channel => ({ id: `C${i + 1}`, ...channel }));
	const notices = [
		...turned.map(({ manifold, given }) => say.manifoldTurned(manifold, given)),
		...spread.map(({ manifold, given }) => say.portsSpread(manifold, given)),
		...unreachedNotices(floor, divided.spaces, divided.territories),
		...parts.flatMap((part) => part.notices),
		...leftOut,
	];
	notices.push(...untold(floor, features, notices).map((room) => missingNotice(floor, room)));
	return { ...layoutOf(floor, features, notices), channels };
}
