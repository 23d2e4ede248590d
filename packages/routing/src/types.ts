import type { Layout, Notice, PatternName } from "@oxturn/floor";
import type { RouteMemory } from "./memory.ts";

/** How far routing has come; `fraction` runs from 0 to 1. */
export interface RouteProgress {
	readonly stage: "fields" | "tails" | "audit";
	readonly fraction: number;
	/** Id of the room in hand. */
	readonly room: string;
}

export interface RouteOptions {
	/** Overrides every room's own pattern. */
	readonly pattern?: PatternName;
	/** Breaks ties; the same seed gives the same layout everywhere. @default 1 */
	readonly seed?: number;
	/**
	 * Stop looking for something better after this many ms; the best found so far is returned. With 0 that is the first
	 * complete layout. @default no limit
	 */
	readonly timeBudget?: number;
	/** What earlier calls came to, from `routeMemory()`: rooms that have not changed since are not routed again. */
	readonly memory?: RouteMemory;
	/** Throws `RouteError` with code `ABORTED` when it fires. */
	readonly signal?: AbortSignal;
	readonly onProgress?: (progress: RouteProgress) => void;
}

/** What can be broken; the names are the audit's and the notices'. */
export type AuditRule = "document" | "port" | "crossing" | "clearance" | "inside" | "bend" | "length" | "served";

export interface AuditFinding {
	readonly rule: AuditRule;
	readonly message: string;
	/** Ids of the loops or rooms concerned. */
	readonly subjects: readonly string[];
	/** Where, mm; absent where it has no place. */
	readonly at?: readonly [x: number, y: number];
	/** Measured and allowed, in the rule's unit: mm, m (length) or rad (bend). */
	readonly value?: number;
	readonly limit?: number;
}

export interface RoomCoverage {
	readonly room: string;
	/** m2, holes and keep-outs off. */
	readonly area: number;
	/** Share of the floor within 0.55 spacing of a pipe. */
	readonly within055: number;
	/** Share of the floor within one spacing of a pipe. */
	readonly within100: number;
	/** Diameter of the largest circle that fits in the floor farther than one spacing from a pipe, mm. */
	readonly coldSpot: number;
	/** Pipe x spacing / area. */
	readonly density: number;
	/** Pipe in the room, m. */
	readonly pipe: number;
}

export interface AuditReport {
	/** No finding. */
	readonly passed: boolean;
	readonly findings: readonly AuditFinding[];
	/** Heated rooms without pipe that a notice owns up to. */
	readonly unserved: readonly string[];
	readonly coverage: readonly RoomCoverage[];
}

export interface PatternFigures {
	readonly pattern: "serpentine" | "spiral";
	readonly layout: Layout;
	/** m */
	readonly length: number;
	readonly loops: number;
	/** Quarter turns: a half turn counts two. */
	readonly bends: number;
	readonly within055: number;
	readonly within100: number;
	/** mm */
	readonly coldSpot: number;
	readonly notices: readonly Notice[];
}
