import type { Floor, Layout } from "@oxturn/floor";
import type { AuditFinding } from "../types.ts";
import { isNamed } from "./plan.ts";
import { type Trace, traceLoop } from "./trace.ts";

/** Farther from the origin than a thousand kilometres no floor is drawn, and arithmetic in mm stops being exact. */
const FARTHEST = 1e9;

/** The loops that can be followed, what the notices are about, and what is wrong with the document itself. */
export interface ReadLoops {
	readonly traces: readonly Trace[];
	/** Subjects of all notices. */
	readonly noticed: readonly unknown[];
	readonly findings: readonly AuditFinding[];
}

type Loose = Readonly<Record<string, unknown>>;

const looseOf = (value: unknown): Loose => (typeof value === "object" && value !== null ? (value as Loose) : {});

type Fault = (message: string, ...subjects: string[]) => void;

/**
 * Reads a layout without believing its type: it may come from elsewhere. A feature that is no loop of two or
 * more finite points is a finding and left out of everything else.
 */
export function readLoops(floor: Floor, layout: Layout): ReadLoops {
	const findings: AuditFinding[] = [];
	const fault: Fault = (message, ...subjects) => {
		findings.push({ rule: "document", message, subjects });
	};
	const document = looseOf(layout);
	const features = Array.isArray(document.features) ? (document.features as readonly unknown[]) : undefined;
	if (document.type !== "FeatureCollection" || !features) {
		fault("The layout is not a FeatureCollection.");
		return { traces: [], noticed: [], findings };
	}
	if (document.units !== "mm") fault(`The layout's units are ${JSON.stringify(document.units)}, expected "mm".`);
	if (document.notices !== undefined && !Array.isArray(document.notices)) fault("The layout's notices are not a list.");
	const notices = Array.isArray(document.notices) ? (document.notices as readonly unknown[]) : [];
	const labels = labelsOf(features, fault);
	const traces = features.flatMap((feature, i) => readLoop(floor, looseOf(feature), labels[i]!, fault) ?? []);
	return { traces, noticed: notices.flatMap((notice) => looseOf(notice).subject), findings };
}

/** What features are called: their ids, or their places where they have none. */
function labelsOf(features: readonly unknown[], fault: Fault): string[] {
	const ids = new Set<string>();
	return features.map((feature, index) => {
		const { id } = looseOf(feature);
		if (typeof id !== "string" || id === "") {
			fault(`Feature #${index} has no string id.`, `#${index}`);
			return `#${index}`;
		}
		if (ids.has(id)) fault(`The id "${id}" is used twice.`, id);
		ids.add(id);
		return id;
	});
}

function readLoop(floor: Floor, { properties, geometry }: Loose, id: string, fault: Fault): Trace | undefined {
	const { kind, manifold, port, rooms: named, length } = looseOf(properties);
	if (kind !== "loop") {
		fault(`Feature "${id}" is of unknown kind ${JSON.stringify(kind)}, expected "loop".`, id);
		return undefined;
	}
	const points = pointsOf(geometry);
	if (!points) {
		fault(`Loop "${id}" is not a LineString of two or more finite points.`, id);
		return undefined;
	}
	const rooms = Array.isArray(named) ? named.map(String) : undefined;
	for (const key of rooms ?? [])
		if (!floor.rooms.some((room) => isNamed(room, key)))
			fault(`Loop "${id}" names room "${key}", which the floor lacks.`, id, key);
	return traceLoop(
		{
			id,
			manifold: manifold === undefined || manifold === null ? undefined : String(manifold),
			port: numberOf(port),
			rooms,
			statedLength: numberOf(length),
		},
		points,
	);
}

const numberOf = (value: unknown): number | undefined =>
	typeof value === "number" && Number.isFinite(value) ? value : undefined;

function pointsOf(value: unknown): readonly (readonly number[])[] | undefined {
	const { type, coordinates } = looseOf(value);
	if (type !== "LineString" || !Array.isArray(coordinates) || coordinates.length < 2) return undefined;
	for (const point of coordinates as readonly unknown[]) {
		if (!Array.isArray(point) || typeof point[0] !== "number" || typeof point[1] !== "number") return undefined;
		if (!(Math.abs(point[0]) < FARTHEST && Math.abs(point[1]) < FARTHEST)) return undefined;
	}
	return coordinates as readonly (readonly number[])[];
}
