import { intersect, offset, type Path, type Region } from "@oxturn/geometry";
import { type ClearanceRules, clearOfPipes, staysOnFloor } from "../tails/clearance.ts";
import { alongEdge } from "../tails/edges.ts";
import { beyond, type Lane, OUTSIDE, type Side, stripBeside } from "../tails/lanes.ts";
import { trackOf } from "../tails/tracks.ts";
import { deepFan } from "./deepFan.ts";
import { type Families, type Family, familiesOf } from "./families.ts";
import { exitsAlongWalls } from "./familyExits.ts";
import { exitsBeyondCuts } from "./followCut.ts";
import { waysAlong } from "./followWall.ts";
import { type FollowedFloor, frameOf, type Laying, type LayTurnsOptions } from "./laying.ts";
import { offSideWalls } from "./offSideWalls.ts";
import { type OwnPlace, ownPlace } from "./ownPlaces.ts";
import { type ShortCut, withoutCutOff } from "./shortCuts.ts";
import { spread, spreadOf } from "./spread.ts";
import { sideOf, type Turns } from "./turns.ts";

/** The pipes to the doors of one room, as far as they fit. */
export interface LaidTurns {
	readonly turns: Turns;
	/** By door: one path a pipe, undefined where it does not fit. */
	readonly paths: readonly (readonly (Path | undefined)[])[];
	readonly exits: readonly (readonly Lane[])[];
	/** By door: which of the pipes that come in is its first. */
	readonly starts: readonly number[];
	readonly failed: number;
	readonly own: readonly OwnPlace[];
}

/** The pipe that follows its lane and then turns once, or not at all, to the exit's. */
function direct(space: Region, lane: Lane, exit: Lane, side: Side | undefined, minBendRadius: number): Path[] {
	const keep = side ?? "left";
	const far = beyond(space);
	const strip = stripBeside(lane, keep, OUTSIDE, far, side ? far : 4 * minBendRadius);
	const region = side ? intersect([strip], [stripBeside(exit, side, far, OUTSIDE, far)]) : [strip];
	const path = alongEdge(region, lane.at, exit.at, keep === "left" ? 1 : -1, minBendRadius);
	return path ? [path] : [];
}

/** How the pipes of a room come in, by which lanes they go on, and how they leave. */
function startLaying(options: LayTurnsOptions): Laying {
	const { doors, turns } = options;
	const frame = frameOf(options);
	const families = familiesOf(turns, doors, options.own);
	const exits = exitsAlongWalls(options, families.all, frame);
	const spreading = spread(options, families, frame);
	for (const [door, lanes] of spreading.exits) exits[door] = lanes;
	const [firstSpread] = spreadOf(families);
	const { fansAside } = options.manner;
	const offWalls = fansAside ? offSideWalls(options, families, frame) : undefined;
	const deep = fansAside && options.mayFanDeep ? deepFan(options, families, frame) : undefined;
	const { region } = options.space;
	const shrunk = (floor: Region): Region[] => offset([floor], -(frame.nearest - frame.closer));
	const laying: Laying = {
		options,
		frame,
		families,
		exits,
		rim: trackOf(region.outer),
		laneOf: (index) =>
			spreading.lanes[index - firstSpread] ?? offWalls?.get(index) ?? deep?.get(index) ?? options.lanes[index]!,
		inside: shrunk(region),
		rests: restsOf(families, (shortCut) => {
			const rest = withoutCutOff(region, shortCut);
			return { region: rest, rim: trackOf(rest.outer), inside: shrunk(rest) };
		}),
	};
	for (const [door, lanes] of exitsBeyondCuts(laying)) exits[door] = lanes;
	return laying;
}

/** Lays the pipes of every door of a room, one after the other, each clear of those before. */
export function layTurns(options: LayTurnsOptions): LaidTurns {
	const { doors, rules, system, turns, space } = options;
	const laying = startLaying(options);
	const { frame, families, exits } = laying;
	const laid: Path[] = [];
	const paths: (Path | undefined)[][] = doors.map(() => []);
	const starts = doors.map(() => 0);
	let failed = 0;
	const lay = (ways: Iterable<Path>): Path | undefined => {
		const path = firstClear(ways, laid, rules);
		if (path) laid.push(path);
		else failed++;
		return path;
	};
	const layFamily = (family: Family): void => {
		let index = family.from;
		for (const door of family.doors) {
			const { passage } = doors[door]!;
			const side = sideOf(passage, frame.entry, frame.axis);
			starts[door] = index;
			for (const exit of exits[door]!) {
				if (failed > options.mostFailed) return;
				const ways = family.crossing
					? waysAlong(laying, { family, index, exit, reachOut: passage.halfDepth })
					: direct(space.region, laying.laneOf(index), exit, side, system.pipe.minBendRadius);
				paths[door]!.push(lay(ways));
				index++;
			}
		}
	};
	for (const family of families.all) layFamily(family);
	const own = failed > options.mostFailed ? [] : families.own.map((each) => ownPlace(laying, each, lay));
	return { turns, paths, exits, starts, failed, own };
}

/** What each of the short cuts that families take leaves of the room. */
function restsOf({ all }: Families, restOf: (shortCut: ShortCut) => FollowedFloor): Map<ShortCut, FollowedFloor> {
	const shortCuts = new Set(all.flatMap(({ shortCut }) => shortCut ?? []));
	return new Map([...shortCuts].map((shortCut) => [shortCut, restOf(shortCut)]));
}

function firstClear(ways: Iterable<Path>, laid: readonly Path[], rules: ClearanceRules): Path | undefined {
	for (const path of ways) if (staysOnFloor(path, rules) && clearOfPipes(path, laid, rules)) return path;
	return undefined;
}
