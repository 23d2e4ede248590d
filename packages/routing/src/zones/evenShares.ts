import { type Region, regionArea } from "@oxturn/geometry";
import { sum } from "../sum.ts";
import type { Way } from "../tails/tracks.ts";
import { type Assignment, zoneOrders } from "./entries.ts";
import type { ZonePlan, ZonePlanOptions } from "./zonePlan.ts";
import { arePlain } from "./zoneShape.ts";

export interface EvenSharesOptions extends Pick<ZonePlanOptions, "floor" | "count" | "wall" | "spacing"> {
	/** Centre to centre between tails, mm. */
	readonly tailPitch: number;
	/** From the last of them to a field, mm. */
	readonly tailGap: number;
	/** Pipe that the loop of each pair of ports needs for other floor, mm, from the leftmost. */
	readonly elsewhere: readonly number[];
}

/** The depth of floor that so many pipes take along a wall, before the field behind them begins, mm. */
const depthTaken = (pipes: number, { tailPitch, tailGap }: EvenSharesOptions): number =>
	(pipes - 1) * tailPitch + tailGap;

/** Floor that each zone of an order loses to the tails that pass it on their way to zones farther off, mm2. */
function lostToTails(order: readonly Assignment[], options: EvenSharesOptions): number[] {
	const lostOn = (way: Way, along: number): number => {
		const farther = order.map(({ entry }) => entry).filter((other) => other.way === way && other.along > along);
		if (farther.length === 0) return 0;
		const front = Math.min(...farther.map((other) => other.along)) - along;
		return front * depthTaken(2 * farther.length, options);
	};
	// The one in front of the manifold is passed on either hand.
	return order.map(({ entry: { way, along } }) =>
		along === 0 ? lostOn(1, along) + lostOn(-1, along) : lostOn(way, along),
	);
}

/** What the tails of a plan's zones take, in the order of its zones. */
interface ZoneTails {
	/** Pipe, mm. */
	readonly pipe: readonly number[];
	/** Floor that passing tails take, mm2. */
	readonly floor: readonly number[];
}

const equalCells = (plan: ZonePlan, { count }: EvenSharesOptions): readonly Region[] =>
	plan(Array.from({ length: count }, () => 1 / count)) ?? [];

/** The zones of equal cells in the order of their ports; undefined where the plan does not give one for every loop. */
function orderOf(cells: readonly Region[], { count, wall }: EvenSharesOptions): readonly Assignment[] | undefined {
	const [order] = zoneOrders(cells, wall);
	return order && order.length === count ? order : undefined;
}

/** What tails take where all zones are equal; undefined where the plan does not give one for every loop. */
function tailsOf(plan: ZonePlan, options: EvenSharesOptions): ZoneTails | undefined {
	const cells = equalCells(plan, options);
	const order = orderOf(cells, options);
	if (!order) return undefined;
	// Where walls are not straight, tails cut corners, and what they take of a zone is anybody's guess.
	const lost = arePlain(cells) ? lostToTails(order, options) : order.map(() => 0);
	const pipe = order.map(() => 0);
	const floor = order.map(() => 0);
	for (const [i, { cell, entry }] of order.entries()) {
		pipe[cell] = 2 * entry.along + (options.elsewhere[i] ?? 0);
		floor[cell] = lost[i]!;
	}
	return { pipe, floor };
}

/**
 * Shares of the floor that make loops of equal length: zones far from the manifold spend more of theirs on tails and
 * get less floor, plain ones that tails pass lose floor to these and get more. A zone never gets less than a third of an
 * equal share.
 */
export function evenShares(plan: ZonePlan, options: EvenSharesOptions): number[] {
	const { floor, count, spacing } = options;
	const tails = tailsOf(plan, options);
	if (!tails) return Array.from({ length: count }, () => 1 / count);
	const whole = regionArea(floor) / spacing;
	/** What a zone's loop has beyond the pipe for its floor, mm. */
	const extra = tails.pipe.map((own, i) => own - tails.floor[i]! / spacing);
	const length = (whole + sum(extra)) / count;
	const shares = extra.map((own) => Math.max((length - own) / whole, 1 / (3 * count)));
	const total = sum(shares);
	return shares.map((share) => share / total);
}

/** What a plan's loops are long on average, at a guess, mm; Infinity where it does not give one for every loop. */
export function meanLength(plan: ZonePlan, options: EvenSharesOptions): number {
	const { floor, count, spacing } = options;
	const order = orderOf(equalCells(plan, options), options);
	if (!order) return Infinity;
	const field = (regionArea(floor) - sum(lostToTails(order, options))) / spacing;
	return (field + 2 * sum(order.map(({ entry }) => entry.along))) / count;
}

/** Loops no longer than this share of the limit, on average, leave room for what a guess does not know. */
const EASY = 0.96;

/** The spacing at which a plan's loops keep within the limit with ease, mm; Infinity where their tails leave nothing. */
export function easySpacing(plan: ZonePlan, options: EvenSharesOptions & Pick<ZonePlanOptions, "longest">): number {
	const { floor, count, longest } = options;
	const tails = tailsOf(plan, options);
	const pipe = EASY * count * longest - sum(tails?.pipe ?? []);
	return pipe > 0 ? (regionArea(floor) - sum(tails?.floor ?? [])) / pipe : Infinity;
}
