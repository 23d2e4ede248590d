import { cpus } from "node:os";
import { type Layout, readFloor } from "@oxturn/floor";
import { type Ring, regionArea } from "@oxturn/geometry";
import { routeFloor } from "@oxturn/routing";
import ClipperLib from "clipper-lib";
import dwelling from "../../../docs/examples/dwelling.json";
import workspace from "../../../package.json";
import { floorOf, hallOf, rooms, SPACING } from "./rooms.ts";

/*
 * How long routing takes: against the least work that a spiral can be made with, for a whole dwelling, and against the
 * length of the pipe.
 * Times are medians of rounds in which all contenders take turns, so that whatever else the machine does hits all. Of
 * those that are held against the contours, each comes first in its turn: none has always the garbage of another to clear.
 */

/** Rounds until the engine has compiled what it will: times fall for so long, in single rooms longer than on a whole floor. */
const WARM_UP = { rooms: 300, dwelling: 60, lengths: 8 } as const;
/** Single rooms take so little time that only many rounds tell a few per cent. */
const ROUNDS = { rooms: 101, dwelling: 15, lengths: 15 } as const;
/** After so long no round of the last part is begun, and after half of it none to warm up for that, but for the first, ms. */
const TIME_CAP = 115_000;
/** Floors of the last part, m2. */
const SIZES = [20, 40, 80, 160, 320, 640, 1280, 2000];
const GOALS = { serpentine: 8, spiral: 8, auto: 40, dwelling: 150, growth: 1.15 } as const;

const started = performance.now();

const median = (values: readonly number[]): number => values.toSorted((a, b) => a - b)[values.length >> 1]!;

const print = (cells: readonly (string | number)[], widths: readonly number[]): void =>
	console.log(
		cells.map((cell, i) => (i === 0 ? String(cell).padEnd(widths[i]!) : String(cell).padStart(widths[i]!))).join(" "),
	);

/** All nested inward contours at the spacing, from the edge distance until nothing is left, by clipper-lib alone. */
function nestedContours(outer: Ring): number {
	const grid = 1000; // 1 um steps
	const path = outer.map(([x, y]) => ({ X: Math.round(x * grid), Y: Math.round(y * grid) }));
	for (let count = 0; ; count++) {
		const offsetter = new ClipperLib.ClipperOffset(2, 0.25 * grid);
		offsetter.AddPath(path, ClipperLib.JoinType.jtMiter, ClipperLib.EndType.etClosedPolygon);
		const contours: { X: number; Y: number }[][] = [];
		offsetter.Execute(contours, -(SPACING / 2 + count * SPACING) * grid);
		if (contours.length === 0) return count;
	}
}

const pipeOf = (layout: Layout): number => layout.features.reduce((sum, { properties }) => sum + properties.length, 0);

const checksum = (layout: Layout): string =>
	`${layout.features.length} x ${pipeOf(layout).toFixed(2)} m${layout.notices.length > 0 ? ` ${layout.notices.map(({ code }) => code).join(",")}` : ""}`;

function timed<Result>(work: () => Result): { ms: number; result: Result } {
	const start = performance.now();
	const result = work();
	return { ms: performance.now() - start, result };
}

function againstContours(): void {
	const patterns = ["serpentine", "spiral", "auto"] as const;
	const widths = [12, 10, 11, 9, 9, 7, 7, 7];
	console.log(`\nRooms of 20 m2 at ${SPACING} mm: median ms of ${ROUNDS.rooms} rounds, and times the contours' work`);
	print(["room", "contours", ...patterns, "b/a", "c/a", "d/a"], widths);
	print(["goal", "", "", "", "", GOALS.serpentine, GOALS.spiral, GOALS.auto], widths);
	const sums: string[] = [];
	const contendersIn = (outer: Ring): (() => unknown)[] => [
		() => nestedContours(outer),
		...patterns.map((pattern) => () => routeFloor(floorOf(outer, pattern))),
	];
	// The engine compiles code for what it has seen, so all rooms are seen before the first is measured.
	for (let round = 0; round < WARM_UP.rooms; round++)
		for (const { outer } of rooms) for (const work of contendersIn(outer)) work();
	for (const { name, outer } of rooms) {
		const contenders = contendersIn(outer);
		const times: number[][] = contenders.map(() => []);
		for (let round = 0; round < ROUNDS.rooms; round++)
			for (let turn = 0; turn < contenders.length; turn++) {
				const i = (round + turn) % contenders.length;
				times[i]!.push(timed(contenders[i]!).ms);
			}
		const [contours, ...routed] = times.map(median) as [number, ...number[]];
		print(
			[
				name,
				contours.toFixed(3),
				...routed.map((ms) => ms.toFixed(2)),
				...routed.map((ms) => (ms / contours).toFixed(1)),
			],
			widths,
		);
		const layouts = patterns.map((pattern) => `${pattern} ${checksum(routeFloor(floorOf(outer, pattern)))}`);
		sums.push(`  ${name}: ${nestedContours(outer)} contours, ${layouts.join(", ")}`);
	}
	console.log(`checksums\n${sums.join("\n")}`);
}

function wholeDwelling(): void {
	const { floor } = readFloor(dwelling);
	const area = floor.rooms.reduce((sum, { region }) => sum + regionArea(region), 0) / 1e6;
	const first = { work: () => routeFloor(floor, { timeBudget: 0 }), times: [] as number[] };
	const full = { work: () => routeFloor(floor), times: [] as number[] };
	const contenders = [first, full];
	for (let round = 0; round < WARM_UP.dwelling; round++) for (const { work } of contenders) work();
	for (let round = 0; round < ROUNDS.dwelling; round++)
		for (const { work, times } of contenders) times.push(timed(work).ms);
	console.log(`\n${floor.name}, ${area.toFixed(0)} m2: median ms of ${ROUNDS.dwelling} rounds`);
	print(["", "ms", "goal"], [24, 8, 8]);
	print(["first complete layout", median(first.times).toFixed(0), GOALS.dwelling], [24, 8, 8]);
	print(["in full", median(full.times).toFixed(0), ""], [24, 8, 8]);
	console.log(`checksums\n  ${checksum(routeFloor(floor))}`);
}

/** Slope of the line of least squares through the logarithms. */
function exponentOf(points: readonly { readonly pipe: number; readonly ms: number }[]): number {
	const logs = points.map(({ pipe, ms }) => [Math.log(pipe), Math.log(ms)] as const);
	const mean = (k: 0 | 1): number => logs.reduce((sum, log) => sum + log[k], 0) / logs.length;
	const [mx, my] = [mean(0), mean(1)];
	const across = logs.reduce((sum, [x, y]) => sum + (x - mx) * (y - my), 0);
	return across / logs.reduce((sum, [x]) => sum + (x - mx) ** 2, 0);
}

/** Rounds in which every floor is routed once; fewer where time runs out, but one at least. */
function* roundsUntil(most: number, deadline: number): Generator<number> {
	for (let round = 0; round < most && (round === 0 || performance.now() < deadline); round++) yield round;
}

function againstLength(): void {
	const widths = [8, 10, 10, 10, 10];
	const floors = SIZES.map((size) => ({ size, floor: hallOf(size), times: [] as number[] }));
	// All sizes: code that the engine has not compiled yet would make the large ones look slow beside the small.
	for (const _ of roundsUntil(WARM_UP.lengths, started + TIME_CAP / 2))
		for (const { floor } of floors) routeFloor(floor);
	for (const _ of roundsUntil(ROUNDS.lengths, started + TIME_CAP))
		for (const { floor, times } of floors) times.push(timed(() => routeFloor(floor)).ms);
	const rounds = floors[0]!.times.length;
	console.log(
		`\nRectangles 5 : 4, auto, loops up to 120 m, a manifold for about nine loops: median ms of ${rounds} rounds`,
	);
	print(["m2", "manifolds", "pipe m", "ms", "ms per m"], widths);
	const points: { pipe: number; ms: number }[] = [];
	const sums: string[] = [];
	for (const { size, floor, times } of floors) {
		const layout = routeFloor(floor);
		const [ms, pipe] = [median(times), pipeOf(layout)];
		const isServed = !layout.notices.some(({ code }) => code.startsWith("ROOM_"));
		if (isServed) points.push({ pipe, ms });
		print(
			[size, floor.manifolds.length, pipe.toFixed(0), ms.toFixed(1), isServed ? (ms / pipe).toFixed(4) : "unserved"],
			widths,
		);
		sums.push(`${size}: ${checksum(layout)}`);
	}
	if (points.length > 1)
		console.log(
			`of the floors that are served, time grows with pipe length to the power ${exponentOf(points).toFixed(2)}, goal ${GOALS.growth}`,
		);
	console.log(`checksums\n  ${sums.join("\n  ")}`);
}

console.log(`${cpus()[0]?.model ?? "unknown processor"}, ${cpus().length} cores`);
console.log(
	`Node ${process.version}, ${workspace.name} ${workspace.version}, clipper-lib ${workspace.dependencies["clipper-lib"]}`,
);
againstContours();
wholeDwelling();
againstLength();
console.log(`\n${((performance.now() - started) / 1000).toFixed(0)} s in all`);
