import type { Channel, Floor, Layout, LoopFeature, Manifold, Notice, Room } from "@oxturn/floor";
import {
	difference,
	distance,
	nearestOnRing,
	type Point,
	pathLength,
	type Region,
	regionArea,
	regionContains,
} from "@oxturn/geometry";
import { auditLayout } from "./audit/auditLayout.ts";
import { throwIfAborted } from "./errors.ts";
import { type Frame, frameOf, manifoldInFrame, outOfFrame, regionInFrame } from "./frame.ts";
import { notices as say } from "./notices.ts";
import { routeRoom } from "./routeRoom.ts";
import type { RoutedLoop } from "./routeZones.ts";
import type { AuditFinding, RouteOptions } from "./types.ts";

/** Positions in the document are rounded to 1 um, mm; a negative zero becomes zero. */
const round = (value: number): number => Math.round(value * 1000) / 1000 + 0;
/** Corners and cusps aside, no more of a room's floor should lie farther than one spacing from a pipe. */
const COLD = 0.03;
/** Points nearer than this are one, mm. */
const REPEATED = 0.005;
/** A manifold farther than this from a room's walls does not hang in it, mm. */
const AT_WALL = 100;
const AHEAD = 150;

const awayFrom = (region: Region, p: Point): number =>
	regionContains(region, p) ? 0 : nearestOnRing(region.outer, p).distance;

/** Whether the pipes leave the manifold into the room; it may hang on a thin wall with a room on either side. */
function facesInto(room: Room, { position, facing }: Manifold): boolean {
	const angle = (facing * Math.PI) / 180;
	return regionContains(room.region, [position[0] + AHEAD * Math.cos(angle), position[1] + AHEAD * Math.sin(angle)]);
}

function manifoldOf(floor: Floor, room: Room): Manifold | undefined {
	return floor.manifolds
		.filter((manifold) => facesInto(room, manifold))
		.map((manifold) => ({ manifold, away: awayFrom(room.region, manifold.position) }))
		.filter(({ away }) => away <= AT_WALL)
		.sort((a, b) => a.away - b.away)[0]?.manifold;
}

/** The piece of the room that the manifold stands at; the others are told of. */
function pieceAt(floor: Floor, room: Room, manifold: Manifold, out: Notice[]): Region | undefined {
	const pieces = difference(
		[room.region],
		floor.keepouts.map((keepout) => keepout.region),
	)
		.map((piece) => ({ piece, away: awayFrom(piece, manifold.position) }))
		.sort((a, b) => a.away - b.away);
	const [home, ...rest] = pieces;
	const cutOff = rest.reduce((sum, { piece }) => sum + regionArea(piece), 0) / 1e6;
	if (cutOff > 0.05) out.push(say.cutOff(room, cutOff));
	return home?.piece;
}

function featureOf(loop: RoutedLoop, frame: Frame, id: string, room: Room, manifold: Manifold): LoopFeature {
	const coordinates = loop.path
		.map((p) => outOfFrame(frame, p))
		.map(([x, y]): Point => [round(x), round(y)])
		.filter((p, i, all) => i === 0 || distance(p, all[i - 1]!) > REPEATED);
	return {
		type: "Feature",
		id,
		geometry: { type: "LineString", coordinates },
		properties: {
			kind: "loop",
			manifold: manifold.id,
			port: loop.port,
			rooms: [room.id],
			pattern: loop.pattern,
			spacing: round(loop.spacing),
			length: Math.round(pathLength(coordinates)) / 1000,
		},
	};
}

const layoutOf = (floor: Floor, features: readonly LoopFeature[], notices: readonly Notice[]): Layout => ({
	type: "FeatureCollection",
	units: "mm",
	name: floor.name,
	features,
	channels: [],
	notices,
});

/** Rules about pipes; a room without pipe is told of where it is routed. */
const findingsAbout = (floor: Floor, features: readonly LoopFeature[]): readonly AuditFinding[] =>
	auditLayout(floor, layoutOf(floor, features, []), { coverage: false, served: false }).findings;

/** Routes every heated room from the manifold that hangs in it. The result has passed its audit, or says where not. */
export function routeFloor(floor: Floor, options: RouteOptions = {}): Layout {
	const features: LoopFeature[] = [];
	const channels: Channel[] = [];
	const notices: Notice[] = [];
	const start = performance.now();
	let broken = 0;
	const heated = floor.rooms.filter((room) => room.heated);
	for (const [index, room] of heated.entries()) {
		options.onProgress?.({ stage: "fields", fraction: index / heated.length, room: room.id });
		const manifold = manifoldOf(floor, room);
		const piece = manifold && pieceAt(floor, room, manifold, notices);
		if (!manifold || !piece) {
			notices.push(manifold ? say.noFloor(room) : say.noManifold(room));
			continue;
		}
		const frame = frameOf(piece, manifold);
		const alone: Floor = { ...floor, rooms: [room], doorways: [], manifolds: [manifold] };
		const placed = (loops: readonly RoutedLoop[], first: number): LoopFeature[] =>
			loops.map((loop, i) => featureOf(loop, frame, `L${first + i}`, room, manifold));
		const routed = routeRoom({
			room,
			floor: regionInFrame(frame, piece),
			manifold: manifoldInFrame(frame, manifold),
			system: floor.system,
			pattern: options.pattern ?? room.pattern,
			faults: (loops) => findingsAbout(alone, placed(loops, 1)).length,
			pulse: () => throwIfAborted(options.signal),
			expired: () => options.timeBudget !== undefined && performance.now() - start > options.timeBudget,
		});
		broken += routed.broken;
		for (const { pipes, width, path } of routed.bundles)
			channels.push({
				id: `C${channels.length + 1}`,
				room: room.id,
				pipes,
				width: round(width),
				path: path.map((p) => outOfFrame(frame, p)).map(([x, y]): Point => [round(x), round(y)]),
			});
		features.push(...placed(routed.loops, features.length + 1));
		if (routed.loops.length === 0) notices.push(say.unserved(room));
		else if (routed.missing > 0) notices.push(say.partlyServed(room, routed.missing));
		else if (routed.cold > COLD) notices.push(say.coldFloor(room, routed.cold));
		if (routed.spacing > room.spacing) notices.push(say.spacingOpened(room, routed.spacing));
		const wanted = options.pattern ?? room.pattern;
		const other = wanted === "auto" ? 0 : routed.loops.filter((loop) => loop.pattern !== wanted).length;
		if (other > 0) notices.push(say.patternChanged(room, wanted, other));
	}
	options.onProgress?.({ stage: "audit", fraction: 1, room: "" });
	// One room that has passed on its own needs no second look.
	if (heated.length > 1 || broken > 0)
		for (const finding of findingsAbout(floor, features)) notices.push(say.ruleBroken(finding));
	return { ...layoutOf(floor, features, notices), channels };
}
