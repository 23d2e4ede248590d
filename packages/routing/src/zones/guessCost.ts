import { inwardCorners, type Region, regionArea, ringsOf } from "@oxturn/geometry";
import { sum } from "../sum.ts";
import { zoneOrders } from "./entries.ts";
import { turnsAcross } from "./turnsAcross.ts";
import type { ZonePlanOptions } from "./zonePlan.ts";
import { arePlain, around, widthOf } from "./zoneShape.ts";

/** Perimeter squared over area, 16 for a square: slivers cost most. */
const slenderness = (cells: readonly Region[]): number =>
	Math.max(...cells.map((cell) => around(cell) ** 2 / regionArea(cell)));

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
/** A quarter turn of a loop, on average, where runs cannot go along their zone. */
const PER_TURN_ACROSS = 1;
/** More zones than this to one side of the manifold: their tails hardly find a way off its ports. */
const CROWD = 9;
const PER_CROWDED = 30;
const OVER_LIMIT = 200;
/** The same where no shares make all loops short enough. */
const OVER_ON_AVERAGE = 2000;
/** Zones whose loops make so many more quarter turns than they need, on average, are no good. */
const MANY_TURNS = 50;
/** A loop takes this share of area / spacing, about; and by short runs and rounded turns this share of that at least. */
const DENSITY = 0.97;
const LEAST = 0.96;
/** Corners flatter than this make no difference, radians. */
const INWARD = 0.3;

/**
 * What a division costs at a guess: its tails, loops over the limit, slivers, narrow zones, and floor left over along
 * borders and in corners. Infinite where a zone has no wall, and for plans that are no good where only good ones are
 * asked for.
 */
export function guessCost(cells: readonly Region[], options: ZonePlanOptions): number {
	const [order] = zoneOrders(cells, options.wall);
	if (!order) return Infinity;
	const tails = sum(order.map(({ entry }) => entry.along));
	const pipes = order.map(
		({ cell, entry }) => (DENSITY * regionArea(cells[cell]!)) / options.spacing + 2 * entry.along,
	);
	const excess = (length: number): number => Math.max(0, length / options.longest - 1);
	const average = sum(pipes) / pipes.length;
	const across = turnsAcross(cells, order, options);
	if (options.onlyGood && arePlain(cells) && (across > MANY_TURNS || LEAST * average > options.longest))
		return Infinity;
	const goingLeft = order.filter(({ entry }) => entry.way === -1).length;
	const crowded = Math.max(0, Math.max(goingLeft, order.length - goingLeft) - CROWD);
	const borders = (sum(cells.map(around)) - around(options.floor)) / 2;
	return (
		tails / 1000 +
		OVER_LIMIT * excess(Math.max(...pipes)) +
		OVER_ON_AVERAGE * excess(average) +
		PER_SLENDERNESS * slenderness(cells) +
		(PER_BORDER_METRE * borders) / 1000 +
		PER_NARROWNESS * narrowness(cells, options.spacing) +
		PER_INWARD_CORNER * cornersInto(cells) +
		PER_TURN_ACROSS * across +
		PER_CROWDED * crowded
	);
}
