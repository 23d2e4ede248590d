import {
	boundingBox,
	intersect,
	type Point,
	type Region,
	type Ring,
	regionArea,
	ringsOf,
	rotate,
} from "@oxturn/geometry";
import { rectangle } from "../field/shapes.ts";
import { sum } from "../sum.ts";
import { adoptScraps, areaBelow, heightOfShare } from "./partition.ts";

/*
 * Bands with a border that steps. A loop goes to and fro along its band, so its runs are even in number: where they are
 * long, a straight border makes lengths jump by two of them. A border that steps by two runs part of the way along gives
 * one loop a part of those, and the other the rest:
 *
 *   +--------------------------+
 *   | one zone                 |
 *   |                  +-------+
 *   +------------------+       |
 *   | the next                 |
 *   +--------------------------+
 */

/** How runs lie side by side in bands along a direction. */
export interface RunsAlong {
	/** Centre to centre, mm. */
	readonly spacing: number;
	/** The same where loops are to keep within their limit with ease, mm. */
	readonly easy: number;
	/** The same for the last run of a zone and the first of the next, mm. */
	readonly betweenZones: number;
	/** From walls, mm. */
	readonly edge: number;
	/** No two runs of a zone lie nearer to each other, mm. */
	readonly closest: number;
	/** Where the tails come from: borders step at the end that is farther off. */
	readonly manifold: Point;
}

/** Runs may lie so much farther apart than wanted. */
const WIDEST = 1.08;
/** Being closer than wanted counts so many times as much as being farther apart. */
const CLOSER = 4;
/** A zone may have so much more or less floor than its share, as a part of an equal one, for the sake of a straight border. */
const SLACK = 0.025;
/** Where a zone has more runs than this, two of them more or less make its loop hardly longer or shorter. */
const MANY_RUNS = 24;
/** Steps are no shorter than this, in spacings. */
const SHORTEST_STEP = 4;
/** Weight of floor that is off its share against a step. */
const OFF_SHARE = 0.5;
const TOO_FAR_OFF = 100;
/** Walls are along a direction, or across it, to within this sine. */
const SQUARE = 0.002;
/** Share of a floor's width that walls bound at either end, at least. */
const LEAST_END = 0.5;
/** A rectangle fills its bounding box to this share at least. */
const FULL = 0.999;
/** Fewer zones are cut straight: two are made even by the one border that they have. */
const FEWEST_ZONES = 3;
/** The same in floors that are no rectangle, where runs end at walls in between or at some that slant. */
const FEWEST_BESIDE_CORNERS = 4;
/** Borders reach so far out of the floor, mm. */
const BEYOND = 1000;

/** How many runs lie below a border at its left and at its right end, and the part of its length that is at its far end. */
interface Border {
	readonly left: number;
	readonly right: number;
	/** 0 for a straight one. */
	readonly part: number;
	/** Area below it, mm2. */
	readonly below: number;
}

interface Chain {
	readonly cost: number;
	readonly borders: readonly Border[];
}

/** Where a border may lie. */
interface Place {
	/** Area that is wanted below it, mm2. */
	readonly wanted: number;
	readonly borders: readonly Border[];
}

/** Fewest steps for zones that have their area, a little more or a little less. */
function bestBorders(places: readonly Place[], whole: number): readonly Border[] | undefined {
	const slack = (SLACK * whole) / (places.length - 1);
	let chains: readonly Chain[] = places[0]!.borders.map((border) => ({ cost: 0, borders: [border] }));
	for (const [k, { wanted, borders: options }] of places.entries()) {
		if (k === 0) continue;
		const share = wanted - places[k - 1]!.wanted;
		chains = options.flatMap((border) => {
			const next = chains.flatMap(({ cost, borders }): Chain[] => {
				const before = borders.at(-1)!;
				if (Math.min(border.left - before.left, border.right - before.right) < 2) return [];
				const off = border.below - before.below - share;
				const over = Math.max(0, Math.abs(off) - slack);
				const own = (border.part > 0 ? 1 : 0) + OFF_SHARE * (off / slack) ** 2 + TOO_FAR_OFF * (over / slack);
				return [{ cost: cost + own, borders: [...borders, border] }];
			});
			return next.sort((a, b) => a.cost - b.cost).slice(0, 1);
		});
	}
	return chains[0]?.borders.slice(1, -1);
}

/** How little a spacing is liked, as a share of the one wanted: a little wider is better than closer. */
const offWanted = (share: number): number => (share < 1 ? CLOSER * (1 - share) : share - 1);

/** The even number of runs that come nearest to their spacing; undefined where none does. */
function totalRuns(inside: number, zones: number, runs: RunsAlong): number | undefined {
	const spacingOf = (total: number): number => inside / (total - zones);
	const most = 2 * Math.ceil((inside / runs.spacing + zones) / 2);
	const even = Array.from({ length: Math.ceil(((1 - 1 / WIDEST) * most) / 2) + 1 }, (_, i) => most - 2 * i);
	const best = Math.min(Math.max(runs.spacing, runs.easy), WIDEST * runs.spacing);
	return even
		.filter((total) => {
			const spacing = spacingOf(total);
			return total >= 2 * zones && spacing >= runs.closest && spacing <= WIDEST * runs.spacing;
		})
		.sort((a, b) => offWanted(spacingOf(a) / best) - offWanted(spacingOf(b) / best))[0];
}

/** Whether all walls lie along x or across. */
const isSquare = ({ outer }: Region): boolean =>
	outer.every((p, i) => {
		const [x, y] = outer[(i + 1) % outer.length]!;
		const [along, across] = [Math.abs(x - p[0]), Math.abs(y - p[1])];
		return Math.min(along, across) <= SQUARE * Math.max(along, across);
	});

/** Whether walls along x bound most of a floor's width at either end: between them runs lie side by side, whatever ends them. */
function liesBetweenWalls({ outer }: Region, [minX, minY, maxX, maxY]: readonly number[]): boolean {
	const lengthAt = (end: number): number =>
		sum(
			outer.map((p, i) => {
				const q = outer[(i + 1) % outer.length]!;
				const length = Math.abs(q[0] - p[0]);
				return [p, q].every(([, y]) => Math.abs(y - end) <= SQUARE * length) ? length : 0;
			}),
		);
	return [minY!, maxY!].every((end) => lengthAt(end) >= LEAST_END * (maxX! - minX!));
}

/** A floor turned so that its bands lie along x, with the heights at which their borders may lie. */
interface Lattice {
	readonly region: Region;
	readonly box: ReturnType<typeof boundingBox>;
	readonly rings: readonly Ring[];
	readonly whole: number;
	/** Of all runs. */
	readonly total: number;
	/** Height of the k-th border where so many runs lie below it. */
	readonly heightAt: (k: number, below: number) => number;
	/** Centre to centre within a zone, mm. */
	readonly spacing: number;
	/** Whether the manifold hangs in the left half. */
	readonly isFarRight: boolean;
}

/** Undefined where bands of runs fit a floor by chance only, or need no steps. */
function latticeOf(region: Region, manifold: Point, zones: number, runs: RunsAlong): Lattice | undefined {
	const box = boundingBox(region.outer);
	const [minX, minY, maxX, maxY] = box;
	const height = maxY - minY;
	const whole = regionArea(region);
	const isRectangle = whole > FULL * height * (maxX - minX);
	if (zones < FEWEST_ZONES || (!isRectangle && zones < FEWEST_BESIDE_CORNERS)) return undefined;
	if (whole * zones < height ** 2 || !(isSquare(region) || liesBetweenWalls(region, box))) return undefined;
	const inside = height - 2 * runs.edge - (zones - 1) * runs.betweenZones;
	const total = totalRuns(inside, zones, runs);
	if (!total || total > MANY_RUNS * zones) return undefined;
	const spacing = inside / (total - zones);
	return {
		region,
		box,
		rings: ringsOf(region),
		whole,
		total,
		heightAt: (k, below) => minY + runs.edge + (below - k) * spacing + (k - 0.5) * runs.betweenZones,
		spacing,
		isFarRight: manifold[0] < (minX + maxX) / 2,
	};
}

/** Where the k-th border may lie for an area below it: straight on either side of that, or with a step if that is long. */
function placeOf(lattice: Lattice, k: number, wanted: number, shortest: number): Place {
	const { rings, total, heightAt, spacing, isFarRight } = lattice;
	const straight = (count: number): Border => ({
		left: count,
		right: count,
		part: 0,
		below: areaBelow(rings, heightAt(k, count)),
	});
	let low = straight(0);
	let high = straight(2);
	while (high.below < wanted && high.left < total) [low, high] = [high, straight(high.left + 2)];
	const part = (wanted - low.below) / (high.below - low.below);
	const [near, far] = part < 0.5 ? [low, high] : [high, low];
	const stepped: Border = {
		left: isFarRight ? near.left : far.left,
		right: isFarRight ? far.left : near.left,
		part: Math.min(part, 1 - part),
		below: wanted,
	};
	const length = (high.below - low.below) / (2 * spacing);
	return { wanted, borders: stepped.part * length >= shortest ? [low, high, stepped] : [low, high] };
}

/** Where a border steps: so that its part of the floor between both heights is at the far end. */
function stepOf({ region, box, heightAt, isFarRight }: Lattice, border: Border, k: number): number {
	const [minX, , maxX] = box;
	const [low, high] = [heightAt(k, border.left), heightAt(k, border.right)].sort((a, b) => a - b);
	const strip = intersect([region], [rectangle(minX, maxX, low!, high!)]);
	// Turned by a quarter, so that what lies to the left lies below.
	const turned = strip.flatMap(ringsOf).map((ring) => ring.map(([x, y]): Point => [-y, x]));
	return heightOfShare(turned, isFarRight ? 1 - border.part : border.part);
}

/** The k-th border, from left to right and a little beyond the floor. */
function lineOf(lattice: Lattice, border: Border, k: number): Point[] {
	const [minX, , maxX] = lattice.box;
	const [left, right] = [lattice.heightAt(k, border.left), lattice.heightAt(k, border.right)];
	const start: Point = [minX - BEYOND, left];
	const end: Point = [maxX + BEYOND, right];
	if (border.part === 0) return [start, end];
	const x = stepOf(lattice, border, k);
	return [start, [x, left], [x, right], end];
}

/**
 * Cuts a floor into bands that hold an even number of runs each, with the given shares of its area: borders step where
 * that takes it. Its walls lie along a direction and across it, or walls along the direction bound it at either end.
 * Undefined for any other floor, where bands are shorter than wide or hold many runs, and where runs would lie farther
 * apart or closer together than they may.
 */
export function steppedBands(
	floor: Region,
	direction: number,
	shares: readonly number[],
	runs: RunsAlong,
): Region[] | undefined {
	const into = (p: Point): Point => rotate(p, Math.cos(-direction), Math.sin(-direction));
	const region: Region = { outer: floor.outer.map(into), holes: floor.holes.map((hole) => hole.map(into)) };
	const lattice = latticeOf(region, into(runs.manifold), shares.length, runs);
	if (!lattice) return undefined;
	const { box, total, whole } = lattice;
	const end = (count: number, below: number): Place => ({
		wanted: below,
		borders: [{ left: count, right: count, part: 0, below }],
	});
	const cuts = shares
		.slice(0, -1)
		.map((_, i) => placeOf(lattice, i + 1, whole * sum(shares.slice(0, i + 1)), SHORTEST_STEP * runs.spacing));
	const borders = bestBorders([end(0, 0), ...cuts, end(total, whole)], whole);
	if (!borders) return undefined;
	const [minX, minY, maxX, maxY] = box;
	const rim = (y: number): Point[] => [
		[minX - BEYOND, y],
		[maxX + BEYOND, y],
	];
	const lines = [rim(minY - BEYOND), ...borders.map((border, i) => lineOf(lattice, border, i + 1)), rim(maxY + BEYOND)];
	const back = (p: Point): Point => rotate(p, Math.cos(direction), Math.sin(direction));
	return adoptScraps(
		shares.map((_, i) =>
			intersect([floor], [{ outer: [...lines[i]!, ...lines[i + 1]!.toReversed()].map(back), holes: [] }]),
		),
	);
}
