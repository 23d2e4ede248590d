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

/**
 * Reads a layout without believing its type: it may come from elsewhere. A feature that is no loop of two or
 * more finite points is a finding and left out of everything else.
 */
export function readLoops(floor: Floor, layout: Layout): ReadLoops {
	const findings: AuditFinding[] = [];
	const fault = (message: string, ...subjects: string[]): void => {
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

	const traces: Trace[] = [];
	const ids = new Set<string>();
	features.forEach((value, index) => {
		const feature = looseOf(value);
		const properties = looseOf(feature.properties);
		const id = typeof feature.id === "string" && feature.id !== "" ? feature.id : undefined;
		const label = id ?? `#${index}`;
		if (id === undefined) fault(`Feature ${label} has no string id.`, label);
		else if (ids.has(id)) fault(`The id "${id}" is used twice.`, id);
		else ids.add(id);
		if (properties.kind !== "loop") {
			fault(`Feature "${label}" is of unknown kind ${JSON.stringify(properties.kind)}, expected "loop".`, label);
			return;
		}
		const points = pointsOf(feature.geometry);
		if (!points) {
			fault(`Loop "${label}" is not a LineString of two or more finite points.`, label);
			return;
		}
		const rooms = Array.isArray(properties.rooms) ? properties.rooms.map(String) : undefined;
		for (const key of rooms ?? [])
			if (!floor.rooms.some((room) => isNamed(room, key)))
				fault(`Loop "${label}" names room "${key}", which the floor lacks.`, label, key);
		const manifold = properties.manifold;
		traces.push(
			traceLoop(
				{
					id: label,
					manifold: manifold === undefined || manifold === null ? undefined : String(manifold),
					port: numberOf(properties.port),
					rooms,
					statedLength: numberOf(properties.length),
				},
				points,
			),
		);
	});
	return { traces, noticed: notices.flatMap((notice) => looseOf(notice).subject), findings };
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
