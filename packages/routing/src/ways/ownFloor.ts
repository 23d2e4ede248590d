import type { System } from "@oxturn/floor";
import {
	add,
	difference,
	direction,
	distance,
	type Path,
	type Point,
	type Region,
	regionArea,
	scale,
	thicken,
} from "@oxturn/geometry";
import { mapFloor, shortfall } from "../field/coverage.ts";
import type { ClearanceRules } from "../tails/clearance.ts";
import { beside } from "../tails/lanes.ts";
import { awayFrom, type Space } from "./spaces.ts";

/** Cells of the map on which cold floor is measured, per spacing. */
const MAP_DETAIL = 4;
/** A slot opens on to the floor this far in front of it, mm. */
const IN_FRONT = 120;
const SLACK = 1.5;
const BEHIND = 120;
/** Tails are followed in steps of this length, mm. */
const LOOK = 100;
/** Pipes come closer only this far inside the apron, mm. */
const WITHIN = 120;

/** The stretches of paths that lie near a place, or those that do not. */
function split(paths: readonly Path[], at: Point, reach: number): { near: Path[]; far: Path[] } {
	const near: Path[] = [];
	const far: Path[] = [];
	for (const path of paths) {
		let run: Point[] = [path[0]!];
		for (let i = 1; i < path.length; i++) {
			const isNear = (k: number): boolean => Math.max(distance(path[k - 1]!, at), distance(path[k]!, at)) < reach;
			run.push(path[i]!);
			if (i === path.length - 1 || isNear(i) !== isNear(i + 1)) {
				(isNear(i) ? near : far).push(run);
				run = [path[i]!];
			}
		}
	}
	return { near, far };
}

/** Ports stand a little off the wall; no pipe passes behind them. */
function fromWall(path: Path): Path {
	const back = direction(path[1]!, path[0]!);
	return [add(path[0]!, scale(back, BEHIND)), ...path];
}

/** What is left of a space when the tails that pass have had theirs: a pipe may run along its edge. */
export function floorBetween(space: Space, passing: readonly Path[], rules: ClearanceRules, system: System): Region[] {
	if (passing.length === 0) return [space.region];
	const half = system.pipe.outerDiameter / 2;
	const { near, far } = split(passing.map(fromWall), rules.manifold, rules.apronReach - WITHIN);
	const taken = [
		...thicken(near, rules.apartAtManifold - half - SLACK / 2, { join: "round", arcTolerance: SLACK / 3 }),
		...thicken(far, rules.apart - half + SLACK, { join: "round", arcTolerance: SLACK / 3 }),
	];
	return difference([space.region], taken);
}

/** The piece of floor at a place, or nearest to it. */
export const pieceAt = (pieces: readonly Region[], place: Point): Region | undefined =>
	[...pieces].sort((a, b) => awayFrom(a, place) - awayFrom(b, place))[0];

/** The piece of floor that a slot opens on to. */
export const floorAt = (pieces: readonly Region[], at: Point, axis: Point): Region | undefined =>
	pieceAt(pieces, beside(at, axis, IN_FRONT, 0));

/**
 * The piece of floor between two tails that pass, wherever on their way they part: the largest that comes to both.
 * Undefined when they lie side by side to the end.
 */
export function floorAlong(pieces: readonly Region[], tails: readonly Path[], reach: number): Region | undefined {
	const places = tails.map((path) => stepsAlong(path, LOOK));
	return [...pieces]
		.sort((a, b) => regionArea(b) - regionArea(a))
		.find((piece) => places.every((points) => points.some((p) => awayFrom(piece, p) < reach)));
}

/** Points of a path no farther apart than `step` mm. */
const stepsAlong = (path: Path, step: number): Point[] =>
	path.slice(1).flatMap((b, i) => {
		const a = path[i]!;
		const count = Math.ceil(distance(a, b) / step);
		return Array.from({ length: count }, (_, k) => add(a, scale([b[0] - a[0], b[1] - a[1]], k / count)));
	});

/** Where tails leave no more of a room cold than this share, they heat it without a loop of its own. */
export const WARM_ENOUGH = 0.08;

/** Floor farther than one spacing from any of the pipes, mm2. */
export function coldArea(regions: readonly Region[], pipes: readonly Path[], spacing: number): number {
	const map = mapFloor(regions, spacing / MAP_DETAIL);
	const area = regions.reduce((sum, region) => sum + regionArea(region), 0);
	return area * (pipes.length > 0 ? shortfall(map, pipes, spacing).beyond100 : 1);
}
