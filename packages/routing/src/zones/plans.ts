import { inwardCorners, pathLength, type Region, regionArea, ringsOf } from "@oxturn/geometry";
import { closedPath } from "../boxes.ts";
import { wallDirections } from "../field/wallDirections.ts";
import { sum } from "../sum.ts";
import { type WallPlaces, zoneOrders } from "./entries.ts";
import { cutByLimbs, limbPlans } from "./limbs.ts";
import { cutIntoBands } from "./partition.ts";

/** A way of cutting a room: gives the zones whose areas have the given shares, or undefined where it cannot. */
export type ZonePlan = (shares: readonly number[]) => Region[] | undefined;

export interface ZonePlanOptions {
	readonly floor: Region;
	readonly count: number;
	/** From its manifold on. */
	readonly wall: WallPlaces;
	/** Centre to centre, mm. */
	readonly spacing: number;
	/** mm */
	readonly longest: number;
}

/**
 * Shares of the floor that make loops of equal length: zones far from the manifold spend more of theirs on tails and
 * get less floor. A zone never gets less than a third of an equal share.
 */
export function evenShares(plan: ZonePlan, options: ZonePlanOptions): number[] {
	const { floor, count, spacing } = options;
	const equal = Array.from({ length: count }, () => 1 / count);
	const cells = plan(equal);
	const [order] = cells ? zoneOrders(cells, options.wall) : [];
	if (!order) return equal;
	const field = regionArea(floor) / spacing;
	const tails = equal.map((_, cell) => 2 * (order.find((zone) => zone.cell === cell)?.entry.along ?? 0));
	const length = (field + sum(tails)) / count;
	const shares = tails.map((tail) => Math.max((length - tail) / field, 1 / (3 * count)));
	const total = sum(shares);
	return shares.map((share) => share / total);
}

/** First two blocks side by side across `first`, then bands across `second` in each. */
function blocks(floor: Region, first: number, second: number, split: number): ZonePlan {
	return (shares) => {
		const near = shares.slice(0, split);
		const far = shares.slice(split);
		const halves = cutIntoBands(floor, first, [sum(near), sum(far)]);
		if (!halves) return undefined;
		const parts = [near, far].map((group, i) => {
			const total = sum(group);
			return group.length === 1
				? [halves[i]!]
				: cutIntoBands(
						halves[i]!,
						second,
						group.map((share) => share / total),
					);
		});
		return parts.some((part) => !part) ? undefined : (parts as Region[][]).flat();
	};
}

/** Length of all sides, mm. */
const around = (cell: Region): number => sum(ringsOf(cell).map((ring) => pathLength(closedPath(ring))));

/** Perimeter squared over area, 16 for a square: slivers cost most. */
const slenderness = (cells: readonly Region[]): number =>
	Math.max(...cells.map((cell) => around(cell) ** 2 / regionArea(cell)));

/** How wide a rectangle of the same area and perimeter is, mm; a square for what is rounder than that. */
function widthOf(cell: Region): number {
	const half = around(cell) / 2;
	return (half - Math.sqrt(Math.max(0, half * half - 4 * regionArea(cell)))) / 2;
}

/** Cube of the spacing as a share of a zone's width, on average. */
const narrowness = (cells: readonly Region[], spacing: number): number =>
	sum(cells.map((cell) => (spacing / widthOf(cell)) ** 3)) / cells.length;

/** Corners that point into a cell: round them runs are short, and floor is left over. */
const cornersInto = (cells: readonly Region[]): number =>
	cells.flatMap(ringsOf).flatMap((ring) => inwardCorners(ring, INWARD)).length;

/** Weights against one metre of tail. */
const PER_SLENDERNESS = 0.25;
const PER_INWARD_CORNER = 2;
const PER_BORDER_METRE = 0.5;
/** Where few runs lie side by side, one more or less makes them too close or too far apart. */
const PER_NARROWNESS = 20_000;
const OVER_LIMIT = 200;
/** The same where no shares make all loops short enough. */
const OVER_ON_AVERAGE = 2000;
/** Corners flatter than this make no difference, radians. */
const INWARD = 0.3;

/**
 * What a division costs at a guess: its tails, loops over the limit, slivers, narrow zones, and floor left over along
 * borders and in corners. Infinite where a zone has no wall.
 */
function guessCost(cells: readonly Region[], options: ZonePlanOptions): number {
	const [order] = zoneOrders(cells, options.wall);
	if (!order) return Infinity;
	const tails = sum(order.map(({ entry }) => entry.along));
	const pipes = order.map(({ cell, entry }) => (0.97 * regionArea(cells[cell]!)) / options.spacing + 2 * entry.along);
	const excess = (length: number): number => Math.max(0, length / options.longest - 1);
	const borders = (sum(cells.map(around)) - around(options.floor)) / 2;
	return (
		tails / 1000 +
		OVER_LIMIT * excess(Math.max(...pipes)) +
		OVER_ON_AVERAGE * excess(sum(pipes) / pipes.length) +
		PER_SLENDERNESS * slenderness(cells) +
		(PER_BORDER_METRE * borders) / 1000 +
		PER_NARROWNESS * narrowness(cells, options.spacing) +
		PER_INWARD_CORNER * cornersInto(cells)
	);
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
	const plans: ZonePlan[] = directions.map((direction) => (shares) => cutIntoBands(floor, direction, shares));
	if (count > 2)
		for (const first of directions)
			for (const second of directions)
				if (first !== second)
					for (const split of new Set([Math.floor(count / 2), Math.ceil(count / 2), 1, count - 1]))
						plans.push(blocks(floor, first, second, split));
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
