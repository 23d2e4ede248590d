import type { Region } from "@oxturn/geometry";
import { type FloorMap, mapFloor, shortfall } from "../field/coverage.ts";
import { wallWays } from "../tails/alongWall.ts";
import { berthsBy } from "../tails/berth.ts";
import { wallPlaces } from "../zones/entries.ts";
import type { ZonePlan } from "../zones/zonePlan.ts";
import { type Attempt, COLD_ROOM, isClean, isGood } from "./attempt.ts";
import { besideWays } from "./closeTails.ts";
import { type LoopCounts, loopCounts } from "./loopCounts.ts";
import { shortestMean } from "./planning.ts";
import type { RoomOptions, RoomSetting } from "./roomSetting.ts";
import { serveOnce } from "./serveOnce.ts";
import type { ServeZone } from "./serveZone.ts";
import { roomNooks } from "./zoneFloor.ts";
import { tracksOf, wallSetting } from "./zoneTails.ts";

/**
 * On floors where nothing fits, the search ends with the best attempt when so many zones have been served. More loops
 * than ten do not get more: each of theirs takes longer.
 */
const MAX_ZONES = 150;
/** The same where there is another way. */
const BRIEF_ZONES = 30;
/** Where the likeliest plans give a layout that is not excellent, others are tried until so many zones have been served. */
const FEW_ZONES = 50;
/**
 * After so much effort the search goes on without the dearest ways to a zone: where those are in vain, one zone takes as
 * long as a hundred others. Rooms whose zones are easy to reach are served with a tenth of it.
 */
const MOST_EFFORT = 4000;
/** The search ends with the best attempt when so much effort has been made since without a better one. */
const MOST_IN_VAIN = 1500;
/** A layout that keeps every rule has won when so many attempts after it have not been better. */
const PATIENCE = 8;
/** Attempts that are made for loops within the limit, though time is up. */
const FIRST_ATTEMPTS = 6;
/** Cells of the map that attempts are compared on, per spacing. */
const MAP_DETAIL = 3.5;

/** How far a search has come. */
export interface Progress {
	best: Attempt | undefined;
	/** The plan that the best came of. */
	bestPlan: ZonePlan | undefined;
	attempts: number;
	/** Attempts when the best was found, or when they began to be counted anew. */
	bestSince: number;
	zonesServed: number;
	/** What has been dear, in tries to join a field. */
	effort: number;
	/** Effort when the best was found, or when it began to be counted anew. */
	effortSince: number;
	/** Whether all plans have been tried, and what is wrong with the best is only to be made less. */
	isLastResort: boolean;
	/** The attempt at a spacing that was opened for long runs. */
	straightened: Attempt | undefined;
	/** Zones that may be served. */
	limit: number;
}

/** The search for the loops of one room: what is the same at every attempt, and how far it has come. */
export interface Search {
	readonly options: RoomOptions;
	/** Centre to centre, mm, unless it has to open. */
	readonly spacing: number;
	/** Longest loop, m, what it spends on its way to the room left out. */
	readonly longest: number;
	readonly counts: LoopCounts;
	/** What attempts are compared on. */
	readonly map: FloorMap;
	readonly serve: ServeZone;
	/** What attempts have in common. */
	readonly setting: Omit<RoomSetting, "spacing">;
	readonly progress: Progress;
}

const mapOf = (floor: Region, spacing: number): FloorMap => mapFloor([floor], spacing / MAP_DETAIL);

/** How far a search has come before its first attempt; it may serve so many zones. */
export const startProgress = (limit: number): Progress => ({
	best: undefined,
	bestPlan: undefined,
	attempts: 0,
	bestSince: 0,
	zonesServed: 0,
	effort: 0,
	effortSince: 0,
	isLastResort: false,
	straightened: undefined,
	limit,
});

/** A search of a room at one spacing, mm, before its first attempt; briefly, where there is another way if it fails. */
export function startSearch(options: RoomOptions, spacing: number, isBrief: boolean): Search {
	const { room, floor, system, entrance } = options;
	const wall = wallPlaces(floor, entrance.at);
	const counts = loopCounts(options, spacing, isBrief, (count) => shortestMean({ options, spacing, wall }, count));
	const progress = startProgress(isBrief ? BRIEF_ZONES : MAX_ZONES);
	return {
		options,
		spacing,
		longest: system.maxLoopLength - entrance.spent / 1000,
		counts,
		map: mapOf(floor, room.spacing),
		serve: serveOnce(() => progress.zonesServed++),
		setting: {
			room,
			floor,
			walls: options.walls,
			entrance,
			system,
			pattern: options.pattern,
			rules: options.rules,
			others: options.others,
			onward: options.onward,
			expired: options.expired,
			tracks: tracksOf(options),
			wallWays: wallWays(wallSetting(options)),
			nooks: roomNooks(options),
			wall,
			berth: berthsBy(options.rules),
			besideWays: besideWays(),
			spend: (effort) => {
				progress.effort += effort;
			},
			isSparing: () => options.expired() || progress.effort >= MOST_EFFORT,
		},
		progress,
	};
}

/** Keeps an attempt if none before was as good. */
export function keepBetter(progress: Progress, attempt: Attempt, plan: ZonePlan): void {
	if (progress.best && progress.best.cost <= attempt.cost) return;
	progress.best = attempt;
	progress.bestPlan = plan;
	progress.bestSince = progress.attempts;
	progress.effortSince = progress.effort;
}

/** Whether the best so far keeps every rule and leaves no zone out. */
export const hasClean = ({ progress: { best } }: Search): boolean => best !== undefined && isClean(best);

/**
 * Whether the best will do, if nothing better comes: fewer loops than area and spacing ask for do only where they are
 * good.
 */
export function isSettled({ progress: { best }, counts }: Search): boolean {
	return best !== undefined && isClean(best) && (best.loops.length >= counts.enough || isGood(best));
}

/** Whether nothing better is to be hoped for with this number of loops. */
const isTired = (search: Search): boolean =>
	isSettled(search) && search.progress.attempts - search.progress.bestSince >= PATIENCE;

/** Whether time is up and the best will have to do, too long loops left out of it where they have been tried to be mended. */
export const isLate = ({ progress: { best, attempts }, options }: Search): boolean =>
	best !== undefined && (best.tooLong === 0 || attempts >= FIRST_ATTEMPTS) && options.expired();

/** Whether much effort has brought nothing better. */
export const isInVain = ({ effort, effortSince }: Pick<Progress, "effort" | "effortSince">): boolean =>
	effort - effortSince >= MOST_IN_VAIN;

/** Whether no more zones are to be served. */
export function isOver(search: Search): boolean {
	const { progress } = search;
	if (progress.best === undefined) return false;
	return progress.zonesServed >= progress.limit || isInVain(progress) || isLate(search);
}

/** Whether this number of loops needs no further attempt; throws where the caller stops the search. */
export function isFinished(search: Search): boolean {
	search.options.pulse();
	return isOver(search) || isTired(search);
}

/** Whether little has been tried yet. */
export const isYoung = ({ progress }: Search): boolean => progress.zonesServed < FEW_ZONES;

/** Whether an attempt leaves floor cold, pipes of others that pass considered. */
export function leavesCold({ cold, loops }: Attempt, { options, map }: Search): boolean {
	if (cold <= COLD_ROOM) return false;
	const own = loops.flatMap((loop) => (loop ? [loop.path] : []));
	return shortfall(map, [...own, ...options.others], options.room.spacing).beyond100 > COLD_ROOM;
}
