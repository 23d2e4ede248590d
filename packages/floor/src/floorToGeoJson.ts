import type { Point, Region } from "@oxturn/geometry";
import { ringsOf } from "./rings.ts";
import { sharingWritten } from "./sharing.ts";
import type { Floor, PatternName, Pipe } from "./types.ts";

/** A Polygon of the floor document: closed rings. */
export interface FloorPolygon {
	readonly type: "Polygon";
	readonly coordinates: readonly (readonly Point[])[];
}

/** A feature of the floor document. */
export type FloorFeature =
	| {
			readonly type: "Feature";
			readonly id: string;
			readonly geometry: FloorPolygon;
			readonly properties:
				| {
						readonly kind: "room";
						readonly name: string;
						readonly heated: boolean;
						readonly spacing: number;
						readonly share?: boolean;
						readonly pattern: PatternName;
				  }
				| { readonly kind: "doorway"; readonly between: readonly [string, string] }
				| { readonly kind: "keepout"; readonly name: string };
	  }
	| {
			readonly type: "Feature";
			readonly id: string;
			readonly geometry: { readonly type: "Point"; readonly coordinates: Point };
			readonly properties: {
				readonly kind: "manifold";
				readonly facing: number;
				readonly portPitch: number;
				readonly ports?: number;
			};
	  };

/** A floor document: a GeoJSON FeatureCollection in mm. */
export interface FloorDocument {
	readonly type: "FeatureCollection";
	readonly units: "mm";
	readonly name: string;
	readonly system: {
		readonly pipe: Pipe;
		readonly maxLoopLength: number;
		readonly spacing: number;
		readonly edgeDistance?: number;
		readonly tailSpacing: number;
	};
	readonly features: readonly FloorFeature[];
}

function toPolygon(region: Region): FloorPolygon {
	const coordinates = ringsOf(region).map((ring) => [...ring, ring[0]!].map(([x, y]): Point => [x, y]));
	return { type: "Polygon", coordinates };
}

/**
 * Writes a floor as a floor document with every default spelled out but `share`, which says more when it is there;
 * `readFloor` reads it back as the same floor. A room's `edgeDistance` follows from the floor's and is not written.
 */
export function floorToGeoJson(floor: Floor): FloorDocument {
	const { pipe, maxLoopLength, spacing, edgeDistance, tailSpacing } = floor.system;
	const features: FloorFeature[] = [
		...floor.rooms.map((room): FloorFeature => {
			const { id, name, region, heated, spacing, pattern } = room;
			const properties = { kind: "room", name, heated, spacing, ...sharingWritten(room), pattern } as const;
			return { type: "Feature", id, geometry: toPolygon(region), properties };
		}),
		...floor.doorways.map(
			({ id, region, between }): FloorFeature => ({
				type: "Feature",
				id,
				geometry: toPolygon(region),
				properties: { kind: "doorway", between },
			}),
		),
		...floor.keepouts.map(
			({ id, name, region }): FloorFeature => ({
				type: "Feature",
				id,
				geometry: toPolygon(region),
				properties: { kind: "keepout", name },
			}),
		),
		...floor.manifolds.map(({ id, position, facing, portPitch, ports }): FloorFeature => {
			const properties = {
				kind: "manifold",
				facing,
				portPitch,
				...(ports === undefined ? {} : { ports }),
			} as const;
			return { type: "Feature", id, geometry: { type: "Point", coordinates: position }, properties };
		}),
	];
	return {
		type: "FeatureCollection",
		units: "mm",
		name: floor.name,
		system: {
			pipe: { ...pipe },
			maxLoopLength,
			spacing,
			...(edgeDistance === undefined ? {} : { edgeDistance }),
			tailSpacing,
		},
		features,
	};
}
