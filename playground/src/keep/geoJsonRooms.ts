import type { Point } from "oxturn";
import { type Draft, emptyDraft } from "../document/draft.ts";
import { wholeMm } from "../document/plane.ts";
import { closeRing, cornersOf } from "../document/rings.ts";
import { addRoom } from "../edit/features.ts";
import { withFirstManifold } from "../edit/manifolds.ts";

/** Units that plain polygons may be drawn in, mm each. */
export const polygonUnits = { mm: 1, cm: 10, m: 1000, in: 25.4, ft: 304.8 } as const;
export type PolygonUnit = keyof typeof polygonUnits;

interface NamedPolygon {
	readonly name: string | undefined;
	readonly rings: readonly (readonly Point[])[];
}

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
	typeof value === "object" && value !== null && !Array.isArray(value);

const isPoint = (value: unknown): value is Point =>
	Array.isArray(value) && value.length >= 2 && Number.isFinite(value[0]) && Number.isFinite(value[1]);

const areRings = (value: unknown): value is readonly (readonly Point[])[] =>
	Array.isArray(value) &&
	value.length > 0 &&
	value.every((ring) => Array.isArray(ring) && ring.length >= 4 && ring.every(isPoint));

function polygonsOfGeometry(geometry: unknown, name: string | undefined): readonly NamedPolygon[] {
	if (!isRecord(geometry)) return [];
	const { type, coordinates, geometries } = geometry;
	if (type === "Polygon" && areRings(coordinates)) return [{ name, rings: coordinates }];
	if (type === "MultiPolygon" && Array.isArray(coordinates))
		return coordinates.filter(areRings).map((rings) => ({ name, rings }));
	if (type === "GeometryCollection" && Array.isArray(geometries))
		return geometries.flatMap((part) => polygonsOfGeometry(part, name));
	return [];
}

function polygonsOf(document: unknown): readonly NamedPolygon[] {
	if (!isRecord(document)) return [];
	const { type, features, geometry, properties } = document;
	if (type === "FeatureCollection" && Array.isArray(features)) return features.flatMap(polygonsOf);
	if (type === "Feature") {
		const name = isRecord(properties) && typeof properties.name === "string" ? properties.name : undefined;
		return polygonsOfGeometry(geometry, name);
	}
	return polygonsOfGeometry(document, undefined);
}

/** Whether a document is GeoJSON with polygons, but no floor document: that one says its units. */
export function holdsPlainPolygons(document: unknown): boolean {
	return isRecord(document) && document.units === undefined && polygonsOf(document).length > 0;
}

/**
 * Makes every polygon of a GeoJSON document a room. Coordinates are taken as planar, `unit` each, x to the right and y
 * up; the lower left corner of all of them becomes the origin. The first room gets a manifold.
 */
export function roomsFromGeoJson(document: unknown, unit: PolygonUnit, roomName: string): Draft {
	const polygons = polygonsOf(document);
	const points = polygons.flatMap(({ rings }) => rings.flat());
	const left = points.reduce((least, [x]) => Math.min(least, x), Infinity);
	const bottom = points.reduce((least, [, y]) => Math.min(least, y), Infinity);
	const place = ([x, y]: Point): Point => wholeMm([(x - left) * polygonUnits[unit], (y - bottom) * polygonUnits[unit]]);
	let draft: Draft = emptyDraft;
	for (const [index, { name, rings }] of polygons.entries()) {
		const [outline = [], ...holes] = rings.map((ring) => cornersOf(ring).map(place));
		const made = addRoom(draft, outline, name ?? `${roomName} ${index + 1}`);
		draft = {
			...made.draft,
			features: made.draft.features.map((feature) =>
				feature.id === made.id && feature.geometry.type === "Polygon"
					? ({
							...feature,
							geometry: { type: "Polygon", coordinates: [...feature.geometry.coordinates, ...holes.map(closeRing)] },
						} as typeof feature)
					: feature,
			),
		};
		draft = withFirstManifold(draft, made.id);
	}
	return draft;
}
