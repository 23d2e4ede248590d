import type { Layout, Notice, PatternName } from "@oxturn/floor";
import type { RouteMemory } from "./memory.ts";

/** How far routing has come. */
export interface RouteProgress {
	/** `fields` while rooms are laid, once for each of them; `audit` once, when all are laid and are checked. */
	readonly stage: "fields" | "audit";
	/** From 0 to 1: the share of heated rooms that have been begun before. It never goes back. */
	readonly fraction: number;
	/** Id of the room in hand; empty for `audit`. */
	readonly room: string;
}

export interface RouteOptions {
	/** Overrides every room's own pattern. @default what each room asks for */
	readonly pattern?: PatternName;
	/**
	 * A whole number from 0. The same seed gives the same layout everywhere. So far nothing is drawn at random, and every
	 * seed gives the same. @default 1
	 */
	readonly seed?: number;
	/**
	 * Stop looking for something better after this many ms; the best found so far is returned. With 0 that is the first
	 * complete layout. That one is finished in any case, which can take far longer on a floor of very many loops. How far
	 * the search gets depends on the machine, and so does the layout.
	 * @default no limit
	 */
	readonly timeBudget?: number;
	/** What earlier calls came to, from `routeMemory()`: rooms that have not changed since are not routed again. */
	readonly memory?: RouteMemory;
	/**
	 * Throws `RouteError` with code `ABORTED` soon after it has fired. Routing is one synchronous call: nothing else runs
	 * on its thread meanwhile, so that only what `onProgress` calls can fire it, and `AbortSignal.timeout` never does. Use
	 * `timeBudget` for a limit in time; to stop from outside, route in a worker and terminate that.
	 */
	readonly signal?: AbortSignal;
	/** Is called now and then while routing goes on; what it throws ends the call and reaches the caller. */
	readonly onProgress?: (progress: RouteProgress) => void;
}

/**
 * What can be broken; the names are the audit's and the notices'. `document`: a loop has no path, or names what the floor
 * lacks. `port`: its ends do not lie at its manifold, lie on another's, or are more than there are ports. `crossing` and
 * `clearance`: pipes cross, or lie nearer than the tail spacing. `inside`: pipe leaves the floor or enters a keep-out.
 * `bend`: it is bent tighter than it bears. `length`: a loop is too long, or not as long as stated. `served`: a heated room
 * has no pipe, and no notice says so.
 */
export type AuditRule = "document" | "port" | "crossing" | "clearance" | "inside" | "bend" | "length" | "served";

/** One rule that a layout breaks, once. */
export interface AuditFinding {
	readonly rule: AuditRule;
	/** One sentence in English that names whose, where, measured and allowed. */
	readonly message: string;
	/** Ids of the loops or rooms concerned. */
	readonly subjects: readonly string[];
	/** Where, mm; absent where it has no place. */
	readonly at?: readonly [x: number, y: number];
	/** Measured, in the rule's unit: mm, m (length, served), rad (bend); loops where a manifold has too few ports. */
	readonly value?: number;
	/** Allowed, in the same unit. */
	readonly limit?: number;
}

/** How well one heated room is covered. */
export interface RoomCoverage {
	/** Id of the room. */
	readonly room: string;
	/** m2, holes and keep-outs off. */
	readonly area: number;
	/** Share of the floor within 0.55 spacing of a pipe. */
	readonly within055: number;
	/** Share of the floor within one spacing of a pipe. */
	readonly within100: number;
	/** Diameter of the largest circle that fits in the floor farther than one spacing from a pipe, mm. */
	readonly coldSpot: number;
	/** Pipe x spacing / area: about 1 where pipe lies as close as wanted. */
	readonly density: number;
	/** Pipe in the room, m. */
	readonly pipe: number;
}

/** What the audit makes of a layout. */
export interface AuditReport {
	/** No finding. */
	readonly passed: boolean;
	readonly findings: readonly AuditFinding[];
	/** Ids of heated rooms without pipe that a notice owns up to. */
	readonly unserved: readonly string[];
	/** Every heated room, in the floor's order; empty if it was not asked for. */
	readonly coverage: readonly RoomCoverage[];
}

/** One room laid in one pattern. */
export interface PatternFigures {
	readonly pattern: "serpentine" | "spiral";
	readonly layout: Layout;
	/** All loops together, m. */
	readonly length: number;
	readonly loops: number;
	/** Quarter turns: a half turn counts two. */
	readonly bends: number;
	/** Share of the floor within 0.55 spacing of a pipe. */
	readonly within055: number;
	/** Share of the floor within one spacing of a pipe. */
	readonly within100: number;
	/** Diameter of the largest circle that fits in the floor farther than one spacing from a pipe, mm. */
	readonly coldSpot: number;
	/** The layout's, once more. */
	readonly notices: readonly Notice[];
}
