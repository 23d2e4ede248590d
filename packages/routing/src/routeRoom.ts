import type { Manifold, Room, System } from "@oxturn/floor";
import {
	boundingBox,
	difference,
	distance,
	intersect,
	nearestOnRing,
	offset,
	type Path,
	pathLength,
	type Point,
	type Region,
	regionArea,
	regionContains,
	ringsOf,
	thicken,
} from "@oxturn/geometry";
import { type Candidate, fillField, wallDirections } from "./field/fillField.ts";
import { portPairs } from "./tails/apron.ts";
import { type ClearanceRules } from "./tails/clearance.ts";
import { joinLoop, type TailEnd } from "./tails/joinLoop.ts";
import { layTail } from "./tails/layTail.ts";
import { tracksAlong, type Way } from "./tails/tracks.ts";
import { cutIntoBands } from "./zones/partition.ts";

export interface RouteRoomOptions {
	readonly room: Room;
	/** Room less keep-outs: the piece that the manifold stands at. */
	readonly floor: Region;
	readonly manifold: Manifold;
	readonly system: System;
	readonly pattern: "serpentine" | "spiral" | "auto";
}

export interface RoutedLoop {
	readonly port: number;
	/** From flow port to return port. */
	readonly path: Path;
	readonly pattern: "serpentine" | "spiral";
	readonly spacing: number;
}

export interface RoutedRoom {
	readonly loops: readonly RoutedLoop[];
	readonly cost: number;
}

interface Setting extends RouteRoomOptions {
	readonly rules: ClearanceRules;
	readonly field: readonly Region[];
}

function rulesFor(options: RouteRoomOptions): ClearanceRules {
	const { floor, manifold, system } = options;
	const { outerDiameter, minBendRadius } = system.pipe;
	return {
		manifold: manifold.position,
		apart: Math.max(system.tailSpacing, outerDiameter + 2) * 0.985,
		apartAtManifold: outerDiameter + 2,
		apronReach: 780,
		minBendRadius,
		allowed: offset([floor], -(outerDiameter / 2 + 0.5)),
		allowedAtPorts: offset([floor], 1),
		portReach: 560,
	};
}

/** Where a zone first comes to the wall, going one way from the manifold. */
interface Entry {
	readonly way: Way;
	readonly along: number;
	readonly point: Point;
}

const SAMPLE = 40;

/** Nearest entries of every zone along the outer wall, in either direction. */
function entriesOf(floor: Region, cells: readonly Region[], manifold: Point): (Entry | undefined)[][] {
	const ring = floor.outer;
	const foot = nearestOnRing(ring, manifold);
	const lengths = ring.map((p, i) => distance(p, ring[(i + 1) % ring.length]!));
	const total = lengths.reduce((a, b) => a + b, 0);
	const start = lengths.slice(0, foot.index).reduce((a, b) => a + b, 0) + foot.t * lengths[foot.index]!;
	const at = (position: number): Point => {
		let rest = ((position % total) + total) % total;
		let i = 0;
		while (rest > lengths[i]! && i < ring.length - 1) rest -= lengths[i++]!;
		const a = ring[i]!;
		const b = ring[(i + 1) % ring.length]!;
		const t = lengths[i]! > 0 ? rest / lengths[i]! : 0;
		const inward: Point = [-(b[1] - a[1]) / (lengths[i]! || 1), (b[0] - a[0]) / (lengths[i]! || 1)];
		return [a[0] + (b[0] - a[0]) * t + inward[0] * 4, a[1] + (b[1] - a[1]) * t + inward[1] * 4];
	};
	const entry = (cell: Region, way: Way): Entry | undefined => {
		let run = 0;
		for (let along = 0; along < total; along += SAMPLE) {
			run = regionContains(cell, at(start + way * along)) ? run + 1 : 0;
			if (run * SAMPLE >= 240) {
				const first = Math.max(0, along - (run - 1) * SAMPLE);
				return { way, along: first, point: at(start + way * first) };
			}
		}
		return undefined;
	};
	return cells.map((cell) => [entry(cell, 1), entry(cell, -1)]);
}

interface Assignment {
	readonly cell: number;
	readonly entry: Entry;
}

/** Zones in the order of their ports, from the leftmost as the pipes leave the wall to the rightmost. */
function orderZones(entries: (Entry | undefined)[][]): Assignment[] | undefined {
	const chosen = entries.map(([right, left], cell): Assignment | undefined => {
		if (!right || !left) return undefined;
		return { cell, entry: right.along <= left.along ? right : left };
	});
	if (chosen.some((c) => !c)) return undefined;
	const all = chosen as Assignment[];
	const left = all.filter((a) => a.entry.way === -1).sort((a, b) => b.entry.along - a.entry.along);
	const right = all.filter((a) => a.entry.way === 1).sort((a, b) => a.entry.along - b.entry.along);
	return [...left, ...right];
}

/** A candidate's worth before its tails: floor left far from a pipe, on a coarse raster, m2. */
function coldArea(candidate: Candidate, floor: readonly Region[], spacing: number): number {
	const cell = Math.max(40, spacing / 4);
	const [x0, y0, x1, y1] = boundingBox(floor.flatMap((region) => [...region.outer]));
	const w = Math.ceil((x1 - x0) / cell);
	const h = Math.ceil((y1 - y0) / cell);
	const best = new Float32Array(w * h).fill(Infinity);
	const reach = spacing * 1.05;
	const ring = candidate.ring;
	for (let i = 0; i < ring.length; i++) {
		const a = ring[i]!;
		const b = ring[(i + 1) % ring.length]!;
		const i0 = Math.max(0, Math.floor((Math.min(a[0], b[0]) - reach - x0) / cell));
		const i1 = Math.min(w - 1, Math.floor((Math.max(a[0], b[0]) + reach - x0) / cell));
		const j0 = Math.max(0, Math.floor((Math.min(a[1], b[1]) - reach - y0) / cell));
		const j1 = Math.min(h - 1, Math.floor((Math.max(a[1], b[1]) + reach - y0) / cell));
		const dx = b[0] - a[0];
		const dy = b[1] - a[1];
		const l2 = dx * dx + dy * dy || 1;
		for (let j = j0; j <= j1; j++)
			for (let k = i0; k <= i1; k++) {
				const px = x0 + (k + 0.5) * cell - a[0];
				const py = y0 + (j + 0.5) * cell - a[1];
				let t = (px * dx + py * dy) / l2;
				t = t < 0 ? 0 : t > 1 ? 1 : t;
				const d = (px - t * dx) ** 2 + (py - t * dy) ** 2;
				if (d < best[j * w + k]!) best[j * w + k] = d;
			}
	}
	let cold = 0;
	const near = (0.55 * spacing) ** 2;
	const far = spacing ** 2;
	for (let j = 0; j < h; j++)
		for (let k = 0; k < w; k++) {
			const d = best[j * w + k]!;
			if (d <= near) continue;
			if (!floor.some((region) => regionContains(region, [x0 + (k + 0.5) * cell, y0 + (j + 0.5) * cell]))) continue;
			cold += d > far ? 5 : 1;
		}
	return (cold * cell * cell) / 1e6;
}

function bestFields(setting: Setting, zone: readonly Region[]): Candidate[] {
	const { room, system } = setting;
	const candidates = fillField({
		floor: zone,
		spacing: room.spacing,
		minBendRadius: system.pipe.minBendRadius,
		pattern: setting.pattern,
		walls: ringsOf(setting.floor),
		most: 3,
	});
	return candidates
		.map((candidate) => ({
			candidate,
			cost: coldArea(candidate, zone, room.spacing) + (candidate.ring.length / 4000) * 0.3,
		}))
		.sort((a, b) => a.cost - b.cost)
		.map(({ candidate }) => candidate);
}

interface Attempt {
	readonly loops: readonly RoutedLoop[];
	readonly lengths: readonly number[];
	readonly failed: number;
}

function routeCells(setting: Setting, cells: readonly Region[]): Attempt | undefined {
	const { floor, manifold, system, room, rules } = setting;
	const order = orderZones(entriesOf(floor, cells, manifold.position));
	if (!order) return undefined;
	const n = order.length;
	// portPairs run from the left of who looks from the room: the right of the pipes' own way.
	const pairs = portPairs(manifold, n);
	const ports = order.map((_, i) => pairs[n - 1 - i]!);
	const depth = nearestOnRing(floor.outer, manifold.position).distance;
	const first = Math.max(room.edgeDistance, depth + system.pipe.minBendRadius + 2);
	const lefts = order.filter((a) => a.entry.way === -1).length;
	const most = 2 * Math.max(lefts, n - lefts);
	const tracks = n === 1 ? [] : tracksAlong(floor, manifold.position, first, system.tailSpacing + 0.5, most, system.pipe.minBendRadius);
	const laid: Path[] = [];
	const tails: { left: TailEnd[]; right: TailEnd[]; paths: Path[] }[] = [];
	const direct = (port: TailEnd["pose"]): TailEnd => ({ path: [port.at, port.at], pose: port });
	const sequence = order.map((_, i) => i).sort((a, b) => Math.min(a, n - 1 - a) - Math.min(b, n - 1 - b));
	for (const i of sequence) {
		const { entry } = order[i]!;
		const pair = ports[i]!;
		const left = pair.return;
		const right = pair.flow;
		if (entry.along < 400 || n === 1) {
			tails[i] = { left: [direct(left)], right: [direct(right)], paths: [] };
			continue;
		}
		const rank = entry.way === -1 ? i : n - 1 - i;
		const outer = tracks[2 * rank];
		const inner = tracks[2 * rank + 1];
		if (!outer || !inner) return undefined;
		const lay = (port: TailEnd["pose"], track: typeof outer) =>
			layTail({ port, track, way: entry.way, entry: entry.point, others: laid, rules });
		const a = lay(entry.way === -1 ? left : right, outer);
		if (!a) return undefined;
		laid.push(a.path);
		const b = lay(entry.way === -1 ? right : left, inner);
		if (!b) return undefined;
		laid.push(b.path);
		tails[i] = entry.way === -1 ? { left: [...a.ends], right: [...b.ends], paths: [a.path, b.path] } : { left: [...b.ends], right: [...a.ends], paths: [a.path, b.path] };
	}
	const loops: RoutedLoop[] = [];
	let failed = 0;
	const done: Path[] = [];
	for (const i of order.map((_, k) => k)) {
		const cell = cells[order[i]!.cell]!;
		const others = cells.filter((c) => c !== cell);
		const passing = tails.flatMap((tail, k) => (k === i ? [] : tail.paths));
		let zone = intersect(setting.field, [cell]);
		if (others.length > 0) zone = difference(zone, offset(others, room.spacing / 2));
		if (passing.length > 0) zone = difference(zone, thicken(passing, Math.max(room.spacing * 0.8, system.tailSpacing), { join: "round" }));
		zone = intersect(offset(offset(zone, -room.spacing * 0.4), room.spacing * 0.4), zone);
		const obstacles = [...passing, ...done];
		((globalThis as any).__z ??= []).push({zone, tails: tails[i], passing, cands: bestFields(setting, zone).slice(0,1)});
		let joined: RoutedLoop | undefined;
		for (const candidate of bestFields(setting, zone).slice(0, 6)) {
			const loop = joinLoop({
				ring: candidate.ring,
				right: tails[i]!.right,
				left: tails[i]!.left,
				others: obstacles,
				spacing: room.spacing,
				rules,
				reach: Math.max(6 * room.spacing, 10 * system.pipe.minBendRadius),
			});
			if (!loop) continue;
			joined = { port: ports[i]!.number, path: loop.path, pattern: candidate.pattern, spacing: room.spacing };
			break;
		}
		if (!joined) failed++;
		else {
			loops.push(joined);
			done.push(joined.path);
		}
	}
	return { loops, lengths: loops.map((loop) => pathLength(loop.path) / 1000), failed };
}

/** Cuts a room into zones and routes each; the fewest loops that stay within the limit. */
export function routeRoom(options: RouteRoomOptions): RoutedRoom {
	const { room, floor, system } = options;
	const setting: Setting = { ...options, rules: rulesFor(options), field: offset([floor], -room.edgeDistance) };
	const wanted = (regionArea(floor) / room.spacing / 1000) * 0.985;
	const least = Math.max(1, Math.ceil(wanted / system.maxLoopLength - 1e-6));
	let best: { attempt: Attempt; cost: number } | undefined;
	for (let n = least; n <= least + 2; n++) {
		const directions = n === 1 ? [0] : wallDirections(ringsOf(floor), 2);
		for (const direction of directions) {
			let shares = Array.from({ length: n }, () => 1 / n);
			for (let round = 0; round < (n === 1 ? 1 : 3); round++) {
				const cells = n === 1 ? [floor] : cutIntoBands(floor, direction, shares);
				if (!cells) break;
				const attempt = routeCells(setting, cells);
				if (!attempt) break;
				const longest = Math.max(...attempt.lengths, 0);
				const over = Math.max(0, longest - system.maxLoopLength);
				const cost = attempt.failed * 1e4 + over * 1e3 + longest - Math.min(...attempt.lengths, longest);
				if (!best || cost < best.cost) best = { attempt, cost };
				if (attempt.failed > 0 || n === 1) break;
				const mean = attempt.lengths.reduce((a, b) => a + b, 0) / n;
				const byCell = shares;
				const next = byCell.map((share) => share);
				void mean;
				shares = next;
				break;
			}
		}
		if (best && best.cost < 1e3) break;
	}
	return { loops: best?.attempt.loops ?? [], cost: best?.cost ?? Infinity };
}
