import { type Region, ringsOf } from "@oxturn/geometry";
import { wallDirections } from "../field/wallDirections.ts";
import { sum } from "../sum.ts";
import { guessCost } from "./guessCost.ts";
import { cutByLimbs, limbPlans } from "./limbs.ts";
import { cutIntoBands } from "./partition.ts";
import { type RunsAlong, steppedBands } from "./steppedBands.ts";
import { MANY_LOOPS, type ZonePlan, type ZonePlanOptions } from "./zonePlan.ts";

/** Bands, with borders that step where they are told how runs lie and can do with it. */
const bands = (floor: Region, direction: number, shares: readonly number[], runs: RunsAlong | undefined) =>
	(runs && steppedBands(floor, direction, shares, runs)) ?? cutIntoBands(floor, direction, shares);

/** First two blocks side by side across `first`, then bands in each: across the one of `seconds` that belongs to it. */
function blocks(floor: Region, first: number, seconds: readonly [number, number], split: number): ZonePlan {
	return (shares, runs) => {
		const near = shares.slice(0, split);
		const far = shares.slice(split);
		const halves = cutIntoBands(floor, first, [sum(near), sum(far)]);
		if (!halves) return undefined;
		const parts = [near, far].map((group, i) => {
			const total = sum(group);
			return group.length === 1
				? [halves[i]!]
				: bands(
						halves[i]!,
						seconds[i]!,
						group.map((share) => share / total),
						runs,
					);
		});
		return parts.some((part) => !part) ? undefined : (parts as Region[][]).flat();
	};
}

/** Parts of the loops that one of two blocks has where there are many. */
const PARTS = [0.35, 0.5, 0.65];

/** Blocks of which one has bands along the border between them: their tails come along another wall than those of the other. */
function crossedBlocks(floor: Region, first: number, second: number, count: number): ZonePlan[] {
	const splits = [...new Set(PARTS.map((part) => Math.round(part * count)))];
	return splits.flatMap((split) => [
		blocks(floor, first, [second, first], split),
		blocks(floor, first, [first, second], split),
	]);
}

/** Cuts along directions nearer to each other than this are much the same, radians. */
const DISTINCT = 0.1;

/**
 * Ways of cutting a room into `count` zones: bands along each of its wall directions, blocks of bands, and limbs and
 * bands. In order of a guess at their tails, lengths and slivers.
 */
export function zonePlans(options: ZonePlanOptions): ZonePlan[] {
	const { floor, count } = options;
	if (count === 1) return [() => [floor]];
	const directions = wallDirections(ringsOf(floor), 3, DISTINCT);
	const plans: ZonePlan[] = directions.map((direction) => (shares, runs) => bands(floor, direction, shares, runs));
	if (count > 2)
		for (const first of directions)
			for (const second of directions)
				if (first !== second) {
					for (const split of new Set([Math.floor(count / 2), Math.ceil(count / 2), 1, count - 1]))
						plans.push(blocks(floor, first, [second, second], split));
					if (count >= MANY_LOOPS) plans.push(...crossedBlocks(floor, first, second, count));
				}
	for (const limbs of limbPlans(floor, directions, count)) plans.push((shares) => cutByLimbs(floor, limbs, shares));
	const equal = Array.from({ length: count }, () => 1 / count);
	return plans
		.map((plan) => ({ plan, cells: plan(equal) }))
		.filter(({ cells }) => cells !== undefined)
		.map(({ plan, cells }) => ({ plan, cost: guessCost(cells!, options) }))
		.filter(({ cost }) => cost < Infinity)
		.sort((a, b) => a.cost - b.cost)
		.map(({ plan }) => plan);
}
