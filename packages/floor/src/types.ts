import type { Point, Region } from "@oxturn/geometry";

/**
 * How pipe is laid in a room: in parallel runs, in a counterflow spiral, or, with `auto`, in whichever of the two covers
 * each zone better.
 */
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

/** A room: its outline runs along the faces of its walls, mm; its holes are columns and stair wells. */
export interface Room {
	/** Names it in doorways, loops and notices. */
	readonly id: string;
	/** What people call it; its id where the document has no name. */
	readonly name: string;
	readonly region: Region;
	/** Whether it gets loops; tails may pass through it in any case. */
	readonly heated: boolean;
	/** Centre to centre, mm: the room's own, else the floor's. */
	readonly spacing: number;
	/** Wall face to the nearest field pipe, mm: the floor's, else half the room's spacing. */
	readonly edgeDistance: number;
	/** May share a loop with a neighbour. */
	readonly share: boolean;
	/** Set where the document says that it may not; otherwise it is only too large to be asked. */
	readonly keptApart?: true;
	/** What it asks for. */
	readonly pattern: PatternName;
}

/** The strip of floor through a wall, mm. */
export interface Doorway {
	readonly id: string;
	readonly region: Region;
	/** Ids of the two rooms it joins; stated, or found by touch. */
	readonly between: readonly [string, string];
}

/** Floor that no pipe may enter, mm. */
export interface Keepout {
	readonly id: string;
	/** Empty where the document has none. */
	readonly name: string;
	readonly region: Region;
}

/** Where loops begin and end. */
export interface Manifold {
	/** Names it in loops and notices. */
	readonly id: string;
	/** At the wall that it hangs on, mm. */
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
	/** What sort of notice it is; `routeNoticeCodes` has those of routing, `floorNoticeCodes` those of reading. */
	readonly code: string;
	/** What is so, and what may help: one or two sentences in English. */
	readonly message: string;
	readonly subject: string;
	/** What the message tells, as data, for those who word it anew: mm, m2, shares of 1, counts, names. */
	readonly details?: NoticeDetails;
}

/** Figures and names by what they are; `docs/floor-document.md` lists them by code. */
export type NoticeDetails = Readonly<Record<string, number | string>>;

/** What is known of a loop beside its path. */
export interface LoopProperties {
	readonly kind: "loop";
	/** Id of the manifold. */
	readonly manifold: string;
	/** 1 is the leftmost pair seen from the room. */
	readonly port: number;
	/** Ids of the rooms it heats. */
	readonly rooms: readonly string[];
	/** As laid. */
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
	/** The centreline, mm. */
	readonly geometry: { readonly type: "LineString"; readonly coordinates: readonly Point[] };
	readonly properties: LoopProperties;
}

/** A stretch of wall or doorway that a bundle of tails follows. */
export interface Channel {
	readonly id: string;
	/** Id of the room that the tails cross. */
	readonly room: string;
	/** Id of the doorway that they leave it by; absent for a stretch of wall. */
	readonly doorway?: string;
	/** How many pass side by side: two for each loop. */
	readonly pipes: number;
	/** From the first centreline to the last, mm. */
	readonly width: number;
	/** The way of the middle one, mm. */
	readonly path: readonly Point[];
}

/** The layout document: a GeoJSON FeatureCollection in mm. */
export interface Layout {
	readonly type: "FeatureCollection";
	readonly units: "mm";
	/** The floor's. */
	readonly name: string;
	/** The loops, by manifold and port. */
	readonly features: readonly LoopFeature[];
	/** Where tails pass side by side. */
	readonly channels: readonly Channel[];
	/** Everything that the designer must know. */
	readonly notices: readonly Notice[];
}
