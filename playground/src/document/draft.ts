import type { PatternName, Point } from "oxturn";

/** A closed ring as GeoJSON writes it, mm: the last position repeats the first. */
export type ClosedRing = readonly Point[];

interface Outlined {
	readonly type: "Feature";
	readonly id: string;
	/** The outline, then the holes. */
	readonly geometry: { readonly type: "Polygon"; readonly coordinates: readonly ClosedRing[] };
}

export interface RoomFeature extends Outlined {
	readonly properties: {
		readonly kind: "room";
		readonly name?: string;
		readonly heated?: boolean;
		/** mm; the floor's when left out. */
		readonly spacing?: number;
		readonly share?: boolean;
		readonly pattern?: PatternName;
	};
}

export interface KeepoutFeature extends Outlined {
	readonly properties: { readonly kind: "keepout"; readonly name?: string };
}

export interface DoorwayFeature extends Outlined {
	readonly properties: { readonly kind: "doorway"; readonly between?: readonly [string, string] };
}

export interface ManifoldFeature {
	readonly type: "Feature";
	readonly id: string;
	readonly geometry: { readonly type: "Point"; readonly coordinates: Point };
	readonly properties: {
		readonly kind: "manifold";
		/** Degrees anticlockwise from +x: the way the pipes leave. */
		readonly facing: number;
		readonly portPitch?: number;
		readonly ports?: number;
	};
}

export type OutlinedFeature = RoomFeature | KeepoutFeature | DoorwayFeature;
export type DraftFeature = OutlinedFeature | ManifoldFeature;
export type FeatureKind = DraftFeature["properties"]["kind"];

/** What the whole floor shares; what is left out has the library's default. mm, loop lengths m. */
export interface SystemDraft {
	readonly pipe?: {
		readonly outerDiameter?: number;
		readonly wallThickness?: number;
		readonly minBendRadius?: number;
	};
	readonly maxLoopLength?: number;
	readonly spacing?: number;
	readonly edgeDistance?: number;
	readonly tailSpacing?: number;
}

/**
 * A floor document in the making, and the one state of the page. It has the form of a floor document, but may be one
 * that the library's reader refuses, as half way through a drag.
 */
export interface Draft {
	readonly type: "FeatureCollection";
	readonly units: "mm";
	readonly name: string;
	readonly system: SystemDraft;
	readonly features: readonly DraftFeature[];
}

export const emptyDraft: Draft = { type: "FeatureCollection", units: "mm", name: "", system: {}, features: [] };

export const isRoom = (feature: DraftFeature): feature is RoomFeature => feature.properties.kind === "room";
export const isKeepout = (feature: DraftFeature): feature is KeepoutFeature => feature.properties.kind === "keepout";
export const isDoorway = (feature: DraftFeature): feature is DoorwayFeature => feature.properties.kind === "doorway";
export const isManifold = (feature: DraftFeature): feature is ManifoldFeature => feature.properties.kind === "manifold";
export const isOutlined = (feature: DraftFeature): feature is OutlinedFeature => feature.geometry.type === "Polygon";

export const roomsOf = (draft: Draft): readonly RoomFeature[] => draft.features.filter(isRoom);
export const manifoldsOf = (draft: Draft): readonly ManifoldFeature[] => draft.features.filter(isManifold);

export function featureOf(draft: Draft, id: string): DraftFeature | undefined {
	return draft.features.find((feature) => feature.id === id);
}

/** What people call a feature: its name, else its id. */
export function nameOf(feature: DraftFeature): string {
	const name = "name" in feature.properties ? feature.properties.name : undefined;
	return name || feature.id;
}

/** The same draft with `feature` in the place of the one that has its id. */
export function withFeature(draft: Draft, feature: DraftFeature): Draft {
	return { ...draft, features: draft.features.map((other) => (other.id === feature.id ? feature : other)) };
}

/** An id that no feature has yet: `room-1`, `room-2` and so on. */
export function freshId(draft: Draft, kind: FeatureKind): string {
	const taken = new Set(draft.features.map(({ id }) => id));
	for (let number = 1; ; number += 1) if (!taken.has(`${kind}-${number}`)) return `${kind}-${number}`;
}
