import type { Point, Region } from "@oxturn/geometry";

/** Which way a field is filled; `auto` leaves the choice to the stated score. */
export type PatternName = "serpentine" | "spiral" | "auto";

/** The pipe, mm. */
export interface Pipe {
	readonly outerDiameter: number;
	readonly wallThickness: number;
	/** Smallest centreline radius. */
	readonly minBendRadius: number;
}

/** What the whole floor shares. Small dimensions in mm, loop lengths in metres. */
export interface System {
	readonly pipe: Pipe;
	/** From port to port, tails included, m. */
	readonly maxLoopLength: number;
	/** Centre to centre in the field, mm. */
	readonly spacing: number;
	/** Wall face (or keep-out) to the nearest field pipe's centreline, mm; `undefined` means half a room's spacing. */
	readonly edgeDistance: number | undefined;
	/** Smallest centre to centre between neighbouring tails, mm. */
	readonly tailSpacing: number;
}

export interface Room {
	readonly id: string;
	readonly name: string;
	readonly region: Region;
	readonly heated: boolean;
	/** Centre to centre, mm: the room's own, else the floor's. */
	readonly spacing: number;
	/** Wall face to the nearest field pipe, mm: the floor's, else half the room's spacing. */
	readonly edgeDistance: number;
	/** May share a loop with a neighbour. */
	readonly share: boolean;
	readonly pattern: PatternName;
}

export interface Doorway {
	readonly id: string;
	readonly region: Region;
	/** Ids of the two rooms it joins; stated, or found by touch. */
	readonly between: readonly [string, string];
}

export interface Keepout {
	readonly id: string;
	readonly name: string;
	readonly region: Region;
}

export interface Manifold {
	readonly id: string;
	readonly position: Point;
	/** The way the pipes leave, degrees anticlockwise from +x. */
	readonly facing: number;
	/** Along the wall from one loop's port pair to the next, mm. */
	readonly portPitch: number;
	/** How many loops it takes; `undefined` means as many as the floor needs. */
	readonly ports: number | undefined;
}

/** A floor that has been read: valid, cleaned, defaults filled in. */
export interface Floor {
	readonly name: string;
	readonly system: System;
	readonly rooms: readonly Room[];
	readonly doorways: readonly Doorway[];
	readonly keepouts: readonly Keepout[];
	readonly manifolds: readonly Manifold[];
}

/** Something the designer must know. `subject` is the id of the feature or loop that it is about. */
export interface Notice {
	readonly code: string;
	readonly message: string;
	readonly subject: string;
	/** What the message tells, as data, for those who word it anew: mm, m2, shares of 1, counts, names. */
	readonly details?: NoticeDetails;
}

export type NoticeDetails = Readonly<Record<string, number | string>>;

export interface LoopProperties {
	readonly kind: "loop";
	/** Id of the manifold. */
	readonly manifold: string;
	/** 1 is the leftmost pair seen from the room. */
	readonly port: number;
	/** Ids of the rooms it heats. */
	readonly rooms: readonly string[];
	readonly pattern: "serpentine" | "spiral";
	/** Centre to centre as laid, mm. */
	readonly spacing: number;
	/** Port to port, m. */
	readonly length: number;
}

/** One unjointed pipe from its flow port to its return port, arcs flattened to 0.5 mm. */
export interface LoopFeature {
	readonly type: "Feature";
	readonly id: string;
	readonly geometry: { readonly type: "LineString"; readonly coordinates: readonly Point[] };
	readonly properties: LoopProperties;
}

/** A stretch of wall or doorway that a bundle of tails follows. */
export interface Channel {
	readonly id: string;
	readonly room: string;
	readonly doorway?: string;
	readonly pipes: number;
	/** mm */
	readonly width: number;
	readonly path: readonly Point[];
}

/** The layout document: a GeoJSON FeatureCollection in mm. */
export interface Layout {
	readonly type: "FeatureCollection";
	readonly units: "mm";
	readonly name: string;
	readonly features: readonly LoopFeature[];
	readonly channels: readonly Channel[];
	readonly notices: readonly Notice[];
}
