import { sum } from "../sum.ts";
import { easySpacing, evenShares } from "../zones/evenShares.ts";
import { shiftCuts } from "../zones/shiftCuts.ts";
import type { RunsAlong } from "../zones/steppedBands.ts";
import { MANY_LOOPS, type ZonePlan } from "../zones/zonePlan.ts";
import {
	type Attempt,
	isEven,
	isExcellent,
	isFair,
	isHopeless,
	isUneven,
	judgeAttempt,
	lengthsToEven,
} from "./attempt.ts";
import { type Planning, planningOf } from "./planning.ts";
import type { RoomSetting } from "./roomSetting.ts";
import { routeZones } from "./routeZones.ts";
import { runsAlong } from "./runsAlong.ts";
import { isFinished, keepBetter, type Search } from "./search.ts";

/*
 * One way of cutting a room, tried with shares of the floor that are shifted until its loops are even.
 */

const BALANCING_ROUNDS = 3;
/** The same where nothing else is wrong with the loops. */
const MOST_ROUNDS = 5;
/** Zones that count as served at one attempt, a loop. */
const MOST_COUNTED = 2;
/** The tails of more loops than this take time even where no zone is served then: each counts as one that is. */
const QUICK_LOOPS = 10;

/** What came of a plan: its best attempt; none where it cannot be laid; or that its loops are far too long. */
export type Outcome = Attempt | "too long" | undefined;

/** What plans for so many loops of a search go by. */
export const planningIn = ({ options, spacing, setting: { wall } }: Search, count: number): Planning =>
	planningOf({ options, spacing, wall }, count);

/** A plan for so many loops, at the spacing that its zones are laid at. */
interface Trial {
	readonly search: Search;
	readonly plan: ZonePlan;
	readonly count: number;
	readonly sharing: Planning;
	readonly setting: RoomSetting;
	/** How runs lie where borders are to follow them. */
	readonly runs: RunsAlong | undefined;
}

function trialOf(search: Search, plan: ZonePlan, count: number, laidAt: number): Trial {
	const sharing = planningIn(search, count);
	const setting: RoomSetting = { ...search.setting, spacing: laidAt };
	// A room in one piece has no borders.
	const runs = count === 1 ? undefined : runsAlong(setting, easySpacing(plan, sharing));
	return { search, plan, count, sharing, setting, runs };
}

/** From the shares of an attempt part of the way to those that should make its loops even. */
interface Step {
	readonly from: readonly number[];
	readonly to: readonly number[];
	/** Share of the way. */
	readonly length: number;
}

const sharesAfter = ({ from, to, length }: Step): number[] => from.map((share, i) => share + length * (to[i]! - share));

/** Shares for loops more even than those that have been laid; every zone has one. */
function evenOut(shares: readonly number[], attempt: Attempt, longest: number): number[] {
	const lengths = lengthsToEven(attempt);
	const field = sum(lengths) - attempt.tails / 1000 - sum(attempt.elsewhere);
	return shiftCuts(shares, lengths, field, longest);
}

/** Lays the loops of zones with the given shares. */
function layShares({ search, plan, count, setting, runs }: Trial, shares: readonly number[]) {
	const { progress, serve, counts, longest } = search;
	progress.attempts++;
	const cells = plan(shares, runs);
	if (!cells) return undefined;
	const servedBefore = progress.zonesServed;
	const routed = routeZones(setting, cells, serve, {
		mostMissing: progress.best?.missing ?? Infinity,
		// The spacing may open for as many loops as area and spacing ask for, so those are worth a closer look.
		mostPipe: count < counts.enough ? count * longest * 1000 : Infinity,
	});
	// Where tails find no way, zones are served again by tails that are laid otherwise.
	const served = Math.min(progress.zonesServed - servedBefore, MOST_COUNTED * count);
	progress.zonesServed = servedBefore + Math.max(served, count - QUICK_LOOPS);
	return routed;
}

/** Where few of many zones have no loop and no plan gives them one, the others may be made even all the same. */
const MOST_MISSING = 1 / 8;

/** Whether other shares are not worth a try after an attempt. */
function isLast(attempt: Attempt, isLastResort: boolean): boolean {
	const { missing, tooLong, loops } = attempt;
	if (missing > (isLastResort ? MOST_MISSING * loops.length : 0)) return true;
	return isHopeless(attempt) || isExcellent(attempt) || (tooLong === 0 && isEven(attempt));
}

function roundsFor(count: number, found: Attempt | undefined): number {
	if (count === 1) return 1;
	return found && isUneven(found) ? MOST_ROUNDS : BALANCING_ROUNDS;
}

/** Tries shares, and shifts them for as long as that makes loops more even. */
function tryShares(trial: Trial, start: readonly number[]): Outcome {
	const { search, plan, setting, count } = trial;
	let step: Step = { from: start, to: start, length: 1 };
	let found: Attempt | undefined;
	let last = Number.NaN;
	for (let round = 0; round < roundsFor(count, found) && !isFinished(search); round++) {
		const shares = sharesAfter(step);
		const routed = layShares(trial, shares);
		if (routed === "too long" && !found) return routed;
		if (!routed || routed === "too long") break;
		const attempt = judgeAttempt(setting, routed, search.map, search.options.faults);
		const isBetter = !found || attempt.cost < found.cost;
		if (isBetter) found = attempt;
		// Where cuts come to lie where they lay, other shares bring nothing.
		if (isLast(attempt, search.progress.isLastResort) || attempt.cost === last) break;
		last = attempt.cost;
		// What is clean already is not given up for what is worse: shorter steps are tried from there.
		if (!isBetter && isUneven(found!)) step = { ...step, length: step.length / 2 };
		else step = { from: shares, to: evenOut(shares, attempt, search.longest), length: 1 };
	}
	if (found) keepBetter(search.progress, found, plan);
	return found;
}

/**
 * Tries a plan for so many loops at a spacing, mm, with shares that should make even loops; where they do not, with
 * equal ones.
 */
export function tryPlan(search: Search, plan: ZonePlan, count: number, laidAt: number): Outcome {
	const trial = trialOf(search, plan, count, laidAt);
	const equal = Array.from({ length: count }, () => 1 / count);
	if (count === 1) return tryShares(trial, equal);
	const even = tryShares(trial, evenShares(plan, trial.sharing));
	if (even === "too long" || (even && (isHopeless(even) || isExcellent(even) || isFair(even)))) return even;
	// Where tails leave one of many zones no way, they hardly do with other shares: rather another plan is tried.
	if (even && even.missing > 0 && count >= MANY_LOOPS && !search.progress.isLastResort) return even;
	const other = tryShares(trial, equal);
	if (other === "too long") return even ?? other;
	return !even || (other && other.cost < even.cost) ? other : even;
}
