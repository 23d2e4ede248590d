import { type Region, type Ring, rotate } from "@oxturn/geometry";
import { placeLanes } from "./lanePlacement.ts";
import { laneTree, type Spine } from "./laneTree.ts";
import { CLOSEST_RUNS, returnSpacing } from "./returnSpacing.ts";
import { type RoundOutlineOptions, roundOutline } from "./roundOutline.ts";
import { scanOf } from "./scan.ts";
import { type Strip, stripsBetween } from "./strips.ts";

export interface SerpentineOptions {
	/** Where the pipe's centreline may lie. */
	readonly floor: readonly Region[];
	/** Centre to centre, mm. */
	readonly spacing: number;
	readonly minBendRadius: number;
	/** No two stretches of pipe come nearer than this, mm. */
	readonly apart: number;
	/** Direction of the runs, radians from +x. */
	readonly direction: number;
	/** How far a pipe may swell out of `floor` at its rim, mm. */
	readonly rim: number;
}

/** What flattening may take of the distance between two runs, mm. */
const ROUNDED = 0.1;

/** A field's closed outline; the loop opens it where its tails arrive. */
export interface Field {
	/** Rounded. */
	readonly ring: Ring;
	/** Before it was rounded, and how. */
	readonly outline: Ring;
	readonly rounding: RoundOutlineOptions;
	/** Share of the lanes that the pipe reaches. */
	readonly reached: number;
}

/** Turns rings about the origin; most runs lie along x, and need no turning. */
function turnBy(angle: number): (ring: Ring) => Ring {
	if (angle === 0) return (ring) => ring;
	const cos = Math.cos(angle);
	const sin = Math.sin(angle);
	return (ring) => ring.map((p) => rotate(p, cos, sin));
}

const turned = (region: Region, turn: (ring: Ring) => Ring): Region => ({
	outer: turn(region.outer),
	holes: region.holes.map(turn),
});

/** A way of joining lanes that have been placed; undefined when no lane fits. */
export type Serpentine = (spine: Spine) => Field | undefined;

/** Parallel runs along `direction`, every second gap closed at one end: placed once, to be joined in several ways. */
export function serpentine(options: SerpentineOptions): Serpentine {
	const { spacing, minBendRadius, direction } = options;
	const turn = turnBy(-direction);
	const turnBack = turnBy(direction);
	const scan = scanOf(options.floor.map((region) => turned(region, turn)));
	const closest = Math.max(CLOSEST_RUNS * spacing, returnSpacing(options) + ROUNDED);
	const minGap = Math.min(2 * minBendRadius, spacing, closest);
	// Returns that are tighter than the pipe swell sideways; the outermost runs give way to them.
	const swells = Math.max(0, minBendRadius - spacing / 2);
	const lines = placeLanes(scan, { spacing, minGap, margin: Math.max(0, swells - options.rim) });
	const lanes: Strip[][] = [];
	const gaps: Strip[][] = [];
	for (let k = 0; k + 1 < lines.length; k++)
		(k % 2 === 0 ? lanes : gaps).push(
			stripsBetween(scan, lines[k]!, lines[k + 1]!, k % 2 === 0 ? spacing : spacing * 0.75),
		);
	const minRun = Math.max(spacing, 2 * minBendRadius);
	const rounding = { minRadius: minBendRadius, radius: Math.max(minBendRadius, spacing / 2) };
	return (spine) => {
		const tree = laneTree(lanes, gaps, { spacing, minRun, spine });
		const ring = tree && roundOutline(tree.outline, rounding);
		return ring && { ring: turnBack(ring), outline: turnBack(tree.outline), rounding, reached: tree.reached };
	};
}
