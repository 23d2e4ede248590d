import { zonePlans } from "../zones/plans.ts";
import { MANY_LOOPS, type ZonePlan } from "../zones/zonePlan.ts";
import { type Attempt, hasShortRuns, isExcellent, isHopeless } from "./attempt.ts";
import type { RoomOptions, RoutedRoom } from "./roomSetting.ts";
import {
	hasClean,
	isFinished,
	isLate,
	isOver,
	isSettled,
	isYoung,
	leavesCold,
	type Search,
	startSearch,
} from "./search.ts";
import { MOST_PLANS, type SearchStep, searchOrder } from "./searchOrder.ts";
import { planningIn, tryPlan } from "./tryPlan.ts";

/** A wider spacing has to bring cold floor down to this share of what it was. */
const WORTH_WIDENING = 0.7;
/** For more loops than area and spacing ask for, where as many are just too long, so many more zones may be served. */
const MORE_ZONES = 75;
/** The spacing may open this far where many loops are too long and no more of them find a way. */
const FARTHER = [1.04, 1.08, 1.12, 1.16, 1.2];
/** So many more zones may be served for that. */
const LAST_ZONES = 150;
/** What measuring may take of the limit. */
const LENGTH_SLACK = 1.002;

/** A plan with the best that came of it. */
interface Tried {
	readonly plan: ZonePlan;
	readonly attempt: Attempt;
}

/** A room at one spacing, mm, or at what `stretches` make of it; briefly, where there is another way if that fails. */
export function searchRoom(options: RoomOptions, spacing: number, isBrief = false): RoutedRoom {
	const search = startSearch(options, spacing, isBrief);
	const { counts, progress } = search;
	for (const step of searchOrder(counts)) {
		const { count, first } = step;
		const isMore = count > counts.enough;
		if (isMore && hasClean(search)) continue;
		// What is hard for few loops may be easy for one more, so each number gets its chance.
		if (first === 0) progress.bestSince = progress.attempts;
		if (isMore && first === 0 && progress.best?.missing === 0)
			progress.limit = Math.max(progress.limit, progress.zonesServed + MORE_ZONES);
		tryCount(search, step);
		if (isLate(search) || isSettled(search)) break;
	}
	if (!isBrief) openFarther(search);
	return routedRoom(search);
}

/**
 * Where many loops are too long and no more of them find a way, the spacing opens farther than it would to save a loop:
 * rather a little less heat everywhere than floor without any.
 */
function openFarther(search: Search): void {
	const { options, spacing, progress } = search;
	const { best, bestPlan } = progress;
	if (!best || !bestPlan || best.loops.length < MANY_LOOPS || options.count !== undefined) return;
	progress.isLastResort = true;
	progress.limit = progress.zonesServed + LAST_ZONES;
	progress.effortSince = progress.effort;
	// As the last resort the others are made even where one is missing, at the spacing wanted first.
	for (const stretch of best.missing > 0 ? [1, ...FARTHER] : FARTHER) {
		if (progress.best!.tooLong === 0 || isOver(search)) return;
		tryPlan(search, bestPlan, best.loops.length, spacing * stretch);
	}
}

/** Whether a room that has been laid may well be laid better by other plans, and little has been tried. */
const isWorthMore = (search: Search, count: number): boolean =>
	hasClean(search) && count >= search.counts.enough && !isExcellent(search.progress.best!) && isYoung(search);

/** Tries some plans for a number of loops. */
function tryCount(search: Search, { count, first, last, onlyGood }: SearchStep): void {
	const { floor, wall, spacing, longest } = planningIn(search, count);
	const plans = zonePlans({ floor, wall, spacing, longest, count, onlyGood });
	const tried: Tried[] = [];
	for (const [i, plan] of plans.slice(first, MOST_PLANS).entries()) {
		if (isFinished(search) || (first + i >= last && !isWorthMore(search, count))) break;
		const attempt = tryPlan(search, plan, count, search.spacing);
		if (attempt === "too long") break;
		if (!attempt) continue;
		tried.push({ plan, attempt });
		if (isExcellent(attempt)) break;
		// Likelier plans come first, and those that are too long on average last.
		if (isHopeless(attempt) && !hasClean(search)) break;
	}
	if (count >= search.counts.enough) widen(search, tried, count);
}

/**
 * Opens the spacing where loops are a little too long, or keep within the limit by leaving floor cold or by short runs
 * across narrow zones. That saves a loop that area and spacing do not ask for; it is never done to go below that number.
 */
function widen(search: Search, tried: readonly Tried[], count: number): void {
	const { options, spacing, progress } = search;
	const tryWider = ({ plan }: Tried, isWanted: () => boolean): void => {
		for (const stretch of options.stretches) if (isWanted()) tryPlan(search, plan, count, spacing * stretch);
	};
	const [closest] = tried
		.filter(({ attempt }) => attempt.missing === 0 && attempt.tooLong > 0)
		.sort((a, b) => a.attempt.cost - b.attempt.cost);
	if (closest) tryWider(closest, () => !hasClean(search) && !isFinished(search));
	const asWanted = progress.best;
	const likeliest = tried.find(({ attempt }) => attempt === asWanted);
	if (!asWanted || !likeliest || !hasClean(search)) return;
	// Attempts before these told nothing of what a wider spacing brings.
	progress.bestSince = progress.attempts;
	const isShort = hasShortRuns(asWanted);
	tryWider(likeliest, () => (isShort || leavesCold(progress.best!, search)) && !isOver(search));
	const wider = progress.best!;
	const isStraighter = isShort && !hasShortRuns(wider);
	const isWarmer = leavesCold(asWanted, search) && wider.cold <= WORTH_WIDENING * asWanted.cold;
	progress.best = isStraighter || isWarmer ? wider : asWanted;
	if (isStraighter && !isWarmer) progress.straightened = wider;
}

/** What the search has come to, loops over the limit left out: a fitter can lay the others. */
function routedRoom({ options, longest, progress: { best, straightened } }: Search): RoutedRoom {
	const { room, entrance, faults } = options;
	const byZone = best?.loops ?? [];
	const all = byZone.filter((loop) => loop !== undefined);
	const kept = byZone.map((loop) => (loop && loop.length <= LENGTH_SLACK * longest ? loop : undefined));
	const loops = kept.filter((loop) => loop !== undefined);
	const leftOut = all.length - loops.length;
	return {
		loops,
		bundles: best?.bundles(kept) ?? [],
		spacing: best?.spacing ?? room.spacing,
		widenedFor: best && best === straightened ? "runs" : "length",
		missing: best?.missing ?? 1,
		tooLong: best?.tooLong ?? 0,
		leftOut,
		longest: Math.max(0, ...all.map(({ length }) => length)) + entrance.spent / 1000,
		cold: best?.cold ?? 1,
		broken: leftOut > 0 ? faults(loops) : (best?.broken ?? 0),
	};
}
