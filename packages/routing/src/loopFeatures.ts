import type { Floor, Layout, LoopFeature, Manifold, Notice, Room } from "@oxturn/floor";
import { type Path, type Point, pathLength } from "@oxturn/geometry";
import { auditLayout } from "./audit/auditLayout.ts";
import { type Frame, outOfFrame } from "./frame.ts";
import type { RoutedLoop } from "./room/routeZones.ts";
import type { AuditFinding } from "./types.ts";

/** Positions in the document are rounded to 1 um, mm; a negative zero becomes zero. */
export const round = (value: number): number => Math.round(value * 1000) / 1000 + 0;
/** Points nearer than this are one, mm: where stretches were joined, less than a hair aside would make a kink. */
const REPEATED = 0.3;

/** A path in the frame, back on the floor. */
export const placed = (frame: Frame, path: Path): Point[] => outOfFrame(frame, path, round);

/** Whether two points are one. */
const isRepeated = (p: Point, q: Point): boolean => (p[0] - q[0]) ** 2 + (p[1] - q[1]) ** 2 <= REPEATED * REPEATED;

/** A path without repeated points; both its ends stay. */
function withoutRepeated(path: readonly Point[]): Point[] {
	const last = path.at(-1)!;
	const kept: Point[] = [];
	let before: Point | undefined;
	for (let i = 0; i < path.length - 1; i++) {
		const p = path[i]!;
		if (before && (isRepeated(p, before) || isRepeated(p, last))) continue;
		kept.push(p);
		before = p;
	}
	kept.push(last);
	return kept;
}

export const placedLoop = (frame: Frame, loop: RoutedLoop): RoutedLoop => ({
	...loop,
	path: withoutRepeated(placed(frame, loop.path)),
});

/** A loop as the layout document has it. */
export function featureOf(loop: RoutedLoop, id: string, rooms: readonly Room[], manifold: Manifold): LoopFeature {
	return {
		type: "Feature",
		id,
		geometry: { type: "LineString", coordinates: loop.path },
		properties: {
			kind: "loop",
			manifold: manifold.id,
			port: loop.port,
			rooms: rooms.map((room) => room.id),
			pattern: loop.pattern,
			spacing: round(loop.spacing),
			length: Math.round(pathLength(loop.path)) / 1000,
		},
	};
}

export const layoutOf = (floor: Floor, features: readonly LoopFeature[], notices: readonly Notice[]): Layout => ({
	type: "FeatureCollection",
	units: "mm",
	name: floor.name,
	features,
	channels: [],
	notices,
});

/** Rules about pipes; a room without pipe is told of where it is routed. */
export const findingsAbout = (floor: Floor, features: readonly LoopFeature[]): readonly AuditFinding[] =>
	auditLayout(floor, layoutOf(floor, features, []), { coverage: false, served: false }).findings;

/** How many rules a room's loops break. */
export const faultsOf = (floor: Floor, loops: readonly RoutedLoop[], room: Room, manifold: Manifold): number =>
	findingsAbout(
		floor,
		loops.map((loop, i) => featureOf(loop, `L${i + 1}`, [room], manifold)),
	).length;
