import { difference, type Point, type Region, type Ring, regionArea, union } from "@oxturn/geometry";
import type { Draw } from "./draw.ts";
import { rectangle, solid } from "./shapes.ts";

/*
 * The floor of a dwelling, cut up along the middles of its walls: a hall, and rooms on every side of it.
 *
 *   strip            dead end          corner            block            one side
 *   +----+---+---+   +----+---+---+    +----+---+---+    +-----+------+   +---+----+---+
 *   |    |   |   |   |    |   |   |    |    |   |   |    |     |      |   |   |    |   |
 *   +----+---+---+   +----+---+   |    +----+---+   |    +---+-+--+---+   |   |    |   |
 *   |    hall    |   |  hall  |   |    |  hall  |   |    |   | h  |   |   +---+----+---+
 *   +------+-----+   +------+-+   |    +----+   |   |    |   | a  |   |   |    hall    |
 *   |      |     |   |      | |   |    |    |   |   |    |   | ll |   |   +------------+
 *   +------+-----+   +------+-+---+    +----+---+---+    +---+----+---+
 */

/** x0, y0, x1, y1 in mm. */
type Block = readonly [number, number, number, number];

export interface Blocks {
	readonly hall: Region;
	readonly rooms: readonly Region[];
	/** Rooms cut out of the corner of another, by their place in `rooms`. */
	readonly carved: ReadonlySet<number>;
}

const NARROWEST = 1600;
/** Rooms beside a hall are at least this deep, mm. */
const BAND = 2500;

const areaOf = ([x0, y0, x1, y1]: Block): number => (x1 - x0) * (y1 - y0);
const ringOf = ([x0, y0, x1, y1]: Block): Ring => rectangle(x0, y0, x1, y1);
const round = (value: number): number => Math.round(value / 10) * 10;

/** Cuts a block across its longer side until its parts are about as large as wanted, mm2. */
function split(block: Block, draw: Draw): Block[] {
	const [x0, y0, x1, y1] = block;
	const [width, depth] = [x1 - x0, y1 - y0];
	const longer = Math.max(width, depth);
	const wanted = draw.whole(7, 26) * 1e6;
	const isSlim = longer > 2.6 * Math.min(width, depth);
	if (longer < 2 * NARROWEST || areaOf(block) < 9e6 || (areaOf(block) < wanted && !isSlim)) return [block];
	const at = round(Math.max(NARROWEST, Math.min(longer - NARROWEST, longer * (0.34 + 0.32 * draw.share()))));
	const parts: Block[] =
		width >= depth
			? [
					[x0, y0, x0 + at, y1],
					[x0 + at, y0, x1, y1],
				]
			: [
					[x0, y0, x1, y0 + at],
					[x0, y0 + at, x1, y1],
				];
	return parts.flatMap((part) => split(part, draw));
}

interface Cut {
	readonly hall: readonly Block[];
	readonly rest: readonly Block[];
}

function cutHall(width: number, depth: number, draw: Draw): Cut {
	const across = draw.whole(1300, 2100, 50);
	const kind = draw.pick(["strip", "strip", "dead end", "corner", "block", "one side"] as const);
	const isDeep = depth >= 2 * BAND + across;
	if (kind === "block") {
		const hallWidth = Math.min(draw.whole(2400, 4200, 50), width - 2 * BAND);
		const hallDepth = Math.min(draw.whole(2800, 5000, 50), depth - BAND);
		if (hallWidth >= 2200 && hallDepth >= 2500) {
			const left = round(BAND + draw.share() * (width - 2 * BAND - hallWidth));
			return {
				hall: [[left, 0, left + hallWidth, hallDepth]],
				rest: [
					[0, 0, left, hallDepth],
					[left + hallWidth, 0, width, hallDepth],
					[0, hallDepth, width, depth],
				],
			};
		}
	}
	if (!isDeep || kind === "one side") return { hall: [[0, 0, width, across]], rest: [[0, across, width, depth]] };
	const low = round(BAND + draw.share() * (depth - 2 * BAND - across));
	const high = low + across;
	if (kind === "strip" || width < 3 * BAND)
		return {
			hall: [[0, low, width, high]],
			rest: [
				[0, 0, width, low],
				[0, high, width, depth],
			],
		};
	const end = round(width - BAND - draw.share() * (width / 2 - BAND));
	if (kind === "corner" && end - across >= BAND)
		return {
			hall: [
				[0, low, end, high],
				[end - across, 0, end, low],
			],
			rest: [
				[0, 0, end - across, low],
				[0, high, end, depth],
				[end, 0, width, depth],
			],
		};
	return {
		hall: [[0, low, end, high]],
		rest: [
			[0, 0, end, low],
			[0, high, end, depth],
			[end, 0, width, depth],
		],
	};
}

/** A wing above the main part makes an L or a T; a leg of the hall may lead up to it. */
function addWing(cut: Cut, width: number, depth: number, wing: Block, draw: Draw): Cut {
	const [x0, , x1] = wing;
	const above = cut.rest.find(([ax, , bx, by]) => by === depth && ax <= x0 && bx >= x0 + NARROWEST);
	if (!above || draw.chance(0.4)) return { hall: cut.hall, rest: [...cut.rest, wing] };
	const across = draw.whole(1300, 1700, 50);
	const [ax, ay, bx, by] = above;
	const touchesHall = cut.hall.some(([hx0, , hx1, hy1]) => hy1 === ay && hx0 <= ax && hx1 >= Math.min(bx, width));
	const left = Math.max(ax, round(x0 + draw.share() * (Math.min(x1, bx) - x0 - across)));
	const sides: Block[] = [
		[ax, ay, left, by],
		[left + across, ay, bx, by],
	];
	const isRoomy = sides.every(([sx0, , sx1]) => sx1 - sx0 >= NARROWEST);
	if (!touchesHall || !isRoomy) return { hall: cut.hall, rest: [...cut.rest, wing] };
	return {
		hall: [...cut.hall, [left, ay, left + across, by]],
		rest: [...cut.rest.filter((block) => block !== above), ...sides, wing],
	};
}

/** A bath or a dressing room in the corner of a large room, which keeps an L. */
function carve(block: Block, draw: Draw): [Region, Region] | undefined {
	const [x0, y0, x1, y1] = block;
	if (areaOf(block) < 15e6 || Math.min(x1 - x0, y1 - y0) < 3400) return undefined;
	const [width, depth] = [draw.whole(1600, 2300, 50), draw.whole(1700, 2400, 50)];
	const [cx, cy] = draw.pick<Point>([
		[x0, y0],
		[x1 - width, y0],
		[x0, y1 - depth],
		[x1 - width, y1 - depth],
	]);
	const corner = rectangle(cx, cy, cx + width, cy + depth);
	const [rest] = difference([solid(ringOf(block))], [solid(corner)]);
	return rest && [rest, solid(corner)];
}

/** A footprint of 50 to 220 m2 with its hall and rooms. */
export function drawBlocks(draw: Draw): Blocks {
	const area = draw.whole(50, draw.chance(0.3) ? 220 : 140) * 1e6;
	const shape = draw.pick(["rectangle", "rectangle", "rectangle", "L", "T"] as const);
	const isWinged = shape !== "rectangle" && area > 80e6;
	const main = isWinged ? area * (0.62 + 0.2 * draw.share()) : area;
	const ratio = 1 + 0.9 * draw.share();
	const width = round(Math.sqrt(main * ratio));
	const depth = round(main / width);
	let cut = cutHall(width, depth, draw);
	if (isWinged) {
		const wingWidth = round(Math.max(3200, width * (0.35 + 0.25 * draw.share())));
		const x0 = shape === "L" ? 0 : round((width - wingWidth) / 2);
		cut = addWing(cut, width, depth, [x0, depth, x0 + wingWidth, depth + round((area - main) / wingWidth)], draw);
	}
	const [hall] = union(cut.hall.map((block) => solid(ringOf(block))));
	const rooms: Region[] = [];
	const carved = new Set<number>();
	for (const block of cut.rest.flatMap((each) => split(each, draw))) {
		const parts = draw.chance(0.3) ? carve(block, draw) : undefined;
		if (parts) carved.add(rooms.length + 1);
		rooms.push(...(parts ?? [solid(ringOf(block))]));
	}
	return { hall: hall!, rooms: rooms.filter((room) => regionArea(room) > 0), carved };
}
