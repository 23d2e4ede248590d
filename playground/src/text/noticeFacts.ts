/** What notices tell, as it is written for the reader; what one does not tell is empty, or 0. */
export interface NoticeFacts {
	/** What the room or other thing is called. */
	readonly room: string;
	/** Why a room has no loop, or a wider spacing. */
	readonly reason: string;
	/** As wanted, and as laid. */
	readonly spacing: string;
	readonly laid: string;
	/** Share of a room's floor farther than one spacing from any pipe. */
	readonly cold: string;
	readonly area: string;
	readonly zones: number;
	readonly loops: number;
	/** How many loops a manifold takes, or pipes a doorway. */
	readonly places: number;
	/** The pattern that was asked for. */
	readonly wanted: string;
	readonly doorway: string;
	/** The room whose loop heats another too. */
	readonly hostName: string;
	/** The room that is too narrow for all tails on their way. */
	readonly throughName: string;
	/** The way that a manifold faces, and the way that its wall does. */
	readonly facing: string;
	readonly square: string;
	/** What stands in front of which manifold. */
	readonly keepout: string;
	readonly manifold: string;
	/** How many loops the manifold takes. */
	readonly ports: number;
	/** How many pipes should pass a doorway, and how many can. */
	readonly pipes: number;
	readonly fit: number;
	/** 0 is the outline, the others are its holes. */
	readonly ring: number;
	readonly spikes: number;
	readonly longest: string;
	/** Corners of an outline before and after. */
	readonly before: number;
	readonly after: number;
	readonly tolerance: string;
	/** A rule of the audit that is broken: where, by which loops, measured, allowed, and in the audit's own words. */
	readonly rule: string;
	readonly place: string;
	readonly subjects: string;
	readonly value: string;
	readonly limit: string;
	readonly finding: string;
}
